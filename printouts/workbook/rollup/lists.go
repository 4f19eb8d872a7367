package rollup

import (
	"cmp"
	"fmt"
	"iter"
	"slices"

	"nospark/grading/competency"
	"nospark/grading/evidence"
	"nospark/printouts/workbook"
)

// mostSigns is how many opportunities the history of a standing shows; the latest are at its right.
const mostSigns = 15

// standings writes one row per student and competency, to be filtered: who is not yet competent in ground tests, on how
// much evidence?
func (s *summary) standings() {
	sh := s.AddSheet(standingSheet) // rows of a whole school are made while the file is written, see long
	rule := s.t.Term.Mastery
	sh.Set(1, 1, workbook.TitleStyle, "Standings: "+s.t.Term.Program)
	sh.Set(2, 1, workbook.NoteStyle, onPaper+" Filter by competency and status. Within a competency those who are "+
		"not yet competent come first.")
	columns := append([]workbook.Column{{Title: "competency", Width: 27, Style: workbook.TextStyle},
		{Title: "status", Width: 20, Style: workbook.TextStyle}}, s.studentColumns()...)
	columns = append(columns, []workbook.Column{
		{Title: fmt.Sprintf("met of the last %d", rule.Of), Width: 10, Style: workbook.CenterStyle},
		{Title: "opportunities in all", Width: 13, Style: workbook.WholeStyle},
		{Title: "faults met", Width: 8, Style: workbook.WholeStyle},
		{Title: "packs met", Width: 8, Style: workbook.WholeStyle},
		{Title: "of an earlier cohort", Width: 10, Style: workbook.WholeStyle},
		{Title: "oldest to latest", Width: 22, Style: workbook.Style{Border: true, Align: "right"}},
		{Title: "what is missing", Width: 38, Style: workbook.WrapStyle},
		{Title: "last on", Width: 12, Style: workbook.DateStyle},
		{Title: "signed on", Width: 12, Style: workbook.DateStyle},
		{Title: "signed by", Width: 22, Style: workbook.TextStyle},
		{Title: "awarded on", Width: 12, Style: workbook.DateStyle},
	}...)
	list := s.standingList()
	const head = 4
	sh.LongTable(head, columns, 2+len(s.studentColumns()), len(list), func(yield func([]any) bool) {
		for _, x := range list {
			if !yield(s.standingRow(x)) {
				return
			}
		}
	})
}

// standingOf names a student's standing in a competency by their places: the list of a school has tens of thousands of
// them.
type standingOf struct{ competency, student int }

// standingList is the order of the rows: by competency, then what wants attention first.
func (s *summary) standingList() []standingOf {
	var list []standingOf
	for c := range s.t.Competencies {
		from := len(list)
		for _, i := range s.order {
			list = append(list, standingOf{c, i})
		}
		slices.SortStableFunc(list[from:], func(a, b standingOf) int {
			rank := func(x standingOf) int { return s.t.Students[x.student].Standings[c].Status.Rank() }
			return cmp.Compare(rank(a), rank(b))
		})
	}
	return list
}

// standingRow has the values of a row in the order of the columns. Who had no opportunity gets empty cells rather than
// "0 of 0", which would look like something missed.
func (s *summary) standingRow(at standingOf) []any {
	student := &s.t.Students[at.student]
	x := &student.Standings[at.competency]
	row := []any{s.t.Competencies[at.competency].Title,
		workbook.Styled{Style: workbook.Style{Border: true, Align: "left", Fill: statusStyles[x.Status].fill},
			Value: statusText(x.Status)}}
	row = append(row, s.studentCells(student)...)
	var met, last, signed, by, awarded any
	if n := len(x.Opportunities); n > 0 {
		met, last = fmt.Sprintf("%d of %d", x.MetInWindow, x.Window), workbook.Date(x.Opportunities[n-1].Record.Date)
	}
	if x.Signed != nil {
		signed, by = workbook.Date(x.Signed.Date), x.Signed.By
	}
	if x.Award != nil {
		awarded = workbook.Date(x.Award.Date)
	}
	// What is cut off at the left is told, lest the signs be counted as all.
	history := x.History(mostSigns)
	if len(x.Opportunities) > mostSigns {
		history = "… " + history
	}
	return append(row, met, len(x.Opportunities), x.Faults, x.Packs, len(x.Earlier), workbook.OrEmpty(history),
		workbook.OrEmpty(x.Why(s.t.Term.Mastery)), last, signed, by, awarded)
}

