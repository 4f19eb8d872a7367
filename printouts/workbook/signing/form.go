// Package signing makes the workbook in which an instructor says what is signed: everything that lacks a signature
// alone is on it already. Start at Form.
package signing

import (
	"fmt"

	"nospark/grading/competency"
	"nospark/grading/competency/lists"
	"nospark/printouts/workbook"
)

// Columns of the form.
const (
	idColumn = 1 + iota
	nameColumn
	sectionColumn
	competencyColumn
	evidenceColumn
	latestColumn
	sinceColumn
	signColumn
	initialsColumn
	dateColumn
)

// head is the row of the headings; the reader looks for it in the first 20.
const head = 7

// Names of ranges that the lists of the form use.
const (
	answersName = "yes_or_not_yet"
	signersName = "who_may_sign"
)

// mostSigns is how many of the latest opportunities are shown.
const mostSigns = 10

var (
	givenStyle   = workbook.Style{Border: true, Align: "left", Fill: workbook.PaleGray, Format: workbook.AsText}
	historyStyle = workbook.Style{Border: true, Align: "right", Fill: workbook.PaleGray}
	dayStyle     = workbook.Style{Border: true, Align: "center", Fill: workbook.PaleGray, Format: workbook.Day}
	typedStyle   = workbook.Style{Border: true, Align: "center", Unlocked: true}
	typedDay     = workbook.Style{Border: true, Align: "center", Unlocked: true, Format: workbook.Day}
)

// row is a line of the form.
type row struct {
	id, name, section, competency string
	met, history                  string
	since                         string
}

// rows lists what may be signed: by section, name and competency.
func rows(t *competency.Term) []row {
	var list []row
	for i := range t.Students { // by section and name
		s := &t.Students[i]
		for c := range s.Standings {
			x := &s.Standings[c]
			if x.Status != competency.ToSign {
				continue
			}
			history := x.History(mostSigns)
			if x.LatestMissed() {
				history = "latest missed " + history
			}
			list = append(list, row{s.ID, s.Name, s.Section, t.Competencies[c].Title,
				fmt.Sprintf("%d of the last %d, %d faults", x.MetInWindow, x.Window,
					x.Faults), history, x.Since(t.Term.Mastery)})
		}
	}
	return list
}

// Form makes the workbook; today (2026-12-04) is the last day that can be typed. It names students: for the instructor
// alone.
func Form(t *competency.Term, today string) ([]byte, error) {
	b := workbook.New("To sign, "+t.Term.Program, t.Term.Paper, today)
	s := b.AddSheet(lists.SignSheet)
	list := rows(t)
	s.Set(1, 1, workbook.TitleStyle, "To sign: "+t.Term.Program)
	for i, line := range []string{
		"Everything that has the evidence and lacks a signature, as of " + today + ". " + competency.OnPaper,
		"Type in the white cells: sign yes or not yet, your initials, the day. A line without initials says nothing.",
		"The day is not before the one on which the evidence was there (since) and not in the future. Safe working is " +
			"never signed from here.",
		"Save, then: nospark sign TERM --from " + lists.SignBook +
			". It shows and checks every line, and a bad one " +
			"holds up no other.",
	} {
		s.Set(2+i, 1, workbook.NoteStyle, line)
	}
	nameWidth, sectionWidth := 18.0, 9.0
	for i, r := range list {
		at := head + 1 + i
		s.Set(at, idColumn, givenStyle, r.id)
		s.Set(at, nameColumn, givenStyle, workbook.OrEmpty(r.name))
		s.Set(at, sectionColumn, givenStyle, workbook.OrEmpty(r.section))
		s.Set(at, competencyColumn, givenStyle, r.competency)
		s.Set(at, evidenceColumn, givenStyle, r.met)
		s.Set(at, latestColumn, historyStyle, r.history)
		s.Set(at, sinceColumn, dayStyle, workbook.Date(r.since))
		s.Set(at, signColumn, typedStyle, nil)
		s.Set(at, initialsColumn, typedStyle, nil)
		s.Set(at, dateColumn, typedDay, nil)
		nameWidth = max(nameWidth, min(workbook.TextWidth(r.name)+2, workbook.MaxWidth))
		sectionWidth = max(sectionWidth, min(workbook.TextWidth(r.section)+2, workbook.MaxWidth))
	}
	for c, title := range []string{"id", "name", "section", "competency", "met", "oldest to latest", "since", "sign",
		"initials", "date"} {
		s.Set(head, c+1, workbook.HeadStyle, title)
	}
	s.Widths = map[int]float64{idColumn: 12, nameColumn: nameWidth, sectionColumn: sectionWidth, competencyColumn: 29,
		evidenceColumn: 23, latestColumn: 25, sinceColumn: 12, signColumn: 10, initialsColumn: 12, dateColumn: 13}
	s.Heights[head] = 2*workbook.LineHeight + 4 // the buttons for filtering stand in the lower line
	s.Frozen, s.HeadRow, s.Locked, s.TabColor = [2]int{head, nameColumn}, head, true, workbook.Blue
	if len(list) == 0 {
		s.Set(head+1, 1, workbook.NoteStyle, "There is nothing to sign.")
		return b.Bytes(lists.SignSheet)
	}
	end := head + len(list)
	s.Filter = workbook.Ref(head, 1) + ":" + workbook.Ref(end, latestColumn)
	choices(b, s, t, end)
	return b.Bytes(lists.SignSheet)
}

// choices gives the white cells their lists. A list stands on a sheet of its own and has a name: one written into the
// rule itself ends at 255 characters.
func choices(b *workbook.Book, s *workbook.Sheet, t *competency.Term, end int) {
	lists := b.AddSheet("Lists")
	lists.Set(1, 1, workbook.HeadStyle, "sign")
	lists.Set(2, 1, workbook.TextStyle, "yes")
	lists.Set(3, 1, workbook.TextStyle, "not yet")
	b.DefineName(answersName, lists.Range(2, 1, 3, 1))
	lists.Locked, lists.Portrait = true, true
	lists.Widths[1], lists.Widths[2] = 12, 24
	s.Choices(head+1, end, signColumn, workbook.Choices{Source: answersName, Title: "yes or not yet",
		Text: "Choose yes or not yet, or leave the cell empty."})
	if len(t.Term.Signers) == 0 {
		return
	}
	lists.Set(1, 2, workbook.HeadStyle, "who may sign")
	for i, name := range t.Term.Signers {
		lists.Set(2+i, 2, workbook.TextStyle, name)
	}
	b.DefineName(signersName, lists.Range(2, 2, 1+len(t.Term.Signers), 2))
	s.Choices(head+1, end, initialsColumn, workbook.Choices{Source: signersName, Title: "Who may sign",
		Text: "Only those may sign whom signers of term.toml names."})
}
