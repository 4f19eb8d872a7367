package grading

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"nospark/grading/submission"
	"nospark/scenarios/lab"
	"nospark/scenarios/roster"
	"nospark/scenarios/spelling"
)

// rulings are the entries of an Adjust, resolved against the lab and the students that appear in it.
type rulings struct {
	lab     *lab.Lab
	accept  []acceptRuling
	drop    []dropRuling
	waive   []waiveRuling
	excuse  map[work]Excuse
	mark    map[work]SetMark
	confirm map[work]Confirm
	correct map[stepOf]correction
	misread map[stepOf]bool
	late    map[work]Late
}

// acceptRuling is an Accept with names resolved.
type acceptRuling struct {
	repair, insteadOf int // -1: any
	student           string
	sheet             int // or anySheet
	reason, place     string
	raised            []int // faults of the sheets whose marks it raised, one entry a sheet
}

// dropRuling is a Drop with names resolved: a line has become the test that it stands for on its sheet.
type dropRuling struct {
	test    int
	student string
	sheet   int // or anySheet
}

// waiveRuling is a Waive with names resolved to the checks that need not be made.
type waiveRuling struct {
	checks  []int
	student string
	sheet   int
	reason  string
}

// stepOf is a step of a student's work, counted from 1.
type stepOf struct {
	work
	step int
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
	sheets map[string][]int // students and the sheets that count for each
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

// sheet finds a code; "" is any sheet.
func (r *resolver) sheet(place, code string) int {
	if code == "" {
		return anySheet
	}
	i, ok := r.m.codes.Find(code)
	if !ok {
		var codes []string
		for _, s := range r.m.lab.Sheets {
			codes = append(codes, s.Code)
		}
		r.fail(place, "this lab has no sheet %q%s", code, spelling.Ask(code, codes))
		return anySheet
	}
	return i
}

// work finds what an entry about a student means: the work on the sheet that it names, else on all sheets of that
// student.
func (r *resolver) work(place, student, code string) work {
	w := work{r.student(place, student), r.sheet(place, code)}
	if w.student != "" && w.sheet != anySheet && !slices.Contains(r.sheets[w.student], w.sheet) {
		r.fail(place, "sheet %s is not one of student %s, who has %s", r.m.lab.Sheets[w.sheet].Code, w.student,
			listed(r.codes(w.student)))
	}
	return w
}

// only is the work on the one sheet that an entry can mean. Of several the entry must name one.
func (r *resolver) only(place, student, code string) work {
	w := r.work(place, student, code)
	own := r.sheets[w.student]
	switch {
	case w.student == "" || w.sheet != anySheet:
	case len(own) == 1:
		w.sheet = own[0]
	default:
		r.fail(place, "student %s has several sheets; name the sheet: %s", w.student, listed(r.codes(w.student)))
	}
	return w
}

// codes are those of a student's sheets.
func (r *resolver) codes(student string) []string {
	var codes []string
	for _, i := range r.sheets[student] {
		codes = append(codes, r.m.lab.Sheets[i].Code)
	}
	return codes
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
	return slices.IndexFunc(r.m.lab.Repairs, func(p lab.Repair) bool {
		return strings.HasPrefix(roster.FoldID(name), p.Code)
	})
}

// students lists everybody who can be named, in the order of the sheets.
func (r *resolver) students() []string {
	ids := slices.Collect(maps.Keys(r.sheets))
	slices.SortFunc(ids, func(a, b string) int {
		return cmp.Or(slices.Compare(r.sheets[a], r.sheets[b]), cmp.Compare(a, b))
	})
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
func (a Adjust) resolve(m *matcher, everybody []handed) (*rulings, error) {
	r := &resolver{m: m, sheets: map[string][]int{}}
	for _, h := range everybody {
		r.sheets[h.student] = append(r.sheets[h.student], h.sheet)
	}
	g := &rulings{lab: m.lab, excuse: map[work]Excuse{}, mark: map[work]SetMark{}, confirm: map[work]Confirm{},
		correct: map[stepOf]correction{}, misread: map[stepOf]bool{},
		late: map[work]Late{}}
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
		unique(r, g.excuse, r.work(v.Place, v.Student, v.Sheet), v.Place, "excuse", v)
	}
	for _, v := range a.Mark {
		unique(r, g.mark, r.work(v.Place, v.Student, v.Sheet), v.Place, "mark", v)
	}
	for _, v := range a.Confirm {
		unique(r, g.confirm, r.work(v.Place, v.Student, v.Sheet), v.Place, "confirm", v)
	}
	for _, v := range a.Correct {
		step, err := submission.ParseStep(v.To)
		if err != nil {
			r.fail(v.Place, "to: %v", err)
		}
		unique(r, g.correct, r.step(v.Place, v.Student, v.Sheet, v.Step, everybody), v.Place, "correct",
			correction{v.Place, step, v.Reason})
	}
	for _, v := range a.Misread {
		unique(r, g.misread, r.step(v.Place, v.Student, v.Sheet, v.Step, everybody), v.Place, "misread", true)
	}
	for _, v := range a.Late {
		unique(r, g.late, r.work(v.Place, v.Student, ""), v.Place, "late", v)
	}
	return g, errors.Join(r.err...)
}

// unique refuses a second entry about the same thing. What names nobody has been refused already.
func unique[K comparable, V any](r *resolver, all map[K]V, key K, place, kind string, v V) {
	if _, twice := all[key]; twice && len(r.err) == 0 {
		r.fail(place, "a second [[%s]] about the same", kind)
		return
	}
	all[key] = v
}

// step finds the step that an entry means.
func (r *resolver) step(place, student, sheet string, number int, everybody []handed) stepOf {
	before := len(r.err)
	at := stepOf{r.only(place, student, sheet), number}
	if err := stepExists(everybody, at); err != nil && len(r.err) == before {
		r.fail(place, "%v", err)
	}
	return at
}

// stepExists makes sure that a correction hits a step, since one that hits none would silently change nothing.
func stepExists(everybody []handed, at stepOf) error {
	for _, h := range everybody {
		if h.work == at.work && !h.row.Empty() {
			if n := len(h.row.Steps); at.step > n {
				return fmt.Errorf("student %q wrote %s; there is no step %d to correct", at.student,
					count(n, "step", "steps"), at.step)
			}
			return nil
		}
	}
	return fmt.Errorf("student %q handed in nothing; there is no step to correct", at.student)
}

func (r *resolver) accept(v Accept) acceptRuling {
	a := acceptRuling{repair: r.repair(v.Place, v.Repair), insteadOf: -1, sheet: r.sheet(v.Place, v.Sheet),
		reason: v.Reason, place: v.Place}
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
	sheet := d.sheet
	if d.student != "" {
		sheet = r.only(v.Place, d.student, "").sheet
	}
	if sheet != anySheet {
		d.test = r.line(v.Place, sheet, v.Line)
	}
	return d
}

// waive finds the checks that fit all that an entry names.
func (r *resolver) waive(v Waive) waiveRuling {
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
		if repairOf(r.m.lab, h) == repair && slices.Contains(row.Checks, check) {
			return true
		}
	}
	return false
}