// piece is a piece of evidence with where it stands; the three point into the term.
type piece struct {
	record   *evidence.Record
	entry    *evidence.Entry
	evidence *evidence.Item
}

// pieces lists all evidence: by date, lab and section, then by the order of students in the section. Where codes stand
// for names it is the order of the codes, since a class list is in the order of names.
func (s *summary) pieces() iter.Seq[piece] {
	return func(yield func(piece) bool) {
		for _, r := range s.t.Records {
			order := make([]int, len(r.Students))
			for i := range order {
				order[i] = i
			}
			if !s.names {
				slices.SortFunc(order, func(a, b int) int {
					return cmp.Compare(s.code[r.Students[a].Student],
						s.code[r.Students[b].Student])
				})
			}
			for _, i := range order {
				e := &r.Students[i]
				for k := range e.Evidence {
					if !yield(piece{r, e, &e.Evidence[k]}) {
						return
					}
				}
			}
		}
	}
}

// evidence writes every opportunity, so that whoever doubts a standing can take the sheet of paper and look.
func (s *summary) evidence() {
	sh := s.AddSheet(evidenceSheet)
	sh.ScreenOnly = true // hundreds of pages that nobody reads
	sh.Set(1, 1, workbook.TitleStyle, "Evidence: "+s.t.Term.Program)
	sh.Set(2, 1, workbook.NoteStyle, onPaper+" One row for each opportunity, as the rules count them. Step is the "+
		"number on the worksheet.")
	columns := append([]workbook.Column{{Title: "date", Width: 12, Style: workbook.DateStyle},
		{Title: "lab", Width: 14, Style: workbook.TextStyle}}, s.studentColumns()...)
	if s.names {
		columns = append(columns, workbook.Column{Title: "sheet", Width: 10, Style: workbook.TextStyle})
	}
	columns = append(columns, []workbook.Column{
		{Title: "competency", Width: 27, Style: workbook.TextStyle},
		{Title: "met", Width: 12, Style: workbook.TextStyle}, {Title: "step", Width: 12, Style: workbook.CenterStyle},
		{Title: "test", Width: 44, Style: workbook.WrapStyle},
		{Title: "why", Width: 54, Style: workbook.WrapStyle},
	}...)
	titles := map[string]string{}
	for _, c := range s.t.Competencies {
		titles[c.ID] = c.Title
	}
	// Counted beforehand, because the range of the filter is set before the rows are written.
	n := 0
	for range s.pieces() {
		n++
	}
	const head = 4
	sh.LongTable(head, columns, 0, n, func(yield func([]any) bool) {
		for p := range s.pieces() {
			if !yield(s.evidenceRow(p, titles[p.evidence.Competency])) {
				return
			}
		}
	})
}

// evidenceRow has the values of a row in the order of the columns; title is the competency's.
func (s *summary) evidenceRow(p piece, title string) []any {
	met, fill := competency.Sign(p.evidence.Met)+" met", ""
	if !p.evidence.Met {
		met, fill = competency.Sign(p.evidence.Met)+" not met", workbook.PaleAmber
	}
	row := []any{workbook.Date(p.record.Date), p.record.Lab, workbook.OrEmpty(p.record.Section)}
	if s.names {
		row = append(row, p.entry.Student, workbook.OrEmpty(p.entry.Name))
	} else {
		row = append(row, s.code[p.entry.Student])
	}
	if s.names { // a partner knows the codes of sheets
		row = append(row, p.entry.Sheet)
	}
	return append(row, title,
		workbook.Styled{Style: workbook.Style{Border: true, Align: "left", Fill: fill}, Value: met},
		stepText(p.evidence), workbook.OrEmpty(p.evidence.Test), workbook.OrEmpty(p.evidence.Why))
}

// stepText says where on the worksheet the evidence is: a number of the record table, or words for what is not a step.
func stepText(e *evidence.Item) any {
	switch {
	case e.Step > 0:
		return e.Step
	case e.Competency == evidence.Reasoning, e.Competency == evidence.SafeWorking:
		return "instructor"
	case e.Competency == evidence.Economy:
		return "all steps"
	}
	return "conclusion"
}
