package build

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/term"
	"nospark/scenarios/vehicle"
)

// extend adds sheets to a lab for students and spares that have none. Sheets that are there may have been printed, so
// nothing about them changes: the lab keeps the text of its pack, its hypotheses and its rubric, and a plan that would
// need others is refused.
func extend(ctx context.Context, in Input) (*lab.Lab, *Report, error) {
	old := in.Previous
	switch old.Verify(in.Term.ID, in.Key[:]) {
	case lab.Changed:
		return nil, nil, fmt.Errorf("lab %q was changed since it was built, so nothing is added to it; restore its "+
			"lab.json from a copy", old.Name)
	case lab.OtherKey:
		return nil, nil, fmt.Errorf("lab %q was built with another key than %s is now, so nothing is added to it; "+
			"restore that key from a copy",
			old.Name, term.KeyFile)
	case lab.NotCheckable:
		return nil, nil, fmt.Errorf("lab %q was built in another term (%s), so nothing is added to it", old.Name,
			old.Term)
	}
	p, err := old.KeptPack()
	if err != nil {
		return nil, nil, err
	}
	req, list, err := in.asked(p)
	if err != nil {
		return nil, nil, err
	}
	if err := errors.Join(samePack(old, in), sameAs(old, &in.Plan, p, req)); err != nil {
		return nil, nil, err
	}
	if old.Format < lab.FirstWithCases {
		return nil, nil, fmt.Errorf("lab %q was built by an earlier version of this program, whose sheets begin "+
			"differently; nothing is added to it."+
			" Its sheets are printed and graded as before; for latecomers build a lab under another name", old.Name)
	}
	l := *old // shares all but the sheets with the old lab, and changes none of it
	l.Sheets = slices.Clone(old.Sheets)
	l.Period = periodOf(&in.Plan) // no sheet depends on it
	matrix, err := vehicle.NewMatrix(p)
	if err != nil {
		return nil, nil, fmt.Errorf("lab %q: %w", old.Name, err)
	}
	m := maker{lab: &l, in: &in, drawer: newDrawer(&l, p, req.tests, sourcesOf(&l, matrix, req)), hide: req.hide,
		people: list, old: owners(&l, list)}
	notes := moved(old, list)
	if in.Pack != old.Pack.Source {
		notes = append(notes, fmt.Sprintf("the pack has changed since the lab was built; the lab keeps version %d, "+
			"so that all sheets agree", old.Pack.Version))
	}
	r, err := reportOn(&l, notes)
	if err != nil {
		return nil, nil, err
	}
	return m.finish(ctx, r)
}

// sourcesOf finds again where the hypotheses of a lab come from.
func sourcesOf(l *lab.Lab, m *vehicle.Matrix, req request) []source {
	kept := l.Hypotheses
	again := *l
	all := merge(&again, m, req, l.ComplaintsUsed())
	sources := make([]source, len(kept))
	for i, h := range kept {
		at := slices.IndexFunc(again.Hypotheses, func(o lab.Hypothesis) bool {
			return o.Fault == h.Fault && o.Complaint == h.Complaint && o.Bands == h.Bands
		})
		switch {
		case at >= 0:
			sources[i] = all[at].source
		case l.Faults[h.Fault].ID == lab.NothingWrong:
			sources[i] = source{fault: -1}
		default: // of a pack whose circuit is computed differently by now
			sources[i] = source{fault: h.Fault, severities: []float64{0.5}}
		}
	}
	return sources
}

// owners gives for each person the sheets that are there. Spares are told apart by their number only.
func owners(l *lab.Lab, list []person) [][]int {
	sheets := map[string][]int{}
	var spares []int
	for i, s := range l.Sheets {
		if s.Student == "" { // a spare that somebody used is still a spare here: the entry form tells whose it was
			spares = append(spares, i)
		} else {
			sheets[s.Student] = append(sheets[s.Student], i)
		}
	}
	each := max(1, l.Vehicles)
	old := make([][]int, len(list))
	for i, p := range list {
		switch {
		case !p.spare:
			old[i] = sheets[p.id]
		case len(spares) >= each:
			old[i], spares = spares[:each], spares[each:]
		}
	}
	return old
}

// anotherLab is what to do where a plan asks for another lab than was built.
const anotherLab = "put it back, or give the plan a new name for a new lab; as long as nothing was handed out, the " +
	"lab's folder may be deleted instead"

