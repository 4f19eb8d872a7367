package grading

import (
	"fmt"
	"slices"
	"sync"

	"nospark/grading/adjust"
	"nospark/grading/bestplay"
	"nospark/grading/handin"
	"nospark/grading/letters"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// Grade compares what a class handed in with best play. rows may come in any order and from several files; remarks are
// those of reading them, which become problems of the result. Nothing that students wrote is an error: a row that
// cannot be graded is a problem, a mark in doubt is provisional, a sheet without a row is blank. The error is for a
// broken lab, or for an adjust entry about a student, sheet, test or repair that does not exist.
func Grade(
	lab *lab.Lab, rows []submission.Row, decided adjust.Decisions, remarks ...submission.Remark,
) (*Result, error) {
	return NewMemory(lab.Detail).Grade(lab, rows, decided, remarks...)
}

// Memory is what grading works out of a lab beside its sheets: of best play, and of the pack. It serves whoever grades
// many labs that differ in their sheets alone, and must not be used for others. It is not safe for use by several
// goroutines at once.
type Memory struct {
	details func() (lab.Detail, error)    // where parts and leads are; an error without a pack that this program reads
	known   map[string]*bestplay.Suspects // by complaint, tests that do not count and checks that are waived
}

// NewMemory knows nothing yet. The details of the labs are asked for at most once.
func NewMemory(details func() (lab.Detail, error)) *Memory {
	return &Memory{details: sync.OnceValues(details), known: map[string]*bestplay.Suspects{}}
}

// Grade is [Grade] with what is known from earlier labs.
func (memory *Memory) Grade(lab *lab.Lab, rows []submission.Row, decided adjust.Decisions,
	remarks ...submission.Remark) (*Result, error) {
	if err := bestplay.Sound(lab); err != nil {
		return nil, err
	}
	class, err := handin.Read(lab, rows, decided)
	if err != nil {
		return nil, err
	}
	rule := class.Rulings
	g := &grader{Memory: memory, lab: lab, rule: rule, lines: letters.NewIndex(lab)}
	for _, p := range class.Problems {
		g.problems = append(g.problems, Problem(p))
	}
	if g.reference, err = g.meanReference(); err != nil {
		return nil, err
	}
	r := &Result{Lab: lab.Name, Title: lab.Title, Date: lab.Date, Reference: g.reference}
	for _, h := range class.Everybody {
		s, err := g.student(h)
		if err != nil {
			return nil, err
		}
		r.Students = append(r.Students, s)
	}
	r.Marks = studentMarks(r.Students)
	for i := range r.Marks {
		_, r.Marks[i].Late = rule.Late[handin.Work{Student: r.Marks[i].Student, Sheet: handin.AnySheet}]
	}
	r.Spread = spread(r.Students)
	r.Alike = alike(lab, r.Students)
	for _, remark := range remarks {
		corrected, confirmed := rule.Settled(remark.Place, class.Entries)
		if confirmed {
			remark.Do = confirmedAlready
		}
		if !corrected {
			r.Problems = append(r.Problems, Problem(remark))
		}
	}
	r.Problems = append(r.Problems, g.problems...)
	for _, p := range rule.Broad() {
		r.Problems = append(r.Problems, Problem(p))
	}
	r.Problems = fewer(r.Problems)
	return r, nil
}

// grader is what grading one lab needs beside the rows.
type grader struct {
	*Memory
	lab       *lab.Lab
	rule      *handin.Rulings
	lines     *letters.Index
	reference int64
	problems  []Problem // in the order in which they were met
}

// problem is something that a person should look at.
func (g *grader) problem(place, do, format string, args ...any) {
	g.problems = append(g.problems, Problem{place, fmt.Sprintf(format, args...), do})
}

// suspects returns best play for a student's work; sheets with the same complaint, of which the same tests and checks
// are taken out, share it.
func (g *grader) suspects(at handin.Work) (*bestplay.Suspects, error) {
	complaint, shut := g.lab.Sheets[at.Sheet].Complaint, g.rule.Dropped(at)
	waived, _ := g.rule.Waived(at)
	key := fmt.Sprint(complaint, shut, waived)
	if s, ok := g.known[key]; ok {
		return s, nil
	}
	s, err := bestplay.NewSuspects(g.lab, complaint, shut, waived)
	if err != nil {
		return nil, err
	}
	g.known[key] = s
	return s, nil
}

// meanReference is the mean of V over the sheets at their start, to a tenth of a minute.
func (g *grader) meanReference() (int64, error) {
	total := 0.0
	for i := range g.lab.Sheets {
		sheet := &g.lab.Sheets[i]
		s, err := g.suspects(handin.Work{Student: sheet.Student, Sheet: i})
		if err != nil {
			return 0, err
		}
		total += s.Value(s.Start(sheet))
	}
	return bestplay.WholeTenths(total / float64(max(1, len(g.lab.Sheets)))), nil
}

// student grades one entry. Where paper contradicts the bench both marks are shown.
func (g *grader) student(h handin.Entry) (StudentResult, error) {
	if h.Other == nil {
		return g.entry(h, "", false)
	}
	paper := h
	paper.Row, paper.Other, paper.Doubts = *h.Other, nil, nil
	told := len(g.problems)
	p, err := g.entry(paper, "", true)
	if err != nil {
		return StudentResult{}, err
	}
	g.problems = g.problems[:told] // they are about a row that does not count
	byPaper := "no mark"
	if p.Status.HasMark() {
		byPaper = fmt.Sprintf("%.1f", p.Mark)
	}
	return g.entry(h, byPaper, false)
}

// entry grades what one row says; byPaper is the mark of the row on paper that contradicts it. A trial asks for the mark
// and leaves no trace.
func (g *grader) entry(h handin.Entry, byPaper string, trial bool) (StudentResult, error) {
	suspects, err := g.suspects(h.Work)
	if err != nil {
		return StudentResult{}, err
	}
	d := &diagnosis{grader: g, h: h, s: suspects,
		sheet: &g.lab.Sheets[h.Sheet], doubts: slices.Clone(h.Doubts)}
	d.r = StudentResult{
		Sheet: d.sheet.Code, Student: h.Student, Name: h.Name, Section: h.Section, Index: h.Sheet,
		Vehicle: d.sheet.Vehicle,
		Repair:  -1, Wrote: handin.Clipped(h.Row.Repair), Reasoning: h.Row.Reasoning, Safe: h.Row.Safe,
	}
	d.start = suspects.Start(d.sheet)
	d.same = suspects.Inseparable(d.start, d.sheet.Truth)
	// Labs before format 3 measure everybody by one reference.
	if d.r.Reference = g.reference; g.lab.Format >= lab.FirstWithCases {
		d.r.Reference = suspects.Reference(d.start)
	}
	d.r.Path = suspects.Path(d.sheet, d.start)
	for _, p := range d.r.Path {
		d.r.Best += p.Minutes
	}
	if !h.Row.Empty() && h.Undecided == "" {
		d.steps()
		d.conclude()
		d.mark()
		d.onConclusion()
		d.onSteps()
		d.r.Practice = d.practice()
	}
	if h.Other != nil {
		d.doubts = append(d.doubts, fmt.Sprintf("paper and bench differ: %.1f by the bench, %s by paper (%s)", d.r.Mark,
			byPaper, h.Other.Place))
	}
	d.status()
	d.unconcluded()
	if d.raisedBy != nil && !trial && !d.r.Set && d.r.Status != Excused {
		g.rule.Raised(d.raisedBy, h.Sheet)
	}
	return d.r, nil
}

// unconcluded tells of steps without a conclusion.
func (d *diagnosis) unconcluded() {
	if d.h.Row.Empty() || d.h.Row.Repair != "" || d.h.Undecided != "" {
		return
	}
	what, do := "concluded nothing; the steps are graded", "look at the worksheet"
	if d.r.Status == Incomplete {
		what, do = "concluded nothing and had more to test, so the sheet is incomplete",
			"look at the worksheet; let the student finish, or [[confirm]] the steps as they are in adjust.toml"
	}
	d.problem(d.h.Row.Place, do, "student %s %s", d.h.Student, what)
}

// status decides how far the mark can be trusted, and lets the instructor's word have the last one.
func (d *diagnosis) status() {
	r, rule := &d.r, d.rule
	r.Status = Graded
	if checks, reasons := rule.Waived(d.h.Work); len(checks) > 0 {
		r.Why = join(r.Why, "checks waived: "+join(reasons...))
	}
	confirm, confirmed := handin.RulingOn(rule.Confirm, d.h.Work)
	switch {
	case d.h.Undecided != "":
		r.Status, r.Why = Incomplete, d.h.Undecided
	case d.h.Row.Empty():
		r.Status, r.Why = Blank, "nothing handed in"
	case d.h.Row.Repair == "" && r.Missing > 0 && confirmed:
		r.Why = join(r.Why, "confirmed without a conclusion: "+confirm.Reason)
	case d.h.Row.Repair == "" && r.Missing > 0: // whoever left early has shown nothing yet, and may finish
		r.Status, r.Why = Incomplete, "no repair was concluded"
	case len(d.doubts) > 0 && confirmed:
		r.Why = join(r.Why, "confirmed: "+confirm.Reason)
	case len(d.doubts) > 0:
		r.Status, r.Why = Provisional, join(append([]string{r.Why}, d.doubts...)...)
	}
	if set, ok := handin.RulingOn(rule.Mark, d.h.Work); ok {
		r.Status, r.Mark, r.Set, r.Why = Graded, set.Value, true, "mark set: "+set.Reason
	}
	if excuse, ok := handin.RulingOn(rule.Excuse, d.h.Work); ok {
		r.Status, r.Why = Excused, excuse.Reason
	}
}

// spread describes how hard the students' sheets are.
func spread(students []StudentResult) bestplay.Spread {
	var d bestplay.Spread
	for i, s := range students {
		if i == 0 || s.Best < d.Low {
			d.Low = s.Best
		}
		d.High = max(d.High, s.Best)
		d.Mean += float64(s.Best) / float64(len(students))
	}
	return d
}
