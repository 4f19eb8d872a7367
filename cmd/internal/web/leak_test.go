package web

import (
	"fmt"
	"math/rand/v2"
	"net/http"
	"net/url"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"nospark/grading/attempt"
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// forbidden are the types that what answers a student has no room for: each tells what is hidden, or of another sheet.
func forbidden() map[reflect.Type]bool {
	all := map[reflect.Type]bool{}
	for _, v := range []any{lab.Lab{}, lab.Sheet{}, lab.Line{}, lab.Hypothesis{}, lab.Fault{}, lab.Case{}, lab.Known{},
		lab.Check{},
		lab.Test{}, lab.Band{}, lab.Trace{}, lab.World{}, lab.Detail{}, isolation.Problem{}, isolation.Set{}} {
		all[reflect.TypeOf(v)] = true
	}
	return all
}

// reach lists all types that can be reached from one through fields, elements and parameters.
func reach(t reflect.Type, seen map[reflect.Type]bool) {
	if seen[t] {
		return
	}
	seen[t] = true
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice, reflect.Array, reflect.Chan:
		reach(t.Elem(), seen)
	case reflect.Map:
		reach(t.Key(), seen)
		reach(t.Elem(), seen)
	case reflect.Func:
		for i := range t.NumIn() {
			reach(t.In(i), seen)
		}
		for i := range t.NumOut() {
			reach(t.Out(i), seen)
		}
	case reflect.Struct:
		for i := range t.NumField() {
			reach(t.Field(i).Type, seen)
		}
	}
}

// TestStudentsValueHasNoRoom: no type that is reached from a seat, or from a page of a student, could hold a fault, a
// row of the matrix, a band, a key or another sheet; and no interface, in which anything could hide, but those of
// content, which are texts and pictures.
func TestStudentsValueHasNoRoom(t *testing.T) {
	never := forbidden()
	for _, value := range []any{seat{}, sheetPage{}, debriefPage{}, problemPage{}, sheetJSON{}, refusalJSON{},
		pages{class: nil}} {
		seen := map[reflect.Type]bool{}
		if v, is := value.(pages); is {
			reach(reflect.TypeOf(v.class), seen) // the templates of package html hold interfaces of their own
			reach(reflect.TypeOf(v.booklet), seen)
		} else {
			reach(reflect.TypeOf(value), seen)
		}
		seats := 0
		for r := range seen {
			switch {
			case never[r]:
				t.Errorf("%T has room for a %v", value, r)
			case r.Kind() == reflect.Interface && !strings.HasSuffix(r.PkgPath(), "printouts/content"):
				t.Errorf("%T has room for any %v", value, r)
			case strings.Contains(r.PkgPath(), "scenarios/term"), r.Kind() == reflect.Array && r.Len() == 32:
				t.Errorf("%T has room for a key: %v", value, r)
			case r == reflect.TypeFor[[]seat](), r == reflect.TypeFor[[]*seat](),
				r == reflect.TypeFor[map[string]*seat]():
				seats++
			}
		}
		if seats > 0 {
			t.Errorf("%T leads to other seats", value)
		}
	}
	// The check itself finds what it looks for.
	seen := map[reflect.Type]bool{}
	reach(reflect.TypeFor[Config](), seen)
	if !seen[reflect.TypeFor[lab.Hypothesis]()] {
		t.Error("the matrix is not found where it is")
	}
}

// TestPairedPhoneHasNoRoom: what an instructor's paired phone reaches has no room for what is hidden, nor for a
// sheet's work, its readings, or the words of strips; and no interface in which any of it could hide.
func TestPairedPhoneHasNoRoom(t *testing.T) {
	never := forbidden()
	for _, r := range []reflect.Type{reflect.TypeFor[seat](), reflect.TypeFor[sheet](), reflect.TypeFor[Reading](),
		reflect.TypeFor[Bench](), reflect.TypeFor[doors](), reflect.TypeFor[attempt.Attempt](),
		reflect.TypeFor[attempt.Room](), reflect.TypeFor[attempt.Event]()} {
		never[r] = true
	}
	seen := map[reflect.Type]bool{}
	reach(reflect.TypeFor[handPage](), seen)
	looked := 0
	for _, f := range reflect.VisibleFields(reflect.TypeFor[Hand]()) {
		if f.Type != reflect.TypeFor[*Shell]() { // templates and style sheets, as the program has them
			reach(f.Type, seen)
			looked++
		}
	}
	for r := range seen {
		if never[r] || r.Kind() == reflect.Interface {
			t.Errorf("a paired phone has room for a %v", r)
		}
	}
	if looked < 6 || !seen[reflect.TypeFor[Guest]()] {
		t.Errorf("%d fields were looked at", looked)
	}
}