// samePack refuses a plan that has turned to another pack. The pack may have changed, even for the worse: the lab has
// its own copy.
func samePack(l *lab.Lab, in Input) error {
	if in.Pack == l.Pack.Source {
		return nil
	}
	if now, err := pack.Parse(in.PackFile, []byte(in.Pack)); err == nil && now.Name != l.Pack.Name {
		return fmt.Errorf("%s: lab %q was built with pack %q, not with %q; %s",
			in.Plan.Place("pack"), l.Name, l.Pack.Name, now.Name, anotherLab)
	}
	return nil
}

// sameAs refuses a plan that asks for another lab than the one that is there. Spares, sections, students, seats and
// faults may change.
func sameAs(l *lab.Lab, plan *term.Plan, p *pack.Pack, req request) error {
	var found []error
	// What stands on paper may not change, nor what marks follow from. The rubric and paper of the term do not count:
	// the lab keeps those it was built with, whatever the term has since become.
	differ := func(key, what, was string) {
		found = append(found, fmt.Errorf("%s: %s differs from what lab %q was built with (%s), and sheets may have "+
			"been printed;"+
			" %s", plan.Place(key), what, l.Name, was, anotherLab))
	}
	text := func(key, now, was string) {
		if now != was {
			differ(key, key, fmt.Sprintf("%q", was))
		}
	}
	text("name", plan.Name, l.Name)
	text("title", plan.Title, l.Title)
	text("date", plan.Date, l.Date)
	if plan.Paper != "" {
		text("paper", plan.Paper, l.Paper)
	}
	if plan.Rows != l.Rows {
		differ("rows", "rows", fmt.Sprint(l.Rows))
	}
	if plan.Difficulty != l.Window {
		was := "no difficulty"
		if l.Window[1] > 0 {
			was = minutesText(l.Window[0]) + " to " + minutesText(l.Window[1])
		}
		differ("difficulty", "difficulty", was)
	}
	if plan.Rubric != nil && *plan.Rubric != l.Rubric {
		differ("rubric", "the rubric", "another")
	}
	if !slices.Equal(plan.Forbid, l.Technique.Forbid) {
		differ("forbid", "forbid", cmp.Or(strings.Join(l.Technique.Forbid, ", "), "nothing"))
	}
	if plan.Vehicles != max(1, l.Vehicles) {
		differ("vehicles", "vehicles", strconv.Itoa(max(1, l.Vehicles)))
	}
	if plan.Proof == l.Closed {
		differ("proof", "proof", strconv.FormatBool(!l.Closed))
	}
	if plan.Scope != l.Scope {
		differ("scope", "scope", strconv.FormatBool(l.Scope))
	}
	used := l.ComplaintsUsed()
	if req.complaints != nil && !slices.Equal(req.complaints, used) {
		var ids []string
		for _, c := range used {
			ids = append(ids, l.Complaints[c].ID)
		}
		differ(complaintKey(plan), "the complaint", strings.Join(ids, ", "))
	}
	if req.nothing != (l.Faults[len(l.Faults)-1].ID == lab.NothingWrong) {
		differ("nothing_found", "nothing_found", fmt.Sprint(!req.nothing))
	}
	if what := otherTests(l, p, req.tests); what != "" {
		differ("instruments", "the set of allowed tests (instruments, conditions, unplug)", what)
	}
	return errors.Join(found...)
}

// otherTests names a test by which the lab and the allowed tests of the plan differ, "" when they are the same.
func otherTests(l *lab.Lab, p *pack.Pack, tests []int) string {
	now := map[string]bool{}
	for _, t := range tests {
		now[p.Tests[t].ID] = true
	}
	for _, t := range l.Tests {
		if !now[t.ID] {
			return fmt.Sprintf("with test %q, for example", t.ID)
		}
		delete(now, t.ID)
	}
	for _, t := range tests {
		if now[p.Tests[t].ID] {
			return fmt.Sprintf("without test %q, for example", p.Tests[t].ID)
		}
	}
	return ""
}

// moved tells what the roster says differently since the sheets were made: they keep what is printed on them.
func moved(l *lab.Lab, list []person) []string {
	now := map[string]person{}
	for _, p := range list {
		if !p.spare {
			now[p.id] = p
		}
	}
	var notes []string
	for _, s := range l.Sheets {
		p, there := now[s.Student]
		switch {
		case s.Student == "":
		case !there:
			notes = append(notes, fmt.Sprintf("student %s is not in the roster any more; the sheet %s stays", s.Student,
				s.Code))
		case p.name != s.Name || p.section != s.Section:
			notes = append(notes, fmt.Sprintf("student %s has another name or section in the roster; the sheet %s "+
				"keeps what is printed on it", s.Student, s.Code))
		}
	}
	return notes
}
