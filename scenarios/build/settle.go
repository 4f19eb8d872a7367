package build

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"nospark/scenarios/cases"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/proof"
)

// builder decides what the sheets of a lab may be about.
type builder struct {
	ctx     context.Context
	lab     *lab.Lab
	pack    *pack.Pack
	in      *Input
	req     request
	sheets  int
	sources []source        // of the lab's hypotheses
	checks  [][]proof.Check // of each row of the matrix; nil until they are asked for
	notes   []string
}

// settle fills in the hypotheses for the plan's complaints, their checks, and the cases of each. A plan without any
// complaint gets the one that most different faults to hide give; one that cannot be solved, or needs no testing, is
// passed over.
func (b *builder) settle() ([]*cases.Found, error) {
	if b.req.complaints != nil {
		return b.solve(b.req.complaints)
	}
	var failed []error
	for _, c := range b.byVariety() {
		found, err := b.solve([]int{c})
		if err == nil {
			return found, nil
		}
		if b.ctx.Err() != nil {
			return nil, err
		}
		failed = append(failed, err) // told only if no other complaint does
	}
	failed = append(failed, fmt.Errorf("%s: no complaint of pack %q has a fault to hide", b.in.Plan.File,
		b.lab.Pack.Name))
	return nil, errors.Join(failed...)
}

// byVariety lists the complaints that some fault to hide gives, those with the most different ones first.
func (b *builder) byVariety() []int {
	faults := make([]map[int]bool, len(b.lab.Complaints))       // those to hide
	healthy := b.req.nothing && b.req.hide[len(b.lab.Faults)-1] // it borrows any complaint
	for _, r := range b.in.Matrix.Rows {
		if r.Complaint < 0 || r.Fault < 0 || !b.req.hide[r.Fault] && !healthy {
			continue
		}
		if faults[r.Complaint] == nil {
			faults[r.Complaint] = map[int]bool{}
		}
		if b.req.hide[r.Fault] {
			faults[r.Complaint][r.Fault] = true
		}
	}
	var order []int
	for c := range faults {
		if faults[c] != nil {
			order = append(order, c)
		}
	}
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(len(faults[y]), len(faults[x])) })
	return order
}

// solve works out the given complaints.
func (b *builder) solve(complaints []int) ([]*cases.Found, error) {
	plan, l := &b.in.Plan, b.lab
	b.notes = nil
	b.sources = suspect(l, b.pack, b.in.Matrix, b.req, complaints)
	if len(l.Hypotheses) == 0 {
		return nil, fmt.Errorf("%s: no fault of pack %q gives the complaint", plan.Place("complaint"), l.Pack.Name)
	}
	if err := tooMany(l); err != nil {
		return nil, fmt.Errorf("%s: %w", plan.File, err)
	}
	sources, lost, err := buildable(b.ctx, l, newDrawer(l, b.pack, b.req.tests, b.sources))
	if err != nil {
		return nil, err
	}
	b.sources = sources
	if len(lost) > 0 {
		b.notes = append(b.notes, fmt.Sprintf("in part or wholly left out, because hardly any vehicle within the "+
			"pack's tolerances keeps their bands: %s",
			strings.Join(lost, ", ")))
	}
	b.prove()
	if err := b.unreachable(complaints); err != nil {
		return nil, err
	}
	var all []*cases.Found
	var failed []error
	for _, c := range complaints {
		f, err := cases.Find(l, c, cases.Request{Hide: func(fault int) bool { return b.req.hide[fault] },
			Named: b.req.named, Known: plan.Known,
			Difficulty: plan.Difficulty, Sheets: b.sheets})
		if err != nil {
			key := complaintKey(plan)
			if hard := new(cases.DifficultyError); errors.As(err, &hard) {
				key = "difficulty"
			}
			failed = append(failed, fmt.Errorf("%s: %w", plan.Place(key), err))
			continue
		}
		all = append(all, f)
	}
	return all, errors.Join(failed...)
}

// unreachable refuses faults that the plan names but that do not give its complaints.
func (b *builder) unreachable(complaints []int) error {
	gives := map[int]bool{}
	for _, h := range b.lab.Hypotheses {
		gives[h.Fault] = true
	}
	some := false
	var failed []error
	for f, hide := range b.req.hide {
		switch {
		case hide && gives[f]:
			some = true
		case hide && b.req.named:
			failed = append(failed, fmt.Errorf("%s: fault %q does not give the lab's complaint",
				b.in.Plan.Place("faults"), b.lab.Faults[f].ID))
		}
	}
	if len(failed) == 0 && !some {
		failed = append(failed, fmt.Errorf("%s: no fault is left to hide: under the plan's complaints every one is "+
			"excluded", b.in.Plan.File))
	}
	return errors.Join(failed...)
}