// twins makes two labs whose sheets begin alike and hide different rows of the same case: nothing but the rows differ.
func twins(t *testing.T) (a, b *lab.Lab) {
	t.Helper()
	a, err := buildLab("lamp", "", 6)
	if err != nil {
		t.Fatal(err)
	}
	copied := *a
	b = &copied
	b.Sheets = slices.Clone(a.Sheets)
	for i := range b.Sheets {
		s := &b.Sheets[i]
		world, err := a.World(s.Complaint, nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		var known []lab.Known
		if s.Case < len(a.Cases) {
			known = a.Cases[s.Case].Known
		}
		for row := range world.Rows(world.Start(known)).All() {
			if a.Hypotheses[row].Bands != a.Hypotheses[s.Truth].Bands {
				s.Truth = row
			}
		}
		s.Lines = slices.Clone(s.Lines)
		for j := range s.Lines {
			s.Lines[j].Band = a.Hypotheses[s.Truth].Band(j)
			s.Lines[j].Reading = fmt.Sprintf("other reading %d", j)
		}
	}
	return a, b
}

// TestAnswersBeforeACommit: until a commit, and for every refusal, the answers of two benches whose sheets hide
// different rows of the same case are the same bytes.
func TestAnswersBeforeACommit(t *testing.T) {
	l1, l2 := twins(t)
	b1, _ := bench(t, l1)
	b2, _ := bench(t, l2)
	r := rand.New(rand.NewPCG(11, 12))
	asked := map[string]int{}
	for range 3000 {
		q := randomRequest(r, l1, r.IntN(len(l1.Sheets)))
		if q.Path == "/steps" && q.Method == "POST" {
			q.Form.Set("expect", strings.Repeat("x", 41*r.IntN(2))) // too long, or missing: refused
		}
		x, y := b1.Do(q), b2.Do(q)
		if fmt.Sprintf("%+v", x) != fmt.Sprintf("%+v", y) {
			t.Fatalf("%s %s %v:\n%d %s\n%d %s", q.Method, q.Path, q.Form, x.Status, x.Body, y.Status, y.Body)
		}
		asked[fmt.Sprint(q.Method, " ", q.Path, " ", x.Status)]++
	}
	for i := range l1.Sheets {
		if len(b1.seats[l1.Sheets[i].Code].attempt.Steps) > 0 {
			t.Error("something was committed")
		}
	}
	for _, what := range []string{"GET /sheet 200", "POST /steps 400", "POST /conclusion 200", "GET /debrief 403",
		"POST /claim 403"} {
		if asked[what] < 5 {
			t.Errorf("%s was answered %d times: the test hardly looks", what, asked[what])
		}
	}
	// The twins do differ: once something is committed the answers do too.
	b1, _ = bench(t, l1)
	b2, _ = bench(t, l2)
	form := []string{"key", "k", "test", l1.Tests[0].ID, "expect", "x"}
	code := l1.Sheets[0].Code
	if x, y := ask(b1, code, "POST", "/steps", form...), ask(b2, code, "POST", "/steps", form...); x.Status !=
		http.StatusCreated || string(x.Body) == string(y.Body) {
		t.Errorf("committed, both say %d %s", x.Status, x.Body)
	}
}

// randomRequest is what somebody might send who holds a cookie for a sheet, mostly sensible.
func randomRequest(r *rand.Rand, l *lab.Lab, own int) Request {
	pick := func(texts ...string) string { return texts[r.IntN(len(texts))] }
	s := &l.Sheets[own]
	other := &l.Sheets[r.IntN(len(l.Sheets))]
	q := Request{Method: pick("GET", "POST", "POST", "POST", "POST", "PUT", "HEAD"), Sheet: s.Code, JSON: r.IntN(3) > 0,
		Form: url.Values{}, At: 1000,
		Device: r.IntN(3)}
	q.Path = pick("/sheet", "/steps", "/steps", "/steps", "/steps", "/conclusion", "/debrief", "/claim", "/",
		"/booklet", "/leave", "/events",
		"/bench.css", "/sheet/"+other.Code, "/lab.json", "/steps/N/verdict",
		fmt.Sprintf("/steps/%d/verdict", r.IntN(5)), fmt.Sprintf("/steps/%d/verdict",
			1+r.IntN(3)), fmt.Sprintf("/steps/%d", r.IntN(4)))
	line := other.Lines[r.IntN(len(other.Lines))]
	test := l.Tests[r.IntN(len(l.Tests))].ID
	q.Form.Set("key", pick("a", "b", "c", fmt.Sprint(r.IntN(1000)), ""))
	q.Form.Set("test", pick(test, test, test, "", "no.such.test", fmt.Sprint(line.Number),
		fmt.Sprintf("%03d", line.Number), line.Letters, "../"+test))
	q.Form.Set("expect", pick("12 V", "dark", strings.Repeat("é", 40), strings.Repeat("x", 41), "<b>&\"", "",
		"\x00\xff"))
	q.Form.Set("good", pick("yes", "no", "none", "maybe", ""))
	q.Form.Set("rules_out", pick("", "the fuse", strings.Repeat("y", 201)))
	q.Form.Set("repair", pick(l.Repairs[r.IntN(len(l.Repairs))].Code, "", "99ZZ"))
	q.Form.Set("reason", pick("", "because", strings.Repeat("z", 1001)))
	q.Form.Set("sheet", pick(other.Code, s.Code, "", other.Code+" word"))
	q.Form.Set("word", pick("wrong", "word"+other.Code, ""))
	q.Form.Set("id", pick("", other.Student, "4711"))
	q.Form.Set("step", pick("1", "0", "-1"))
	return q
}

// TestNothingLeaks sends random requests with every sheet of a class and looks into each answer: of all readings in the
// lab, each made unmistakable, an answer may hold those that its own sheet has committed, and never a fault's name or a
// row of the matrix. CI sends 10^5 requests, a short run 10^4; NOSPARK_LEAKS=n sends n.
func TestNothingLeaks(t *testing.T) {
	n := 10_000
	if !testing.Short() {
		n = 100_000
	}
	if text := os.Getenv("NOSPARK_LEAKS"); text != "" {
		fmt.Sscan(text, &n)
	}
	built := lampLab(t)
	copied := *built
	l := &copied
	l.Sheets = slices.Clone(built.Sheets)
	for i := range l.Sheets {
		l.Sheets[i].Lines = slices.Clone(l.Sheets[i].Lines)
		for j := range l.Sheets[i].Lines {
			line := &l.Sheets[i].Lines[j]
			line.Reading, line.Beside, line.Letters = fmt.Sprintf("Q%02dx%03dQ", i, j), fmt.Sprintf("B%02dx%03dB", i,
				j), fmt.Sprintf("L%02dx%03dL", i, j)
			line.Number = 100_000 + 1000*i + j
		}
	}
	r := rand.New(rand.NewPCG(5, 6))
	var b *Bench
	readings := 0
	for i := range n {
		if i%4000 == 0 { // a fresh class: else all would have concluded soon
			b, _ = bench(t, l)
		}
		own := r.IntN(len(l.Sheets))
		q := randomRequest(r, l, own)
		if q.Path == "/conclusion" && r.IntN(20) > 0 {
			q.Path = "/sheet"
		}
		if q.Path == "/leave" && r.IntN(4) > 0 {
			q.Sheet = ""
		}
		a := b.Do(q)
		body := string(a.Body) + a.Location
		committed := map[int]bool{}
		if q.Sheet != "" {
			for _, step := range b.seats[q.Sheet].attempt.Steps {
				committed[slices.IndexFunc(l.Tests, func(t lab.Test) bool { return t.ID == step.Test })] = true
			}
		}
		for _, mark := range []string{"Q", "B", "L"} {
			for at := strings.Index(body, mark); at >= 0; {
				var sheet, line int
				if k, _ := fmt.Sscanf(body[at+1:min(len(body), at+7)], "%02dx%03d", &sheet, &line); k == 2 &&
					at+8 <= len(body) && body[at+7:at+8] == mark {
					readings++
					if sheet != own || !committed[line] || q.Sheet == "" {
						t.Fatalf("request %d, %s %s %v of sheet %d: answer holds line %d of sheet %d", i, q.Method,
							q.Path, q.Form, own, line, sheet)
					}
				}
				next := strings.Index(body[at+1:], mark)
				if next < 0 {
					break
				}
				at += 1 + next
			}
		}
		for _, f := range l.Faults {
			if strings.Contains(body, f.ID) || f.Note != "" && strings.Contains(body, f.Note) {
				t.Fatalf("%s %s tells of fault %s: %s", q.Method, q.Path, f.ID, body)
			}
		}
		if a.Status == http.StatusInternalServerError || a.Status == 0 {
			t.Fatalf("%s %s: status %d", q.Method, q.Path, a.Status)
		}
	}
	if readings < n/20 {
		t.Errorf("only %d readings in %d answers: the test hardly looks", readings, n)
	}
	t.Logf("%d requests, %d readings, all of committed lines of the own sheet", n, readings)
}
