package handin

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"nospark/scenarios/lab"
	"nospark/scenarios/roster"
	"nospark/scenarios/spelling"
)

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
		return AnySheet
	}
	i, ok := r.m.codes.Find(code)
	if !ok {
		var codes []string
		for _, s := range r.m.lab.Sheets {
			codes = append(codes, s.Code)
		}
		r.fail(place, "this lab has no sheet %q%s", code, spelling.Ask(code, codes))
		return AnySheet
	}
	return i
}

// work finds what an entry about a student means: the work on the sheet that it names, else on all sheets of that
// student.
func (r *resolver) work(place, student, code string) Work {
	w := Work{r.student(place, student), r.sheet(place, code)}
	if w.Student != "" && w.Sheet != AnySheet && !slices.Contains(r.sheets[w.Student], w.Sheet) {
		r.fail(place, "sheet %s is not one of student %s, who has %s", r.m.lab.Sheets[w.Sheet].Code, w.Student,
			List(r.codes(w.Student)))
	}
	return w
}

// only is the work on the one sheet that an entry can mean. Of several the entry must name one.
func (r *resolver) only(place, student, code string) Work {
	w := r.work(place, student, code)
	own := r.sheets[w.Student]
	switch {
	case w.Student == "" || w.Sheet != AnySheet:
	case len(own) == 1:
		w.Sheet = own[0]
	default:
		r.fail(place, "student %s has several sheets; name the sheet: %s", w.Student, List(r.codes(w.Student)))
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

// step finds the step that an entry means.
func (r *resolver) step(place, student, sheet string, number int, everybody []Entry) stepOf {
	before := len(r.err)
	at := stepOf{r.only(place, student, sheet), number}
	if err := stepExists(everybody, at); err != nil && len(r.err) == before {
		r.fail(place, "%v", err)
	}
	return at
}

// stepExists makes sure that a correction hits a step, since one that hits none would silently change nothing.
func stepExists(everybody []Entry, at stepOf) error {
	for _, h := range everybody {
		if h.Work == at.Work && !h.Row.Empty() {
			if n := len(h.Row.Steps); at.step > n {
				return fmt.Errorf("student %q wrote %s; there is no step %d to correct", at.Student,
					Count(n, "step", "steps"), at.step)
			}
			return nil
		}
	}
	return fmt.Errorf("student %q handed in nothing; there is no step to correct", at.Student)
}

// unique refuses a second entry about the same thing. What names nobody has been refused already.
func unique[K comparable, V any](r *resolver, all map[K]V, key K, place, kind string, v V) {
	if _, twice := all[key]; twice && len(r.err) == 0 {
		r.fail(place, "a second [[%s]] about the same", kind)
		return
	}
	all[key] = v
}

// stepOf is a step of a student's work, counted from 1.
type stepOf struct {
	Work
	step int
}
