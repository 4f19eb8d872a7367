package handin

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"nospark/grading/adjust"
	"nospark/grading/bestplay"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// Rulings are the entries of adjust.toml, resolved against the lab and the students that appear in it.
type Rulings struct {
	lab     *lab.Lab
	accept  []Acceptance
	drop    []dropRuling
	waive   []waiveRuling
	Excuse  map[Work]adjust.Excuse
	Mark    map[Work]adjust.SetMark
	Confirm map[Work]adjust.Confirm
	correct map[stepOf]Correction
	misread map[stepOf]bool
	Late    map[Work]adjust.Late
}

// Acceptance is an Accept with names resolved.
type Acceptance struct {
	repair, insteadOf int // -1: any
	student           string
	sheet             int // or AnySheet
	Reason, place     string
	raised            []int // faults of the sheets whose marks it raised, one entry a sheet
}

// dropRuling is a Drop with names resolved: a line has become the test that it stands for on its sheet.
type dropRuling struct {
	test    int
	student string
	sheet   int // or AnySheet
}

// waiveRuling is a Waive with names resolved to the checks that need not be made.
type waiveRuling struct {
	checks  []int
	student string
	sheet   int
	reason  string
}

// Correction is what a step shall say instead.
type Correction struct {
	Step   submission.Step
	Reason string

	place string
}

// resolve checks every name in a. The error tells all that do not exist, each with its place.
func resolve(a adjust.Decisions, m *matcher, everybody []Entry) (*Rulings, error) {
	r := &resolver{m: m, sheets: map[string][]int{}}
	for _, h := range everybody {
		r.sheets[h.Student] = append(r.sheets[h.Student], h.Sheet)
	}
	g := &Rulings{
		lab: m.lab, Excuse: map[Work]adjust.Excuse{}, Mark: map[Work]adjust.SetMark{},
		Confirm: map[Work]adjust.Confirm{}, correct: map[stepOf]Correction{}, misread: map[stepOf]bool{},
		Late: map[Work]adjust.Late{},
	}
	for _, v := range a.Accept {
		g.accept = append(g.accept, r.accept(v))
	}
	for _, v := range a.Drop {
		g.drop = append(g.drop, r.drop(v))
	}
	for _, v := range a.Waive {
		g.waive = append(g.waive, r.waive(v))
	}
	for _, v := range a.Excuse {
		unique(r, g.Excuse, r.work(v.Place, v.Student, v.Sheet), v.Place, "excuse", v)
	}
	for _, v := range a.Mark {
		unique(r, g.Mark, r.work(v.Place, v.Student, v.Sheet), v.Place, "mark", v)
	}
	for _, v := range a.Confirm {
		unique(r, g.Confirm, r.work(v.Place, v.Student, v.Sheet), v.Place, "confirm", v)
	}
	for _, v := range a.Correct {
		step, err := submission.ParseStep(v.To)
		if err != nil {
			r.fail(v.Place, "to: %v", err)
		}
		unique(r, g.correct, r.step(v.Place, v.Student, v.Sheet, v.Step, everybody), v.Place, "correct",
			Correction{step, v.Reason, v.Place})
	}
	for _, v := range a.Misread {
		unique(r, g.misread, r.step(v.Place, v.Student, v.Sheet, v.Step, everybody), v.Place, "misread", true)
	}
	for _, v := range a.Late {
		unique(r, g.Late, r.work(v.Place, v.Student, ""), v.Place, "late", v)
	}
	return g, errors.Join(r.err...)
}

func (r *resolver) accept(v adjust.Accept) Acceptance {
	a := Acceptance{repair: r.repair(v.Place, v.Repair), insteadOf: -1, sheet: r.sheet(v.Place, v.Sheet),
		Reason: v.Reason, place: v.Place}
	if v.InsteadOf != "" {
		a.insteadOf = r.repair(v.Place, v.InsteadOf)
	}
	if v.Student != "" {
		a.student = r.student(v.Place, v.Student)
	}
	return a
}

func (r *resolver) drop(v adjust.Drop) dropRuling {
	d := dropRuling{test: -1, sheet: r.sheet(v.Place, v.Sheet)}
	if v.Student != "" {
		d.student = r.student(v.Place, v.Student)
	}
	if v.Test != "" {
		d.test = r.test(v.Place, v.Test)
		return d
	}
	sheet := d.sheet
	if d.student != "" {
		sheet = r.only(v.Place, d.student, "").Sheet
	}
	if sheet != AnySheet {
		d.test = r.line(v.Place, sheet, v.Line)
	}
	return d
}

// waive finds the checks that fit all that an entry names.
func (r *resolver) waive(v adjust.Waive) waiveRuling {
	w := waiveRuling{sheet: r.sheet(v.Place, v.Sheet), reason: v.Reason}
	if v.Student != "" {
		w.student = r.student(v.Place, v.Student)
	}
	repair, test, point := -1, -1, -1
	before := len(r.err)
	if v.Repair != "" {
		repair = r.repair(v.Place, v.Repair)
	}
	if v.Test != "" {
		test = r.test(v.Place, v.Test)
	}
	if v.Point != "" {
		point = r.point(v.Place, v.Point)
	}
	if len(r.err) > before {
		return w
	}
	for i, c := range r.m.lab.Checks {
		if (repair < 0 || r.owes(repair, i)) && (test < 0 || slices.Contains(c.Tests, test)) &&
			(point < 0 || c.Point == point) {
			w.checks = append(w.checks, i)
		}
	}
	if len(w.checks) == 0 {
		r.fail(v.Place, "no repair of this lab owes such a check; the answer key lists the checks of each sheet")
	}
	return w
}

