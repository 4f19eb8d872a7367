package build

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/roster"
	"nospark/scenarios/spelling"
	"nospark/scenarios/term"
	"nospark/scenarios/vehicle"
)

// request is a plan resolved against its pack: ids have become indexes.
type request struct {
	complaints []int  // into the pack's; nil: the build chooses one
	tests      []int  // allowed tests, indexes into the pack's, ascending
	hide       []bool // by fault of the lab: may be hidden
	named      bool   // the plan names the faults, so none of them is left out for being inconvenient
	nothing    bool   // the vehicle with nothing wrong is possible; it is the last fault of the lab
}

// resolver collects what is wrong with a plan in view of its pack.
type resolver struct {
	plan  *term.Plan
	p     *pack.Pack
	found []error
}

func (r *resolver) fail(key, format string, args ...any) {
	r.found = append(r.found, fmt.Errorf("%s: %s", r.plan.Place(key), fmt.Sprintf(format, args...)))
}

// resolve checks the ids of a plan. The error joins all that the pack does not know.
func resolve(plan *term.Plan, p *pack.Pack) (request, error) {
	r := &resolver{plan: plan, p: p}
	req := request{nothing: plan.Nothing, named: len(plan.Faults) > 0}
	ids := idsOf(p.Complaints, func(c pack.Complaint) string { return c.ID })
	req.complaints = r.indexes(complaintKey(plan), "complaint", plan.Complaints, ids)
	slices.Sort(req.complaints)
	if plan.Nothing && p.Nothing == nil {
		r.fail("nothing_found", "nothing_found = true, but pack %q has no [nothing_found] table", p.Name)
		req.nothing = false
	}
	req.tests = r.tests()
	req.hide = r.hide(req.nothing)
	var kinds []string
	for _, t := range req.tests {
		if kind := p.Tests[t].Competency; kind != "" && !slices.Contains(kinds, kind) {
			kinds = append(kinds, kind)
		}
	}
	r.indexes("competency", "competency of the tests allowed", plan.Competency, kinds)
	return req, errors.Join(r.found...)
}

// indexes finds words among ids.
func (r *resolver) indexes(key, what string, words, ids []string) []int {
	var found []int
	for _, w := range words {
		i := slices.Index(ids, w)
		if i < 0 {
			r.fail(key, "%s names %q, which is no %s of pack %q%s", key, w, what, r.p.Name, r.packHint(w, ids))
			continue
		}
		found = append(found, i)
	}
	return found
}

// hint is the nearest name, or what there is when nothing is near.
func hint(word string, words []string) string {
	if m := spelling.Ask(word, words); m != "" {
		return m
	}
	return "; it has " + quoted(words)
}

// mostListed is how many names of a pack a message lists; faults and tests are more.
const mostListed = 30

// packHint is a hint that for a long list names the command that shows the pack.
func (r *resolver) packHint(word string, words []string) string {
	if len(words) > mostListed && spelling.Nearest(word, words) == "" {
		return "; nospark pack show " + r.plan.Pack + " lists them"
	}
	return hint(word, words)
}

// quoted joins words for a message: "a", "b", "c".
func quoted(words []string) string {
	all := make([]string, len(words))
	for i, w := range words {
		all[i] = strconv.Quote(w)
	}
	return strings.Join(all, ", ")
}

func idsOf[T any](list []T, id func(T) string) []string {
	ids := make([]string, len(list))
	for i, item := range list {
		ids[i] = id(item)
	}
	return ids
}

// instead names the oscilloscope's test that stands in for another instrument: its pickup is the kV probe, and beside
// the kilovolts it shows the spark line. A worksheet has no room for both.
var instead = map[string]string{"kv-required": cards.ScopeSecondary, "kv-available": cards.ScopeSecondary}

