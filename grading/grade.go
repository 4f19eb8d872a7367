package grading

import (
	"fmt"
	"slices"
	"sync"

	"nospark/grading/adjust"
	"nospark/grading/bestplay"
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
	details func() (lab.Detail, error)
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
	m := newMatcher(lab)
	var err error
	if m.rows, err = resolveRows(decided, m, rows); err != nil {
		return nil, err
	}
	entries := m.match(rows)
	everybody := m.everybody(entries)
	rule, err := resolve(decided, m, everybody)
	if err != nil {
		return nil, err
	}
	g := &grader{Memory: memory, lab: lab, m: m, rule: rule}
	if g.reference, err = g.meanReference(); err != nil {
		return nil, err
	}
	r := &Result{Lab: lab.Name, Title: lab.Title, Date: lab.Date, Reference: g.reference}
	for _, h := range everybody {
		s, err := g.student(h)
		if err != nil {
			return nil, err
		}
		r.Students = append(r.Students, s)
	}
	r.Marks = studentMarks(r.Students)
	for i := range r.Marks {
		_, r.Marks[i].Late = rule.late[work{r.Marks[i].Student, anySheet}]
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
	*Memory
	lab       *lab.Lab
	m         *matcher
	rule      *rulings
	reference int64
}

// suspects returns best play for a student's work; sheets with the same complaint, of which the same tests and checks
// are taken out, share it.
func (g *grader) suspects(at work) (*bestplay.Suspects, error) {
	complaint, shut := g.lab.Sheets[at.sheet].Complaint, g.rule.dropped(at)
	waived, _ := g.rule.waived(at)
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
		s, err := g.suspects(work{sheet.Student, i})
		if err != nil {
			return 0, err
		}
		total += s.Value(s.Start(sheet))
	}
	return bestplay.WholeTenths(total / float64(max(1, len(g.lab.Sheets)))), nil
}

// student grades one entry. Where paper contradicts the bench both marks are shown.
func (g *grader) student(h handed) (StudentResult, error) {
	if h.other == nil {
		return g.entry(h)
	}
	paper := h
	paper.row, paper.other, paper.doubts, paper.trial = *h.other, nil, nil, true
	told := len(g.m.problems)
	p, err := g.entry(paper)
	if err != nil {
		return StudentResult{}, err
	}
	g.m.problems = g.m.problems[:told] // they are about a row that does not count
	h.byPaper = "no mark"
	if p.Status.HasMark() {
		h.byPaper = fmt.Sprintf("%.1f", p.Mark)
	}
	return g.entry(h)
}

// entry grades what one row says.
func (g *grader) entry(h handed) (StudentResult, error) {
	suspects, err := g.suspects(h.work)
	if err != nil {
		return StudentResult{}, err
	}
	d := &diagnosis{lab: g.lab, m: g.m, rule: g.rule, details: g.details, h: h, s: suspects,
		sheet: &g.lab.Sheets[h.sheet], doubts: slices.Clone(h.doubts)}
	d.r = StudentResult{
		Sheet: d.sheet.Code, Student: h.student, Name: h.name, Section: h.section, Index: h.sheet,
		Vehicle: d.sheet.Vehicle,
		Repair:  -1, Wrote: clipped(h.row.Repair), Reasoning: h.row.Reasoning, Safe: h.row.Safe,
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
	if !h.row.Empty() && h.undecided == "" {
		d.steps()
		d.conclude()
		d.mark()
		d.onConclusion()
		d.onSteps()
		d.r.Practice = d.practice()
	}
	if h.other != nil {
		d.doubts = append(d.doubts, fmt.Sprintf("paper and bench differ: %.1f by the bench, %s by paper (%s)", d.r.Mark,
			h.byPaper, h.other.Place))
	}
	d.status()
	d.unconcluded()
	if d.raisedBy != nil && !h.trial && !d.r.Set && d.r.Status != Excused {
		d.raisedBy.raised = append(d.raisedBy.raised, g.rule.fault(h.sheet))
	}
	return d.r, nil
}

// unconcluded tells of steps without a conclusion.
func (d *diagnosis) unconcluded() {
	if d.h.row.Empty() || d.h.row.Repair != "" || d.h.undecided != "" {
		return
	}
	what, do := "concluded nothing; the steps are graded", "look at the worksheet"
	if d.r.Status == Incomplete {
		what, do = "concluded nothing and had more to test, so the sheet is incomplete",
			"look at the worksheet; let the student finish, or [[confirm]] the steps as they are in adjust.toml"
	}
	d.m.problem(d.h.row.Place, do, "student %s %s", d.h.student, what)
}

// status decides how far the mark can be trusted, and lets the instructor's word have the last one.
func (d *diagnosis) status() {
	r, rule := &d.r, d.rule
	r.Status = Graded
	if checks, reasons := rule.waived(d.h.work); len(checks) > 0 {
		r.Why = join(r.Why, "checks waived: "+join(reasons...))
	}
	confirm, confirmed := rulingOn(rule.confirm, d.h.work)
	switch {
	case d.h.undecided != "":
		r.Status, r.Why = Incomplete, d.h.undecided
	case d.h.row.Empty():
		r.Status, r.Why = Blank, "nothing handed in"
	case d.h.row.Repair == "" && r.Missing > 0 && confirmed:
		r.Why = join(r.Why, "confirmed without a conclusion: "+confirm.Reason)
	case d.h.row.Repair == "" && r.Missing > 0: // whoever left early has shown nothing yet, and may finish
		r.Status, r.Why = Incomplete, "no repair was concluded"
	case len(d.doubts) > 0 && confirmed:
		r.Why = join(r.Why, "confirmed: "+confirm.Reason)
	case len(d.doubts) > 0:
		r.Status, r.Why = Provisional, join(append([]string{r.Why}, d.doubts...)...)
	}
	if set, ok := rulingOn(rule.mark, d.h.work); ok {
		r.Status, r.Mark, r.Set, r.Why = Graded, set.Value, true, "mark set: "+set.Reason
	}
	if excuse, ok := rulingOn(rule.excuse, d.h.work); ok {
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
