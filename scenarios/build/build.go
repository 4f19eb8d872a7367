package build

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"nospark/scenarios/draw"
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
	"nospark/scenarios/vehicle"
)

// Input is all that a build depends on: equal inputs give an equal lab, whatever the machine.
type Input struct {
	Term     term.Term
	Plan     term.Plan
	Students []roster.Student // of the whole roster, in its order
	Key      term.Key
	Seating  term.Seating    // nil: the order of the roster tells who sits beside whom
	History  term.History    // what students have had in earlier labs of the term; nil: nothing
	PackFile string          // name of the pack's text for errors
	Pack     string          // the text
	Matrix   *vehicle.Matrix // of the pack, for a program that builds several labs from it; nil: computed
	Previous *lab.Lab        // the lab as built before, or nil
	Progress func(done, total int)
}

// Build makes a lab, or adds sheets to a previous one, which it never changes. The error says what about the plan, the pack or the
// roster is wrong; there is no lab then.
func Lab(ctx context.Context, in Input) (*lab.Lab, *Report, error) {
	if in.Previous != nil {
		return extend(ctx, in)
	}
	p, err := pack.Parse(in.PackFile, []byte(in.Pack))
	if err != nil {
		return nil, nil, err
	}
	// Everything wrong with the plan is told at once, before the long work begins.
	req, err := resolve(&in.Plan, p)
	list, peopleErr := people(&in.Plan, in.Students)
	if err := errors.Join(err, peopleErr); err != nil {
		return nil, nil, err
	}
	l := &lab.Lab{Format: lab.Format, Term: in.Term.ID, Program: in.Term.Program, Name: in.Plan.Name, Title: in.Plan.Title, Date: in.Plan.Date,
		Paper: cmp.Or(in.Plan.Paper, in.Term.Paper), Rows: in.Plan.Rows, Rubric: in.Term.Rubric, Window: in.Plan.Difficulty, Scope: in.Plan.Scope,
		Technique: lab.Technique{Forbid: append([]string{}, in.Plan.Forbid...)},
		Pack:      lab.PackRef{Name: p.Name, Title: p.Title, Version: p.Version, Source: in.Pack}}
	if in.Plan.Rubric != nil {
		l.Rubric = *in.Plan.Rubric
	}
	if err := frame(l, p, req, in.Key); err != nil {
		return nil, nil, err
	}
	if in.Matrix == nil {
		if in.Matrix, err = vehicle.NewMatrix(p); err != nil {
			return nil, nil, fmt.Errorf("%s: %w", in.PackFile, err)
		}
	}
	grounds, err := settleComplaints(l, in.Matrix, req, &in.Plan, len(list))
	if err != nil {
		return nil, nil, err
	}
	if err := walkAll(l, grounds); err != nil {
		return nil, nil, fmt.Errorf("%s: %w", in.Plan.File, err)
	}
	rate(l) // needs the hypotheses, which frame had not yet
	chosen, notes, err := choose(l, &in, req, grounds, len(list), true)
	if err != nil {
		return nil, nil, err
	}
	w := work{lab: l, in: &in, drawer: newDrawer(l, p, in.Key, req.tests, chosen), chosen: chosen, people: list}
	return w.finish(ctx, grounds, notes)
}

// settleComplaints fills in the hypotheses for the plan's complaints and solves each. A plan without any gets the complaint with the most
// different faults to hide; one that cannot be solved, or needs no testing, is passed over.
func settleComplaints(l *lab.Lab, m *vehicle.Matrix, req request, plan *term.Plan, class int) ([]solvedComplaint, error) {
	if req.complaints != nil {
		return solve(l, m, req, plan, req.complaints)
	}
	best := -1
	var most [2]int // different faults inside the window, and at all
	var found []error
	for c := range l.Complaints {
		grounds, err := solve(l, m, req, plan, []int{c})
		if err != nil { // told only if no other complaint does
			found = append(found, err)
			continue
		}
		all, _ := variety(grounds[0].candidates)
		inside := all
		if plan.Difficulty[1] > 0 {
			inside, _ = variety(within(grounds[0].candidates, plan.Difficulty[0], plan.Difficulty[1]))
		}
		if now := [2]int{inside, all}; all > 0 && slices.Compare(now[:], most[:]) > 0 {
			best, most = c, now
		}
	}
	if best < 0 {
		found = append(found, fmt.Errorf("%s: no complaint of pack %q has a fault to hide", plan.File, l.Pack.Name))
		return nil, errors.Join(found...)
	}
	return solve(l, m, req, plan, []int{best})
}

// solve fills in the hypotheses for the given complaints and surveys each.
func solve(l *lab.Lab, m *vehicle.Matrix, req request, plan *term.Plan, complaints []int) ([]solvedComplaint, error) {
	if err := suspect(l, m, req, complaints); err != nil {
		return nil, fmt.Errorf("%s: %w", plan.File, err)
	}
	return surveyAll(l, req, plan, complaints)
}

