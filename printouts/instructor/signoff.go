package instructor

import (
	"errors"
	"fmt"
	"strings"

	"nospark/grading/competency"
	"nospark/grading/competency/lists"
	"nospark/printouts/content"
	"nospark/printouts/wording"
)

// SignOffs are sheets on which the instructor signs competencies, one for each student: where the student stands,
// lines to sign, and the evidence that the rule looks at. A large school prints one file per section. They name
// students: not to be posted.
func SignOffs(t *competency.Term, students []competency.Student) (content.Document, error) {
	if len(t.Records) == 0 || len(students) == 0 {
		return content.Document{}, errors.New("no student has a record yet, so there is nothing to sign")
	}
	last := t.Records[len(t.Records)-1].Date
	doc := content.Document{Title: "Sign-off sheets", Program: t.Term.Program, Date: last, Paper: t.Term.Paper,
		FrontPages: true}
	for i := range students {
		s := &students[i]
		who := wording.Join(", ", s.Name, s.ID, s.Section)
		blocks := []content.Block{
			content.Title{Text: "Competency: sign-off", Below: who},
			content.Paragraph{Text: "**" + competency.OnPaper + "** Competent: " +
				competency.RuleWords(t.Term.Mastery) + ". " + sheetsText(s)},
			standings(t, s),
			content.Paragraph{
				Text: fmt.Sprintf("A signature counts when it is signed with the term's key: nospark sign, from %s "+
					"or a list "+
					"id,competency,date,by.", lists.SignBook),
				Look: content.Look{Size: 8},
			},
			content.Form{Rows: [][]string{{"Student, date", "Instructor, date"}}},
			content.Cautions{},
		}
		doc.Sections = append(doc.Sections, content.Section{
			Name: wording.Join(", ", s.Name, s.ID), Left: wording.Join(", ", t.Term.Program, "records to "+last),
			Right: who,
			Foot:  "Sign-off sheet", Size: 10, Side: 14, Blocks: append(blocks, evidence(t, s)...),
		})
	}
	return doc, nil
}

// sheetsText says how many sheets the evidence comes from.
func sheetsText(s *competency.Student) string {
	text := fmt.Sprintf("Sheets with a mark: %d", s.Sheets)
	if s.Waiting > 0 {
		text += fmt.Sprintf(", of these %d provisional and without evidence so far", s.Waiting)
	}
	if s.Missing > 0 {
		text += fmt.Sprintf("; not handed in: %d", s.Missing)
	}
	return text + "."
}

// sign is the sign of a status, the same as in the workbook.
func sign(s competency.Status) string {
	return map[competency.Status]string{
		competency.TooLittle: "…", competency.AtRisk: "▲", competency.NotYet: "✗", competency.ToSign: "✎",
		competency.HandsOn: "◊", competency.Competent: "✓",
	}[s]
}

// latestShown is how many opportunities the column of signs shows.
const latestShown = 8

// standings are where the student stands, with a line to sign.
func standings(term *competency.Term, student *competency.Student) content.Table {
	t := content.Table{
		Paper: content.PaperTable{Ruled: true, Tall: 8.5, Middle: true, Look: content.Look{Size: 9}},
		Columns: []content.Column{
			{Head: "competency", Width: 44, Header: true, Strong: true}, {Head: "code", Width: content.Natural},
			{Head: "status", Share: 2},
			{Head: fmt.Sprintf("met of last %d", term.Term.Mastery.Of), Width: 17},
			{Head: "in all", Width: 11, Align: content.Right},
			{Head: "latest at right", Width: 21, Align: content.Right}, {Head: "signature, date", Share: 3},
		},
	}
	for c := range term.Competencies {
		x := &student.Standings[c]
		met, signed := "", ""
		if len(x.Opportunities) > 0 {
			met = fmt.Sprintf("%d of %d", x.MetInWindow, x.Window)
		}
		if x.Signed != nil {
			signed = x.Signed.Date + ", " + x.Signed.By
		}
		switch {
		case term.Competencies[c].HandsOn:
			signed = "shown at the vehicle, not here"
		case x.Award != nil:
			signed = "awarded " + x.Award.Date
		}
		t.Row(term.Competencies[c].Title, term.Competencies[c].ID, sign(x.Status)+" "+x.Status.String(), met,
			fmt.Sprint(len(x.Opportunities)),
			x.History(latestShown), signed)
	}
	return t
}

// evidence are the opportunities that the rule looks at, the latest last as in the column of signs, of every competency
// that has enough of them and can be signed here. What a whole sheet is judged by stands above them.
func evidence(term *competency.Term, student *competency.Student) []content.Block {
	t := content.Table{Paper: content.PaperTable{Look: content.Look{Size: 8, Condensed: true}},
		Columns: []content.Column{
			{Head: "competency", Width: content.Natural, Header: true, Strong: true},
			{Head: "lab", Width: content.Natural},
			{Head: "sheet", Width: content.Natural}, {Head: "met", Width: content.Natural},
			{Head: "step", Width: content.Natural},
			{Head: "test, and why", Share: 1},
		}}
	var rules []string
	for c := range term.Competencies {
		x := &student.Standings[c]
		if x.Status == competency.TooLittle || x.Status == competency.AtRisk || term.Competencies[c].HandsOn {
			continue // nothing to sign yet, or never here
		}
		for k, o := range x.Opportunities[len(x.Opportunities)-x.Window:] {
			title, step := "", ""
			if k == 0 {
				title = term.Competencies[c].Title
				t.StartGroup()
				if o.Evidence.Test == "" {
					rules = append(rules, "**"+title+"** is met where "+term.Competencies[c].Met+".")
				}
			}
			if o.Evidence.Step > 0 {
				step = fmt.Sprint(o.Evidence.Step)
			}
			t.Row(title, o.Record.Lab, o.Entry.Sheet, competency.Sign(o.Evidence.Met), step,
				wording.Join(": ", o.Evidence.Test, o.Evidence.Why))
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return []content.Block{content.Heading{Level: 2, Text: fmt.Sprintf("The last %d opportunities, the latest last",
		term.Term.Mastery.Of)},
		content.Paragraph{Text: strings.Join(rules, " "), Look: content.Look{Size: 8}}, t}
}
