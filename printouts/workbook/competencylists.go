package workbook

import (
	"cmp"
	"fmt"
	"iter"
	"slices"

	"nospark/grading/competency"
)

// mostSigns is how many opportunities the history of a standing shows; the latest are at its right.
const mostSigns = 15

// standings writes one row per student and competency, to be filtered: who is not yet competent in ground tests, on how much evidence, and
// is it getting better?
func (s *summary) standings() {
	sh := s.sheet(standingSheet) // rows of a whole school are made while the file is written, see long
	rule := s.t.Term.Mastery
	sh.set(1, 1, titleLook, "Standings: "+s.t.Term.Program)
	sh.set(2, 1, noteLook, onPaper+" Filter by competency and status. Within a competency those who are not yet competent come first.")
	columns := append([]column{{title: "competency", width: 27, look: textLook}, {title: "status", width: 20, look: textLook}}, s.studentColumns()...)
	columns = append(columns, []column{
		{title: fmt.Sprintf("met of the last %d", rule.Of), width: 10, look: midLook}, {title: "opportunities in all", width: 13, look: wholeLook},
		{title: "labs they come from", width: 10, look: wholeLook}, {title: "oldest to latest", width: 22, look: look{Border: true, Across: "right"}},
		{title: "later half against earlier", width: 16, look: textLook}, {title: "decaying average", width: 11, look: percentLook},
		{title: "what is missing", width: 38, look: wrapLook}, {title: "last on", width: 12, look: midLook}, {title: "signed on", width: 12, look: midLook},
		{title: "signed by", width: 22, look: textLook},
	}...)
	list := s.standingList()
	const head = 4
	sh.long(head, columns, 2+len(s.studentColumns()), len(list), func(yield func([]any) bool) {
		for _, x := range list {
			if !yield(s.standingRow(x)) {
				return
			}
		}
	})
	sh.bars(head+1, head+len(list), place(columns, "decaying average"), "1", skyBlue)
}

// standingOf names a student's standing in a competency by their places: the list of a school has tens of thousands of them.
type standingOf struct{ competency, student int }

// standingList is the order of the rows: by competency, then what wants attention first.
func (s *summary) standingList() []standingOf {
	var list []standingOf
	rank := [...]int{competency.NotYet: 0, competency.TooLittle: 1, competency.ToSign: 2, competency.Competent: 3}
	for c := range s.t.Competencies {
		from := len(list)
		for _, i := range s.order {
			list = append(list, standingOf{c, i})
		}
		slices.SortStableFunc(list[from:], func(a, b standingOf) int {
			status := func(x standingOf) competency.Status { return s.t.Students[x.student].Standings[c].Status }
			return cmp.Compare(rank[status(a)], rank[status(b)])
		})
	}
	return list
}

// standingRow has the values of a row in the order of the columns. Who had no opportunity gets empty cells rather than "0 of 0", which would
// look like something missed.
func (s *summary) standingRow(at standingOf) []any {
	student := &s.t.Students[at.student]
	x := &student.Standings[at.competency]
	row := []any{s.t.Competencies[at.competency].Title, looked{look{Border: true, Across: "left", Fill: statusLooks[x.Status].fill}, statusText(x.Status)}}
	row = append(row, s.studentCells(student)...)
	// The arrow for the eye, the word for the filter.
	direction := x.Direction.String()
	if arrow := arrows[x.Direction]; arrow != "" {
		direction = arrow + " " + direction
	}
	var met, last, signed, by any
	if n := len(x.Opportunities); n > 0 {
		met, last = fmt.Sprintf("%d of %d", x.MetInWindow, x.Window), x.Opportunities[n-1].Record.Date
	}
	if x.Signed != nil {
		signed, by = x.Signed.Date, x.Signed.By
	}
	// What is cut off at the left is told, lest the signs be counted as all.
	history := x.History(mostSigns)
	if len(x.Opportunities) > mostSigns {
		history = "… " + history
	}
	return append(row, met, len(x.Opportunities), x.Labs, orNil(history), direction, x.Trend, orNil(x.Why(s.t.Term.Mastery)), last, signed, by)
}

// piece is a piece of evidence with where it stands; the three point into the term.
type piece struct {
	record   *competency.Record
	entry    *competency.Entry
	evidence *competency.Evidence
}

// pieces lists all evidence: by date, lab and section, then by the order of students in the section. Where codes stand for names it is the
// order of the codes, since a class list is in the order of names.
func (s *summary) pieces() iter.Seq[piece] {
	return func(yield func(piece) bool) {
		for _, r := range s.t.Records {
			order := make([]int, len(r.Students))
			for i := range order {
				order[i] = i
			}
			if !s.names {
				slices.SortFunc(order, func(a, b int) int { return cmp.Compare(s.code[r.Students[a].Student], s.code[r.Students[b].Student]) })
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
	sh := s.sheet(evidenceSheet)
	sh.set(1, 1, titleLook, "Evidence: "+s.t.Term.Program)
	sh.set(2, 1, noteLook, onPaper+" One row for each opportunity, as the rules count them. Step is the number on the worksheet.")
	columns := append([]column{{title: "date", width: 12, look: midLook}, {title: "lab", width: 14, look: textLook}}, s.studentColumns()...)
	columns = append(columns, []column{
		{title: "sheet", width: 10, look: textLook}, {title: "competency", width: 27, look: textLook},
		{title: "met", width: 12, look: textLook}, {title: "step", width: 12, look: midLook}, {title: "test", width: 44, look: wrapLook},
		{title: "why", width: 54, look: wrapLook},
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
	sh.long(head, columns, 0, n, func(yield func([]any) bool) {
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
		met, fill = competency.Sign(p.evidence.Met)+" not met", paleAmber
	}
	row := []any{p.record.Date, p.record.Lab, orNil(p.record.Section)}
	if s.names {
		row = append(row, p.entry.Student, orNil(p.entry.Name))
	} else {
		row = append(row, s.code[p.entry.Student])
	}
	return append(row, p.entry.Sheet, title,
		looked{look{Border: true, Across: "left", Fill: fill}, met}, stepText(p.evidence), orNil(p.evidence.Test), orNil(p.evidence.Why))
}

// stepText says where on the worksheet the evidence is: a number of the record table, or words for what is not a step.
func stepText(e *competency.Evidence) any {
	switch {
	case e.Step > 0:
		return e.Step
	case e.Competency == competency.Reasoning, e.Competency == competency.SafeWorking:
		return "instructor"
	case e.Competency == competency.Economy:
		return "all steps"
	}
	return "conclusion"
}
