package grading

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"nospark/grading/submission"
	"nospark/scenarios"
	"nospark/scenarios/roster"
	"nospark/scenarios/spelling"
)

// rulings are the entries of an Adjust, resolved against the lab and the students that appear in it.
type rulings struct {
	lab     *scenarios.Lab
	accept  []acceptRuling
	drop    []dropRuling
	excuse  map[string]Excuse
	mark    map[string]Mark
	confirm map[string]Confirm
	correct map[stepOf]correction
	misread map[stepOf]bool
}

// acceptRuling is an Accept with names resolved.
type acceptRuling struct {
	repair, insteadOf int // -1: any
	student           string
	sheet             int // -1: any
	reason, place     string
	raised            []int // faults of the sheets whose marks it raised, one entry a sheet
}

// dropRuling is a Drop with names resolved: a line has become the test that it stands for on its sheet.
type dropRuling struct {
	test    int
	student string
	sheet   int // -1: any
}

// stepOf is a step of a student, counted from 1.
type stepOf struct {
	student string
	step    int
}

// correction is what a step shall say instead.
type correction struct {
	place  string
	step   submission.Step
	reason string
}

// resolver turns names into indexes and collects those that do not exist.
type resolver struct {
	m      *matcher
	sheets map[string]int // students and the sheet that counts for each
	err    []error
}

func (r *resolver) fail(place, format string, args ...any) {
	r.err = append(r.err, fmt.Errorf("%s: %s", place, fmt.Sprintf(format, args...)))
}

// student accepts what an entry form may say too: other case, lost zeros.
func (r *resolver) student(place, id string) string {
	if _, known := r.sheets[id]; known {
		return id
	}
	if s := r.m.student(id); s != "" {
		return s
	}
	r.fail(place, "student %q is neither in this lab nor in what was handed in%s", id, spelling.Ask(id, r.students()))
	return ""
}

// sheet finds a code; "" is any sheet, -1.
func (r *resolver) sheet(place, code string) int {
	if code == "" {
		return -1
	}
	i, ok := r.m.codes.Find(code)
	if !ok {
		var codes []string
		for _, s := range r.m.lab.Sheets {
			codes = append(codes, s.Code)
		}
		r.fail(place, "this lab has no sheet %q%s", code, spelling.Ask(code, codes))
		return -1
	}
	return i
}

// repair takes what the instructor has at hand: the pack's id, the two digits, or the code as printed.
func (r *resolver) repair(place, name string) int {
	var known []string
	for i, repair := range r.m.lab.Repairs {
		known = append(known, repair.ID)
		if repair.ID == name || repair.Code == name || roster.FoldID(name) == repair.Code+repair.Letters {
			return i
		}
	}
	hint := spelling.Suggest(name, known)
	if i := r.byCode(name); i >= 0 {
		hint = fmt.Sprintf("did you mean %q (%s)?", r.m.lab.Repairs[i].Code+r.m.lab.Repairs[i].Letters, known[i])
	}
	r.fail(place, "this lab has no repair %q; %s", name, hint)
	return -1
}

// byCode finds the repair whose two digits a wrong code begins with, -1 if none.
func (r *resolver) byCode(name string) int {
	return slices.IndexFunc(r.m.lab.Repairs, func(p scenarios.Repair) bool { return strings.HasPrefix(roster.FoldID(name), p.Code) })
}

// students lists everybody who can be named, in the order of the sheets.
func (r *resolver) students() []string {
	ids := slices.Collect(maps.Keys(r.sheets))
	slices.SortFunc(ids, func(a, b string) int { return cmp.Or(cmp.Compare(r.sheets[a], r.sheets[b]), cmp.Compare(a, b)) })
	return ids
}

// test finds a test by its id.
func (r *resolver) test(place, id string) int {
	var known []string
	for i, t := range r.m.lab.Tests {
		if t.ID == id {
			return i
		}
		known = append(known, t.ID)
	}
	hint := spelling.Ask(id, known)
	if hint == "" {
		hint = fmt.Sprintf("; ids of tests look like %q", known[0])
	}
	r.fail(place, "this lab has no test %q%s", id, hint)
	return -1
}

// line finds the test that stands in a line of a sheet.
func (r *resolver) line(place string, sheet, number int) int {
	s := r.m.lab.Sheets[sheet]
	below, above := 0, 0 // its nearest lines
	for i, l := range s.Lines {
		switch {
		case l.Number == number:
			return i
		case l.Number < number:
			below = max(below, l.Number)
		case above == 0 || l.Number < above:
			above = l.Number
		}
	}
	var near []string
	for _, n := range []int{below, above} {
		if n > 0 {
			near = append(near, fmt.Sprintf("%03d", n))
		}
	}
	r.fail(place, "sheet %s has no line %03d; the nearest is %s", s.Code, number, strings.Join(near, " or "))
	return -1
}