// owes tells whether a check belongs to the proof of a repair.
func (r *resolver) owes(repair, check int) bool {
	for h, row := range r.m.lab.Hypotheses {
		if bestplay.RepairOf(r.m.lab, h) == repair && slices.Contains(row.Checks, check) {
			return true
		}
	}
	return false
}

// RulingOn finds the entry about a student's work on a sheet: the one that names the sheet before one for all.
func RulingOn[V any](all map[Work]V, at Work) (V, bool) {
	if v, ok := all[at]; ok {
		return v, true
	}
	v, ok := all[Work{at.Student, AnySheet}]
	return v, ok
}

// Accepted returns what says that a repair counts as right on a sheet, nil if nothing does.
func (g *Rulings) Accepted(repair int, at Work) *Acceptance {
	right := g.lab.Faults[g.fault(at.Sheet)].Repair
	for i := range g.accept {
		a := &g.accept[i]
		if a.repair == repair && (a.insteadOf < 0 || a.insteadOf == right) && concerns(a.student, a.sheet, at) {
			return a
		}
	}
	return nil
}

// fault is what a sheet hides.
func (g *Rulings) fault(sheet int) int { return g.lab.Hypotheses[g.lab.Sheets[sheet].Truth].Fault }

// Raised keeps that an acceptance raised the mark of a sheet.
func (g *Rulings) Raised(by *Acceptance, sheet int) { by.raised = append(by.raised, g.fault(sheet)) }

// Corrected is what a step of a student's work, counted from 1, shall say instead.
func (g *Rulings) Corrected(at Work, step int) (Correction, bool) {
	c, ok := g.correct[stepOf{at, step}]
	return c, ok
}

// Misread tells whether the partner read out a wrong line at a step, counted from 1.
func (g *Rulings) Misread(at Work, step int) bool { return g.misread[stepOf{at, step}] }

// Broad tells of every accepted repair that counts whatever the fault is, and what came of it: a forgotten line of the
// entry would raise marks that nobody thought of.
func (g *Rulings) Broad() (problems []submission.Remark) {
	for _, a := range g.accept {
		if a.student != "" || a.sheet >= 0 || a.insteadOf >= 0 {
			continue
		}
		what := "it raised no mark"
		if len(a.raised) > 0 {
			what = fmt.Sprintf("it raised %s, on sheets with %s", Count(len(a.raised), "mark", "marks"),
				g.faultCounts(a.raised))
		}
		problems = append(problems, submission.Remark{Place: a.place,
			What: fmt.Sprintf("[[accept]] of '%s' is for every fault of the lab; %s", g.lab.Repairs[a.repair].Label, what),
			Do:   "nothing, if that was meant; otherwise add student, sheet or instead_of"})
	}
	return problems
}

// faultCounts names faults with the number of their sheets, in the order of the lab: "'Lamp filament open' (3),
// 'Corroded lamp ground' (1)".
func (g *Rulings) faultCounts(faults []int) string {
	sheets := make([]int, len(g.lab.Faults))
	for _, f := range faults {
		sheets[f]++
	}
	var words []string
	for f, n := range sheets {
		if n > 0 {
			words = append(words, fmt.Sprintf("'%s' (%d)", g.lab.Faults[f].Label, n))
		}
	}
	return strings.Join(words, ", ")
}

// Dropped lists the tests that do not count on a sheet, ascending.
func (g *Rulings) Dropped(at Work) []int {
	var tests []int
	for _, d := range g.drop {
		if concerns(d.student, d.sheet, at) {
			tests = append(tests, d.test)
		}
	}
	slices.Sort(tests)
	return slices.Compact(tests)
}

// Waived lists the checks that need not be made on a sheet, ascending, and the reasons.
func (g *Rulings) Waived(at Work) (checks []int, reasons []string) {
	for _, w := range g.waive {
		if concerns(w.student, w.sheet, at) {
			checks = append(checks, w.checks...)
			reasons = append(reasons, w.reason)
		}
	}
	slices.Sort(checks)
	return slices.Compact(checks), reasons
}

// concerns tells whether an entry for a student, a sheet or, with neither, everybody is about a student's work.
func concerns(student string, sheet int, at Work) bool {
	return (sheet == AnySheet || sheet == at.Sheet) && (student == "" || student == at.Student)
}

// Settled tells whether a remark is about a step that the instructor has corrected, or of a student whose mark is
// confirmed. A cell may hold several steps.
func (g *Rulings) Settled(place string, entries []Entry) (corrected, confirmed bool) {
	for _, h := range entries {
		for i, step := range h.Row.Steps {
			if step.Place == place {
				_, this := g.correct[stepOf{h.Work, i + 1}]
				_, confirmed = RulingOn(g.Confirm, h.Work)
				corrected = corrected || this
			}
		}
	}
	return corrected, confirmed
}
