package grading

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"nospark/grading/submission"
	"nospark/scenarios"
)

// Grade compares what a class handed in with best play. rows may come in any order and from several files; remarks are those of reading
// them, which become problems of the result. Nothing that students wrote is an error: a row that cannot be graded is a problem, a mark in
// doubt is provisional, a sheet without a row is blank. The error is for a broken lab, or for an adjust entry about a student, sheet,
// test or repair that does not exist.
func Grade(lab *scenarios.Lab, rows []submission.Row, adjust Adjust, remarks ...submission.Remark) (*Result, error) {
	if err := check(lab); err != nil {
		return nil, err
	}
	m := newMatcher(lab)
	var err error
	if m.rows, err = adjust.resolveRows(m, rows); err != nil {
		return nil, err
	}
	entries := m.match(rows)
	rule, err := adjust.resolve(m, entries)
	if err != nil {
		return nil, err
	}
	g := &grader{lab: lab, m: m, rule: rule, known: map[string]*Suspects{}}
	if g.reference, err = g.meanValue(); err != nil {
		return nil, err
	}
	r := &Result{Lab: lab.Name, Title: lab.Title, Date: lab.Date, Reference: g.reference}
	for _, h := range g.everybody(entries) {
		s, err := g.student(h)
		if err != nil {
			return nil, err
		}
		r.Students = append(r.Students, s)
	}
	r.Spread = spread(r.Students)
	r.Alike = alike(lab, r.Students)
	for _, remark := range remarks {
		corrected, confirmed := rule.settled(remark.Place, entries)
		if confirmed {
			remark.Do = confirmedAlready
		}
		if !corrected {
			r.Problems = append(r.Problems, Problem(remark))
		}
	}
	rule.broad(m)
	r.Problems = fewer(append(r.Problems, m.problems...))
	return r, nil
}

// grader is what grading one lab needs beside the rows.
type grader struct {
	lab       *scenarios.Lab
	m         *matcher
	rule      *rulings
	known     map[string]*Suspects // by the tests that do not count
	reference int64
	detail    *scenarios.Detail // nil until it is asked for
	lacking   bool              // the lab has none
}

// details are where the parts of the lab are; ok is false for a lab whose pack this program does not read any more.
func (g *grader) details() (detail *scenarios.Detail, ok bool) {
	if g.detail == nil && !g.lacking {
		d, err := g.lab.Detail()
		g.detail, g.lacking = &d, err != nil
	}
	return g.detail, !g.lacking
}

// check finds what would make grading fail in a lab that was built in memory; a lab read from its file has been checked already.
func check(lab *scenarios.Lab) error {
	for i, s := range lab.Sheets {
		if s.Complaint < 0 || s.Complaint >= len(lab.Complaints) || s.Truth < 0 || s.Truth >= len(lab.Hypotheses) {
			return fmt.Errorf("lab %s: sheet %d leads outside the lab", lab.Name, i)
		}
		if !lab.Suspects(s.Complaint).Has(s.Truth) {
			return fmt.Errorf("lab %s: sheet %s hides a fault that does not give its complaint", lab.Name, s.Code)
		}
		if len(s.Lines) != len(lab.Tests) {
			return fmt.Errorf("lab %s: sheet %s has %d lines for %d tests", lab.Name, s.Code, len(s.Lines), len(lab.Tests))
		}
		for t, line := range s.Lines {
			if line.Band != lab.Hypotheses[s.Truth].Band(t) || int(line.Band) >= len(lab.Tests[t].Bands) {
				return fmt.Errorf("lab %s: line %d of sheet %s is not in the band of its fault", lab.Name, line.Number, s.Code)
			}
		}
	}
	return nil
}

// suspects returns best play for a sheet of a student; sheets for which the same tests were dropped share it.
func (g *grader) suspects(sheet int, student string) (*Suspects, error) {
	closed := g.rule.dropped(sheet, student)
	key := fmt.Sprint(closed)
	if s, ok := g.known[key]; ok {
		return s, nil
	}
	s, err := NewSuspects(g.lab, closed...)
	if err != nil {
		return nil, err
	}
	g.known[key] = s
	return s, nil
}

// meanValue is the reference time: the mean of V over the sheets at their start, rounded to a tenth so that a mark can be recomputed from
// what is printed, and at least a tenth.
func (g *grader) meanValue() (int64, error) {
	total := 0.0
	for i, s := range g.lab.Sheets {
		suspects, err := g.suspects(i, s.Student)
		if err != nil {
			return 0, err
		}
		total += suspects.Value(suspects.Start(s.Complaint))
	}
	return max(1, int64(math.Round(total/float64(max(1, len(g.lab.Sheets)))))), nil
}

