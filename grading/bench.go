package grading

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
func (m *matcher) withPaper(bench handed, rows []handed) handed {
	if len(rows) == 0 {
		return bench
	}
	paper := m.mergePaper(rows)
	if paper.row.Reasoning >= 0 {
		bench.row.Reasoning = paper.row.Reasoning
	}
	if paper.row.Safe >= 0 {
		bench.row.Safe = paper.row.Safe
	}
	chosen, hasChosen := rulingOn(m.rows.choose, bench.work)
	switch {
	case paper.undecided == "" && paper.row.Empty(), hasChosen && chosen == bench.row.Place:
		return bench
	case paper.undecided != "", hasChosen && chosen == paper.row.Place && paper.row.From == 0:
		return paper
	}
	if joined, ok := continued(bench.row, paper.row); ok && bench.sheet == paper.sheet {
		bench.row = joined
		bench.doubts = append(bench.doubts, paper.doubts...)
		return bench
	}
	if hasChosen && chosen == paper.row.Place && paper.row.From > len(bench.row.Steps)+1 {
		bench.doubts = append(bench.doubts, fmt.Sprintf("the steps before step %d are missing", paper.row.From))
	}
	m.problem(paper.row.Place, fmt.Sprintf("look at the worksheet; then write [[choose]] student = %q, row = %q or "+
		"row = %q%s into adjust.toml",
		bench.student, bench.row.Place, paper.row.Place, m.naming(bench.sheet)),
		"student %s worked on the bench, and the row says something else; the bench counts until you choose", bench.student)
	if bench.sheet != paper.sheet {
		bench.doubts = append(bench.doubts, "a row on another sheet: "+paper.row.Place)
		return bench
	}
	bench.other = &paper.row
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