// surveyAll surveys the complaints of a lab whose hypotheses are known.
func surveyAll(l *lab.Lab, req request, plan *term.Plan, complaints []int) ([]solvedComplaint, error) {
	if len(l.Hypotheses) == 0 {
		return nil, fmt.Errorf("%s: no fault of pack %q gives the complaint", plan.Place("complaint"), l.Pack.Name)
	}
	problem := l.Problem()
	solver, err := isolation.New(problem, isolation.Limits{Nodes: mostNodes, Bytes: mostBytes})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", plan.File, err)
	}
	var grounds []solvedComplaint
	var found []error
	for _, c := range complaints {
		g, err := survey(l, solver, problem, req, c)
		if err != nil {
			found = append(found, fmt.Errorf("%s: %w", plan.Place(complaintKey(plan)), err))
			continue
		}
		grounds = append(grounds, g)
	}
	return grounds, errors.Join(found...)
}

func complaintKey(plan *term.Plan) string {
	if plan.Has("complaint") {
		return "complaint"
	}
	return "complaints"
}

// choose decides which hypotheses the sheets may hide: those inside the plan's window; without one all that the plan names; without names
// the fairest set, unless that was found before (fresh is false). The notes tell what an instructor should know about the choice.
func choose(l *lab.Lab, in *Input, req request, grounds []solvedComplaint, class int, fresh bool) ([]candidate, []string, error) {
	plan := &in.Plan
	var all []candidate
	var notes []string
	reference := 0.0
	for _, g := range grounds {
		all = append(all, g.candidates...)
		reference += g.reference / float64(len(grounds))
		if ids := neverSure(l, g); len(ids) > 0 {
			notes = append(notes, fmt.Sprintf("never hidden under complaint %q, because no allowed test separates the repair from another: %s",
				l.Complaints[g.complaint].ID, strings.Join(ids, ", ")))
		}
	}
	if err := unreachable(l, plan, req, all); err != nil {
		return nil, nil, err
	}
	chosen := all // what the plan names is hidden whatever it takes
	switch {
	case plan.Difficulty[1] > 0:
		if chosen = within(all, plan.Difficulty[0], plan.Difficulty[1]); len(chosen) == 0 {
			return nil, nil, tooNarrow(l, plan, all, crowd{class, in.Seating != nil}, reference)
		}
		if err := namedOutside(l, plan, req, all, chosen); err != nil {
			return nil, nil, err
		}
	case fresh && !req.named:
		chosen = fairest(all, crowd{class, in.Seating != nil}, reference, draw.New(in.Key[:], "lab", l.Name, "window"))
	}
	if faults, repairs := variety(chosen); faults < min(class, leastFaults) || repairs < min(class, leastRepairs) {
		notes = append(notes, fmt.Sprintf("only %d different faults with %d different repairs to hide: answers are easily passed on", faults, repairs))
	}
	return chosen, notes, nil
}

// neverSure lists the faults of a complaint that no row of theirs allows to hide.
func neverSure(l *lab.Lab, g solvedComplaint) []string {
	var ids []string
	for _, f := range g.unsure {
		sure := slices.ContainsFunc(g.candidates, func(c candidate) bool { return c.fault == f })
		if id := l.Faults[f].ID; !sure && !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	return ids
}

// namedOutside refuses faults that the plan names although they lie outside its window.
func namedOutside(l *lab.Lab, plan *term.Plan, req request, all, chosen []candidate) error {
	var found []error
	for f := range l.Faults {
		has := func(c candidate) bool { return c.fault == f }
		at := slices.IndexFunc(all, has)
		if !req.named || at < 0 || slices.ContainsFunc(chosen, has) {
			continue
		}
		found = append(found, fmt.Errorf("%s: fault %q takes best play %s minutes, which is outside difficulty = [%s, %s]", plan.Place("faults"),
			l.Faults[f].ID, minutesText(all[at].minutes), minutesText(plan.Difficulty[0]), minutesText(plan.Difficulty[1])))
	}
	return errors.Join(found...)
}

// unreachable refuses faults that the plan names but that cannot be hidden under its complaints.
func unreachable(l *lab.Lab, plan *term.Plan, req request, all []candidate) error {
	if len(all) == 0 {
		return fmt.Errorf("%s: no fault is left to hide: under the plan's complaints every one is excluded, or no allowed test separates its repair from another", plan.File)
	}
	var found []error
	for f, hide := range req.hide {
		if !hide || !req.named || slices.ContainsFunc(all, func(c candidate) bool { return c.fault == f }) {
			continue
		}
		found = append(found, fmt.Errorf("%s: fault %q does not give the lab's complaint", plan.Place("faults"), l.Faults[f].ID))
	}
	return errors.Join(found...)
}