// everybody lists who gets a result, in the order of the lab's sheets: whoever handed in, on the sheet that was used, and every other
// student of the lab with nothing.
func (g *grader) everybody(entries []handed) []handed {
	all := slices.Clone(entries)
	seen := map[string]bool{}
	for _, h := range entries {
		seen[h.student] = true
	}
	for i, s := range g.lab.Sheets {
		if s.Student != "" && !seen[s.Student] {
			seen[s.Student] = true
			h, _ := g.m.on(i, submission.Row{Reasoning: -1, Safe: -1})
			all = append(all, h)
		}
	}
	slices.SortStableFunc(all, func(a, b handed) int { return cmp.Compare(a.sheet, b.sheet) })
	return all
}

// student grades one entry.
func (g *grader) student(h handed) (StudentResult, error) {
	suspects, err := g.suspects(h.sheet, h.student)
	if err != nil {
		return StudentResult{}, err
	}
	w := &work{g: g, h: h, s: suspects, sheet: &g.lab.Sheets[h.sheet], doubts: slices.Clone(h.doubts)}
	w.r = StudentResult{
		Sheet: w.sheet.Code, Student: h.student, Name: h.name, Section: h.section, Index: h.sheet,
		Repair: -1, Wrote: clipped(h.row.Repair), Reasoning: h.row.Reasoning, Safe: h.row.Safe,
	}
	w.start = suspects.Start(w.sheet.Complaint)
	w.same = suspects.Inseparable(w.start, w.sheet.Truth)
	w.r.Path = w.bestPlay(w.start)
	for _, p := range w.r.Path {
		w.r.Best += p.Minutes
	}
	if !h.row.Empty() && h.undecided == "" {
		w.steps()
		w.conclude()
		w.mark()
		w.advise()
	}
	w.status()
	w.unconcluded()
	if w.raisedBy != nil && !w.r.Set && w.r.Status != Excused {
		w.raisedBy.raised = append(w.raisedBy.raised, g.rule.fault(h.sheet))
	}
	return w.r, nil
}

// unconcluded tells of steps without a conclusion.
func (w *work) unconcluded() {
	if w.h.row.Empty() || w.h.row.Repair != "" || w.h.undecided != "" {
		return
	}
	what, do := "concluded nothing; the steps are graded", "look at the worksheet"
	if w.r.Status == Incomplete {
		what, do = "concluded nothing and had more to test, so the sheet is incomplete",
			"look at the worksheet; let the student finish, or [[confirm]] the steps as they are in adjust.toml"
	}
	w.g.m.problem(w.h.row.Place, do, "student %s %s", w.h.student, what)
}

// status decides how far the mark can be trusted, and lets the instructor's word have the last one.
func (w *work) status() {
	r, rule := &w.r, w.g.rule
	r.Status = Graded
	confirm, confirmed := rule.confirm[r.Student]
	switch {
	case w.h.undecided != "":
		r.Status, r.Why = Incomplete, w.h.undecided
	case w.h.row.Empty():
		r.Status, r.Why = Blank, "nothing handed in"
	case w.h.row.Repair == "" && r.Missing > 0 && confirmed:
		r.Why = join(r.Why, "confirmed without a conclusion: "+confirm.Reason)
	case w.h.row.Repair == "" && r.Missing > 0: // whoever left early has shown nothing yet, and may finish
		r.Status, r.Why = Incomplete, "no repair was concluded"
	case len(w.doubts) > 0 && confirmed:
		r.Why = join(r.Why, "confirmed: "+confirm.Reason)
	case len(w.doubts) > 0:
		r.Status, r.Why = Provisional, join(append([]string{r.Why}, w.doubts...)...)
	}
	if set, ok := rule.mark[r.Student]; ok {
		r.Status, r.Mark, r.Set, r.Why = Graded, set.Value, true, "mark set: "+set.Reason
	}
	if excuse, ok := rule.excuse[r.Student]; ok {
		r.Status, r.Why = Excused, excuse.Reason
	}
}

// join puts reasons into one line; empty ones vanish.
func join(reasons ...string) string {
	return strings.Join(slices.DeleteFunc(reasons, func(s string) bool { return s == "" }), "; ")
}

// settled tells whether a remark is about a step that the instructor has corrected, or of a student whose mark is confirmed. A cell may hold
// several steps.
func (g *rulings) settled(place string, entries []handed) (corrected, confirmed bool) {
	for _, h := range entries {
		for i, step := range h.row.Steps {
			if step.Place == place {
				_, this := g.correct[stepOf{h.student, i + 1}]
				_, confirmed = g.confirm[h.student]
				corrected = corrected || this
			}
		}
	}
	return corrected, confirmed
}

// spread describes how hard the students' sheets are.
func spread(students []StudentResult) DifficultySpread {
	var d DifficultySpread
	for i, s := range students {
		if i == 0 || s.Best < d.Low {
			d.Low = s.Best
		}
		d.High = max(d.High, s.Best)
		d.Mean += float64(s.Best) / float64(len(students))
	}
	return d
}

// clipped keeps what somebody wrote instead of a code from filling a page.
func clipped(text string) string {
	const most = 20
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}