// resolve checks every name in a. The error tells all that do not exist, each with its place.
func (a Adjust) resolve(m *matcher, entries []handed) (*rulings, error) {
	r := &resolver{m: m, sheets: map[string]int{}}
	for id, own := range m.byID {
		r.sheets[id] = own[0]
	}
	for _, h := range entries {
		r.sheets[h.student] = h.sheet
	}
	g := &rulings{lab: m.lab, excuse: map[string]Excuse{}, mark: map[string]Mark{}, confirm: map[string]Confirm{}, correct: map[stepOf]correction{}, misread: map[stepOf]bool{}}
	for _, v := range a.Accept {
		g.accept = append(g.accept, r.accept(v))
	}
	for _, v := range a.Drop {
		g.drop = append(g.drop, r.drop(v))
	}
	for _, v := range a.Excuse {
		unique(r, g.excuse, r.student(v.Place, v.Student), v.Place, "excuse", v)
	}
	for _, v := range a.Mark {
		unique(r, g.mark, r.student(v.Place, v.Student), v.Place, "mark", v)
	}
	for _, v := range a.Confirm {
		unique(r, g.confirm, r.student(v.Place, v.Student), v.Place, "confirm", v)
	}
	for _, v := range a.Correct {
		step, err := submission.ParseStep(v.To)
		if err != nil {
			r.fail(v.Place, "to: %v", err)
		}
		at := stepOf{r.student(v.Place, v.Student), v.Step}
		if err := stepExists(entries, at); err != nil {
			r.fail(v.Place, "%v", err)
		}
		unique(r, g.correct, at, v.Place, "correct", correction{v.Place, step, v.Reason})
	}
	for _, v := range a.Misread {
		at := stepOf{r.student(v.Place, v.Student), v.Step}
		if err := stepExists(entries, at); err != nil {
			r.fail(v.Place, "%v", err)
		}
		unique(r, g.misread, at, v.Place, "misread", true)
	}
	return g, errors.Join(r.err...)
}

// unique refuses a second entry about the same thing.
func unique[K comparable, V any](r *resolver, all map[K]V, key K, place, kind string, v V) {
	var none K // of a student who does not exist
	if _, twice := all[key]; twice && key != none {
		r.fail(place, "a second [[%s]] about the same", kind)
		return
	}
	all[key] = v
}

// stepExists makes sure that a correction hits a step, since one that hits none would silently change nothing.
func stepExists(entries []handed, at stepOf) error {
	for _, h := range entries {
		if h.student == at.student {
			if n := len(h.row.Steps); at.step > n {
				return fmt.Errorf("student %q wrote %s; there is no step %d to correct", at.student, count(n, "step", "steps"), at.step)
			}
			return nil
		}
	}
	if at.student == "" {
		return nil // said already
	}
	return fmt.Errorf("student %q handed in nothing; there is no step to correct", at.student)
}

func (r *resolver) accept(v Accept) acceptRuling {
	a := acceptRuling{repair: r.repair(v.Place, v.Repair), insteadOf: -1, sheet: r.sheet(v.Place, v.Sheet), reason: v.Reason, place: v.Place}
	if v.InsteadOf != "" {
		a.insteadOf = r.repair(v.Place, v.InsteadOf)
	}
	if v.Student != "" {
		a.student = r.student(v.Place, v.Student)
	}
	return a
}

func (r *resolver) drop(v Drop) dropRuling {
	d := dropRuling{test: -1, sheet: r.sheet(v.Place, v.Sheet)}
	if v.Student != "" {
		d.student = r.student(v.Place, v.Student)
	}
	if v.Test != "" {
		d.test = r.test(v.Place, v.Test)
		return d
	}
	sheet, ok := d.sheet, d.sheet >= 0
	if d.student != "" {
		sheet, ok = r.sheets[d.student]
	}
	if ok {
		d.test = r.line(v.Place, sheet, v.Line)
	}
	return d
}

// accepted returns what says that a repair counts as right on a sheet, nil if nothing does.
func (g *rulings) accepted(repair, sheet int, student string) *acceptRuling {
	right := g.lab.Faults[g.fault(sheet)].Repair
	for i := range g.accept {
		a := &g.accept[i]
		if a.repair == repair && (a.insteadOf < 0 || a.insteadOf == right) && (a.sheet < 0 || a.sheet == sheet) &&
			(a.student == "" || a.student == student) {
			return a
		}
	}
	return nil
}

// fault is what a sheet hides.
func (g *rulings) fault(sheet int) int { return g.lab.Hypotheses[g.lab.Sheets[sheet].Truth].Fault }

// broad tells of every accepted repair that counts whatever the fault is, and what came of it: a forgotten line of the entry would raise marks
// that nobody thought of.
func (g *rulings) broad(m *matcher) {
	for _, a := range g.accept {
		if a.student != "" || a.sheet >= 0 || a.insteadOf >= 0 {
			continue
		}
		what := "it raised no mark"
		if len(a.raised) > 0 {
			what = fmt.Sprintf("it raised %s, on sheets with %s", count(len(a.raised), "mark", "marks"), g.faultCounts(a.raised))
		}
		m.problem(a.place, "nothing, if that was meant; otherwise add student, sheet or instead_of", "[[accept]] of '%s' is for every fault of the lab; %s",
			g.lab.Repairs[a.repair].Label, what)
	}
}

// faultCounts names faults with the number of their sheets, in the order of the lab: "'Lamp filament open' (3), 'Corroded lamp ground' (1)".
func (g *rulings) faultCounts(faults []int) string {
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

// dropped lists the tests that do not count on a sheet, ascending.
func (g *rulings) dropped(sheet int, student string) []int {
	var tests []int
	for _, d := range g.drop {
		if (d.sheet < 0 || d.sheet == sheet) && (d.student == "" || d.student == student) {
			tests = append(tests, d.test)
		}
	}
	slices.Sort(tests)
	return slices.Compact(tests)
}
