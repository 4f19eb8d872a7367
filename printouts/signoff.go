package printouts

import (
	"errors"
	"fmt"
	"time"

	"nospark/grading/competency"
	"nospark/printouts/page"
)

// SignOffs prints a sheet for each student on which the instructor signs competencies: where the student stands, lines to sign, and the
// evidence that the rule looks at. A large school prints one file per section. It names students: not to be posted.
func SignOffs(t *competency.Term, students []competency.Student) ([]byte, error) {
	if len(t.Records) == 0 || len(students) == 0 {
		return nil, errors.New("no student has a record yet, so there is nothing to sign")
	}
	last := t.Records[len(t.Records)-1].Date
	date, err := time.Parse(time.DateOnly, last)
	if err != nil {
		return nil, fmt.Errorf("date %q of a record: must be like 2026-10-05", last)
	}
	doc := page.New(page.Options{Paper: t.Term.Paper, Title: "Sign-off sheets", Subject: t.Term.Program, Date: date, FrontPages: true})
	for i := range students {
		s := signOff{t: t, student: &students[i]}
		s.flow = doc.Section(page.Frame{Name: joined(", ", s.student.Name, s.student.ID), Left: joined(", ", t.Term.Program, "records to "+last),
			Right: joined(", ", s.student.Name, s.student.ID, s.student.Section), Foot: "Sign-off sheet", Size: 10, Side: 14})
		s.print()
	}
	return doc.Bytes()
}

// signOff is the sheet of one student.
type signOff struct {
	t       *competency.Term
	student *competency.Student
	flow    *page.Flow
}

func (s *signOff) print() {
	s.flow.Title("Competency: sign-off", joined(", ", s.student.Name, s.student.ID, s.student.Section))
	s.flow.Para("**" + competency.OnPaper + "** Competent: " + competency.RuleWords(s.t.Term.Mastery) + ". " + s.sheets())
	s.standings()
	s.flow.Fields("Student, date", "Instructor, date")
	s.flow.CautionsShort()
	s.evidence()
}

// sheets says how many sheets the evidence comes from.
func (s *signOff) sheets() string {
	text := fmt.Sprintf("Sheets with a mark: %d", s.student.Sheets)
	if s.student.Waiting > 0 {
		text += fmt.Sprintf(", of these %d provisional and without evidence so far", s.student.Waiting)
	}
	if s.student.Missing > 0 {
		text += fmt.Sprintf("; not handed in: %d", s.student.Missing)
	}
	return text + "."
}

// signs are the signs of the statuses, the same as in the workbook.
var signs = [...]string{competency.TooLittle: "…", competency.AtRisk: "▲", competency.NotYet: "✗", competency.ToSign: "✎",
	competency.HandsOn: "◊", competency.Competent: "✓"}

// latestShown is how many opportunities the column of signs shows.
const latestShown = 8

// standings prints where the student stands, with a line to sign.
func (s *signOff) standings() {
	t := page.Table{Grid: true, Tall: 8.5, Middle: true, Size: 9, Columns: []page.Column{
		{Head: "competency", Width: 44, Bold: true}, {Head: "code", Width: page.Natural}, {Head: "status", Share: 2},
		{Head: fmt.Sprintf("met of last %d", s.t.Term.Mastery.Of), Width: 17}, {Head: "in all", Width: 11, Align: page.Right}, {Head: "latest at right", Width: 21, Align: page.Right},
		{Head: "signature, date", Share: 3},
	}}
	for c := range s.t.Competencies {
		x := &s.student.Standings[c]
		met, signed := "", ""
		if len(x.Opportunities) > 0 {
			met = fmt.Sprintf("%d of %d", x.MetInWindow, x.Window)
		}
		if x.Signed != nil {
			signed = x.Signed.Date + ", " + x.Signed.By
		}
		switch {
		case s.t.Competencies[c].HandsOn:
			signed = "not from paper or screen"
		case x.Award != nil:
			signed = "awarded " + x.Award.Date
		}
		t.Row(s.t.Competencies[c].Title, s.t.Competencies[c].ID, signs[x.Status]+" "+x.Status.String(), met, fmt.Sprint(len(x.Opportunities)), x.History(latestShown), signed)
	}
	s.flow.Table(t)
	s.flow.ParaIn(fmt.Sprintf("A signature counts when it stands in %s: id,competency,date,by.", competency.SignOffsFile), page.Style{Size: 8})
}

// evidence prints the opportunities that the rule looks at, latest first, of every competency that has enough of them.
func (s *signOff) evidence() {
	t := page.Table{Size: 8, Condensed: true, Columns: []page.Column{
		{Head: "competency", Width: page.Natural, Bold: true}, {Head: "lab", Width: page.Natural}, {Head: "sheet", Width: page.Natural},
		{Head: "met", Width: page.Natural}, {Head: "step", Width: page.Natural}, {Head: "test, and why", Share: 1},
	}}
	for c := range s.t.Competencies {
		x := &s.student.Standings[c]
		if x.Status == competency.TooLittle || x.Status == competency.AtRisk {
			continue // nothing to sign yet
		}
		for k := range x.Window {
			o := x.Opportunities[len(x.Opportunities)-1-k]
			title, step := "", ""
			if k == 0 {
				title = s.t.Competencies[c].Title
			}
			if o.Evidence.Step > 0 {
				step = fmt.Sprint(o.Evidence.Step)
			}
			cells := page.Cells(title, o.Record.Lab, o.Entry.Sheet, competency.Sign(o.Evidence.Met), step, joined(": ", o.Evidence.Test, o.Evidence.Why))
			t.Rows = append(t.Rows, page.Row{Cells: cells, Rule: k == 0})
		}
	}
	if len(t.Rows) == 0 {
		return
	}
	s.flow.Heading(fmt.Sprintf("The last %d opportunities, latest first", s.t.Term.Mastery.Of))
	s.flow.Table(t)
}
