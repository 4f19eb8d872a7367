package handin

import (
	"fmt"
	"slices"

	"nospark/grading/attempt"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// benchFile is how places name the journal of the bench.
const benchFile = "bench.journal"

// BenchRows are the rows that a class would have written, had it worked on paper: one for each attempt of the bench in
// which something was done. Steps that the desk took back keep their places, and count for nothing.
func BenchRows(l *lab.Lab, room *attempt.Room) []submission.Row {
	var rows []submission.Row
	tests := map[string]int{}
	for t := range l.Tests {
		tests[l.Tests[t].ID] = t
	}
	for i := range l.Sheets {
		if a := room.Of(l.Sheets[i].Code); a.Begun() {
			rows = append(rows, benchRow(&l.Sheets[i], tests, a))
		}
	}
	return rows
}

func benchRow(s *lab.Sheet, tests map[string]int, a *attempt.Attempt) submission.Row {
	place := benchFile + ", sheet " + s.Code
	row := submission.Row{Place: place, Student: s.Student, Sheet: s.Code, Repair: a.Conclusion.Repair, RepairAt: place,
		Bench: true, Reasoning: -1, Safe: -1}
	if s.Student == "" {
		row.Student, row.Name = a.Student, a.Name
	}
	for _, done := range a.Steps {
		step := submission.Step{Place: fmt.Sprintf("%s, step %d", place, done.Number), Void: done.Void,
			Judged: map[attempt.Verdict]string{attempt.Good: "+", attempt.Bad: "-"}[done.Good]}
		t, known := tests[done.Test]
		if !known { // of another lab; its chain would not have fitted
			step.Line, step.Text = -1, done.Test
		} else {
			line := s.Lines[t]
			step.Line, step.Letters = line.Number, line.Letters
			step.Text = fmt.Sprintf("%03d%s%s", line.Number, line.Letters, step.Judged)
		}
		if done.Void != "" {
			step.Text += " (taken back: " + done.Void + ")"
		}
		row.Steps = append(row.Steps, step)
	}
	return row
}

// withPaper puts what the bench recorded of a student together with the rows that were keyed in: a row on the same
// sheet that begins with the recorded steps, or says from which step it goes on, continues them. Anything else that
// overlaps is doubt: the bench counts until the instructor has chosen.
func (m *matcher) withPaper(bench Entry, rows []Entry) Entry {
	if len(rows) == 0 {
		return bench
	}
	paper := m.mergePaper(rows)
	if paper.Row.Reasoning >= 0 {
		bench.Row.Reasoning = paper.Row.Reasoning
	}
	if paper.Row.Safe >= 0 {
		bench.Row.Safe = paper.Row.Safe
	}
	chosen, hasChosen := RulingOn(m.rows.choose, bench.Work)
	switch {
	case paper.Undecided == "" && paper.Row.Empty(), hasChosen && chosen == bench.Row.Place:
		return bench
	case paper.Undecided != "", hasChosen && chosen == paper.Row.Place && paper.Row.From == 0:
		return paper
	}
	if joined, ok := continued(bench.Row, paper.Row); ok && bench.Sheet == paper.Sheet {
		bench.Row = joined
		bench.Doubts = append(bench.Doubts, paper.Doubts...)
		return bench
	}
	if hasChosen && chosen == paper.Row.Place && paper.Row.From > len(bench.Row.Steps)+1 {
		bench.Doubts = append(bench.Doubts, fmt.Sprintf("the steps before step %d are missing", paper.Row.From))
	}
	m.problem(paper.Row.Place, fmt.Sprintf("look at the worksheet; then write [[choose]] student = %q, row = %q or "+
		"row = %q%s into adjust.toml",
		bench.Student, bench.Row.Place, paper.Row.Place, m.naming(bench.Sheet)),
		"student %s worked on the bench, and the row says something else; the bench counts until you choose", bench.Student)
	if bench.Sheet != paper.Sheet {
		bench.Doubts = append(bench.Doubts, "a row on another sheet: "+paper.Row.Place)
		return bench
	}
	bench.Other = &paper.Row
	return bench
}

// continued joins a row to what the bench recorded before it. It is false where the two overlap otherwise.
func continued(bench, paper submission.Row) (submission.Row, bool) {
	n := len(bench.Steps)
	rest := paper.Steps
	switch {
	case paper.From == 0 && len(paper.Steps) == 0: // a conclusion
	case paper.From == n+1:
	case paper.From == 0 && len(paper.Steps) >= n && slices.EqualFunc(bench.Steps, paper.Steps[:n], sameStep):
		rest = paper.Steps[n:]
	default:
		return bench, false
	}
	if bench.Repair != "" && (len(rest) > 0 || paper.Repair != "" && paper.Repair != bench.Repair) {
		return bench, false // the conclusion was made
	}
	joined := bench
	joined.Steps = slices.Concat(bench.Steps, rest)
	if paper.Repair != "" && bench.Repair == "" {
		joined.Repair, joined.RepairAt = paper.Repair, paper.RepairAt
	}
	return joined, true
}

// sameStep tells whether two steps say the same.
func sameStep(a, b submission.Step) bool {
	return a.Line == b.Line && a.Letters == b.Letters && a.Judged == b.Judged
}