// replaced tells whether a lab with the oscilloscope has no need of a test: its picture shows the same, as long as
// nothing is warmed, wetted or moved for the test, and unless the plan names the instrument.
func (r *resolver) replaced(t *pack.Test) bool {
	scope, known := instead[t.Instrument.ID]
	return known && r.plan.Scope && !slices.Contains(r.plan.Instruments, t.Instrument.ID) &&
		slices.ContainsFunc(r.p.Tests, func(o pack.Test) bool {
			return o.Instrument.ID == scope &&
				(r.plan.Conditions == nil || slices.Contains(r.plan.Conditions, r.p.Conditions[o.Condition].ID)) &&
				r.p.Conditions[o.Condition].Provoke == r.p.Conditions[t.Condition].Provoke
		})
}

// tests picks the tests that instruments, conditions, unplug and scope allow.
func (r *resolver) tests() []int {
	p, plan := r.p, r.plan
	var used []string
	for _, t := range p.Tests {
		if !slices.Contains(used, t.Instrument.ID) {
			used = append(used, t.Instrument.ID)
		}
	}
	// Instruments that exist but that the pack has no test with are most likely meant for another pack.
	r.indexes("instruments", "instrument", plan.Instruments, used)
	r.indexes("forbid", "instrument", plan.Forbid, used)
	conditions := r.indexes("conditions", "condition", plan.Conditions,
		idsOf(p.Conditions, func(c pack.Condition) string { return c.ID }))
	var tests []int
	for i, t := range p.Tests {
		switch {
		case t.Instrument.Scope():
			if plan.Scope && (plan.Conditions == nil || slices.Contains(conditions, t.Condition)) {
				tests = append(tests, i)
			}
		case r.replaced(&t):
		case plan.Instruments != nil && !slices.Contains(plan.Instruments, t.Instrument.ID):
		case plan.Conditions != nil && !slices.Contains(conditions, t.Condition):
		case !plan.Unplug && (t.Isolate || len(t.Unplug) > 0):
		default:
			tests = append(tests, i)
		}
	}
	if len(tests) == 0 && len(r.found) == 0 {
		r.fail("instruments", "instruments, conditions and unplug together leave no test of pack %q", p.Name)
	}
	if len(tests) > lab.MaxLines {
		r.fail("instruments", "%d tests are allowed, line numbers of three digits suffice for %d; allow fewer "+
			"instruments or conditions",
			len(tests), lab.MaxLines)
	}
	return tests
}

// hide marks the faults that may be hidden.
func (r *resolver) hide(nothing bool) []bool {
	ids := idsOf(r.p.Faults, func(f pack.Fault) string { return f.ID })
	if nothing {
		ids = append(ids, lab.NothingWrong)
	}
	hide := make([]bool, len(ids))
	for i := range hide { // all, unless some are named
		hide[i] = len(r.plan.Faults) == 0
	}
	for _, i := range r.indexes("faults", "fault", r.plan.Faults, ids) {
		hide[i] = true
	}
	for _, i := range r.indexes("exclude", "fault", r.plan.Exclude, ids) {
		hide[i] = false
	}
	if !slices.Contains(hide, true) && len(r.found) == 0 {
		r.fail("exclude", "exclude = [%s] leaves no fault to hide", strings.Join(r.plan.Exclude, ", "))
	}
	return hide
}

// minutesText writes tenths of a minute as minutes.
func minutesText(tenths int64) string {
	return fmt.Sprintf("%d.%d", tenths/10, tenths%10)
}

func complaintKey(plan *term.Plan) string {
	if plan.Has("complaint") {
		return "complaint"
	}
	return "complaints"
}

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

// asked is what the plan asks of the pack, and the people of the lab. Everything wrong with the two is told at once,
// before the long work begins. Seats get the ids of the class list.
func (in *Input) asked(p *pack.Pack) (request, []person, error) {
	req, err := resolve(&in.Plan, p)
	list, peopleErr := people(&in.Plan, in.Students)
	in.Seating = seatsOf(in.Seating, list)
	return req, list, errors.Join(err, peopleErr)
}

// periodOf is what a lab keeps of the length of its lesson.
func periodOf(plan *term.Plan) int {
	if plan.Period == lab.UsualPeriod {
		return 0
	}
	return plan.Period
}