// point finds a point by its number on the diagram or its id.
func (r *resolver) point(place, name string) int {
	var known []string
	for i, p := range r.m.lab.Points {
		if p.ID == name || fmt.Sprint(p.Number) == name {
			return i
		}
		known = append(known, p.ID)
	}
	r.fail(place, "this lab has no point %q%s", name, spelling.Ask(name, known))
	return -1
}

// rulingOn finds the entry about a student's work on a sheet: the one that names the sheet before one for all.
func rulingOn[V any](all map[work]V, at work) (V, bool) {
	if v, ok := all[at]; ok {
		return v, true
	}
	v, ok := all[work{at.student, anySheet}]
	return v, ok
}

// accepted returns what says that a repair counts as right on a sheet, nil if nothing does.
func (g *rulings) accepted(repair int, at work) *acceptRuling {
	right := g.lab.Faults[g.fault(at.sheet)].Repair
	for i := range g.accept {
		a := &g.accept[i]
		if a.repair == repair && (a.insteadOf < 0 || a.insteadOf == right) && concerns(a.student, a.sheet, at) {
			return a
		}
	}
	return nil
}

// fault is what a sheet hides.
func (g *rulings) fault(sheet int) int { return g.lab.Hypotheses[g.lab.Sheets[sheet].Truth].Fault }

// broad tells of every accepted repair that counts whatever the fault is, and what came of it: a forgotten line of the
// entry would raise marks that nobody thought of.
func (g *rulings) broad(m *matcher) {
	for _, a := range g.accept {
		if a.student != "" || a.sheet >= 0 || a.insteadOf >= 0 {
			continue
		}
		what := "it raised no mark"
		if len(a.raised) > 0 {
			what = fmt.Sprintf("it raised %s, on sheets with %s", count(len(a.raised), "mark", "marks"),
				g.faultCounts(a.raised))
		}
		m.problem(a.place, "nothing, if that was meant; otherwise add student, sheet or instead_of",
			"[[accept]] of '%s' is for every fault of the lab; %s",
			g.lab.Repairs[a.repair].Label, what)
	}
}

// faultCounts names faults with the number of their sheets, in the order of the lab: "'Lamp filament open' (3),
// 'Corroded lamp ground' (1)".
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
func (g *rulings) dropped(at work) []int {
	var tests []int
	for _, d := range g.drop {
		if concerns(d.student, d.sheet, at) {
			tests = append(tests, d.test)
		}
	}
	slices.Sort(tests)
	return slices.Compact(tests)
}

// waived lists the checks that need not be made on a sheet, ascending, and the reasons.
func (g *rulings) waived(at work) (checks []int, reasons []string) {
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
func concerns(student string, sheet int, at work) bool {
	return (sheet == anySheet || sheet == at.sheet) && (student == "" || student == at.student)
}

// settled tells whether a remark is about a step that the instructor has corrected, or of a student whose mark is
// confirmed. A cell may hold several steps.
func (g *rulings) settled(place string, entries []handed) (corrected, confirmed bool) {
	for _, h := range entries {
		for i, step := range h.row.Steps {
			if step.Place == place {
				_, this := g.correct[stepOf{h.work, i + 1}]
				_, confirmed = rulingOn(g.confirm, h.work)
				corrected = corrected || this
			}
		}
	}
	return corrected, confirmed
}
