package grading_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/scenarios/lab"
)

// cause is a suspect spelled out: a row, or what an owed check of it stands for.
type cause struct {
	row    int
	check  int // -1 for the row itself
	weight float64
}

// oracle computes by exhaustion what grading computes with the solver: no set of bits, no memory, no pruning, no
// integers.
type oracle struct{ l *lab.Lab }

// causes lists everything possible that shows what a sheet's case gives.
func (o oracle) causes(sheet *lab.Sheet) []cause {
	var all []cause
	for i, h := range o.l.Hypotheses {
		if h.Complaint != sheet.Complaint && h.Complaint != -1 {
			continue
		}
		all = append(all, cause{i, -1, float64(h.Weight)})
		for _, c := range h.Checks {
			if !o.idle(h.Checks, c) {
				all = append(all, cause{i, c, math.Max(1, math.Floor(float64(h.Weight)/5))})
			}
		}
	}
	for _, k := range o.l.Cases[sheet.Case].Known {
		all = o.left(all, k.Test, int(k.Band))
	}
	return all
}

// idle tells that a check of several is not owed: no test makes it, or every way to make some other makes it too. Of
// two that are made alike the first is owed.
func (o oracle) idle(checks []int, c int) bool {
	makes := func(c int) string { // which tests make it, in + and -
		text := ""
		for t := range o.l.Tests {
			text += map[bool]string{true: "+", false: "-"}[slices.Contains(o.l.Checks[c].Tests, t)]
		}
		return text
	}
	for _, other := range checks {
		a, b, covers := makes(other), makes(c), strings.Contains(makes(other), "+")
		for t := range a {
			covers = covers && (a[t] == '-' || b[t] == '+')
		}
		if covers && (a != b || other < c) {
			return true
		}
	}
	return !strings.Contains(makes(c), "+")
}

// shows is the band of a test under a cause: -1 where the check that it stands for is made.
func (o oracle) shows(c cause, test int) int {
	if c.check >= 0 && slices.Contains(o.l.Checks[c.check].Tests, test) {
		return -1
	}
	return int(o.l.Hypotheses[c.row].Bands[test] - '0')
}

// means is the repair that a cause calls for, -1 for one that is not on the list.
func (o oracle) means(c cause) int {
	if c.check >= 0 {
		return -1
	}
	return o.l.Faults[o.l.Hypotheses[c.row].Fault].Repair
}

func (o oracle) left(all []cause, test, band int) []cause {
	return slices.DeleteFunc(slices.Clone(all), func(c cause) bool { return o.shows(c, test) != band })
}

// same tells whether no test tells two causes apart.
func (o oracle) same(a, b cause) bool {
	for t := range o.l.Tests {
		if o.shows(a, t) != o.shows(b, t) {
			return false
		}
	}
	return true
}

func weight(all []cause) float64 {
	sum := 0.0
	for _, c := range all {
		sum += c.weight
	}
	return sum
}

// settled tells that whatever can still be told apart calls for the same.
func (o oracle) settled(all []cause) bool {
	for _, a := range all {
		for _, b := range all {
			if o.means(a) != o.means(b) && !o.same(a, b) {
				return false
			}
		}
	}
	return true
}

// first is Q: what a diagnosis takes on average that begins with a test.
func (o oracle) first(all []cause, test int) float64 {
	var bands []int
	for _, c := range all {
		if b := o.shows(c, test); !slices.Contains(bands, b) {
			bands = append(bands, b)
		}
	}
	q := float64(o.l.Tests[test].Minutes)
	if len(bands) == 1 {
		return q + o.value(all)
	}
	for _, b := range bands {
		part := o.left(all, test, b)
		q += weight(part) / weight(all) * o.value(part)
	}
	return q
}

// value is V.
func (o oracle) value(all []cause) float64 {
	if o.settled(all) {
		return 0
	}
	best := math.Inf(1)
	for t := range o.l.Tests {
		if !slices.ContainsFunc(all, func(c cause) bool { return o.shows(c, t) != o.shows(all[0], t) }) {
			continue
		}
		best = math.Min(best, o.first(all, t))
	}
	return best
}

// smallOpenLab is an open lab that can be exhausted.
func smallOpenLab(r *rand.Rand) *lab.Lab {
	for {
		if l := openLab(r); len(l.Tests) <= 5 && len(l.Hypotheses) <= 7 {
			return l
		}
	}
}

// Whatever a student does on a small random lab with checks and cases: what each step was worth, e, c and V are those
// of the exhaustive computation, and the mark follows from them by a second formula.
func TestOpenLabsByExhaustion(t *testing.T) {
	labs := 60
	if testing.Short() {
		labs = 20
	}
	for seed := range labs {
		r := rand.New(rand.NewPCG(uint64(seed), 11))
		l := smallOpenLab(r)
		o := oracle{l}
		for i := range l.Sheets {
			row := randomPlay(l, i, r)
			if row.Empty() {
				continue
			}
			s := of(t, grade(t, l, adjust.Decisions{}, row), row.Student)
			o.check(t, s)
		}
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
}

// check compares one result.
func (o oracle) check(t *testing.T, s grading.StudentResult) {
	t.Helper()
	sheet := &o.l.Sheets[s.Index]
	start := o.causes(sheet)
	truth := cause{row: sheet.Truth, check: -1}
	var right []int
	for _, c := range start {
		if o.same(c, truth) {
			right = append(right, o.means(c))
		}
	}
	isRight := func(c cause) bool { return slices.Contains(right, o.means(c)) }
	now, lost := start, 0.0
	for i, step := range s.Steps {
		v := o.value(now)
		q := o.first(now, step.Test) - v
		if math.Abs(step.Value-v) > 1e-9 || math.Abs(step.Lost-q) > 1e-9 {
			t.Errorf("sheet %s, step %d: V %v, lost %v; by exhaustion %v, %v", s.Sheet, i+1, step.Value, step.Lost, v,
				q)
		}
		lost += q
		now = o.left(now, step.Test, int(sheet.Lines[step.Test].Band))
	}
	var others, gone, standing, wrong float64
	for _, c := range start {
		out := !slices.Contains(now, c)
		if !isRight(c) {
			others += c.weight
			if out {
				gone += c.weight
			}
		}
		if isRight(c) && !out {
			standing += c.weight
		}
		if c.check < 0 && !out && o.means(c) == s.Repair {
			wrong += c.weight
		}
	}
	settled := o.settled(now)
	e := gone / others
	if others == 0 {
		e = map[bool]float64{true: 1}[settled]
	}
	c := standing / weight(now)
	if math.Abs(s.Evidence-e) > 1e-12 || math.Abs(s.Share-c) > 1e-12 || settled != (s.LostEarly == 0) {
		t.Errorf("sheet %s: e %v, c %v, early %v; by exhaustion %v, %v, settled %v", s.Sheet, s.Evidence, s.Share,
			s.LostEarly, e, c, settled)
	}
	// The mark, from these numbers, in words of the design: 15, 40, 30 and 15 points.
	lost += o.value(now)
	diagnosis := 0.0
	switch {
	case slices.Contains(right, s.Repair) && settled:
		diagnosis = 40
	case slices.Contains(right, s.Repair):
		diagnosis = 40 * c
	default:
		lost += float64(o.l.Repairs[s.Repair].Minutes)
		if wrong > 0 {
			diagnosis = math.Min(10*e, 20*math.Min(c, wrong/weight(now)))
		}
	}
	v := math.Max(1, math.Round(o.value(start)))
	lost = math.Round(lost*10) / 10 // a hundredth of a minute, as printed
	want := 15*e + diagnosis + 30*e*v/(v+2*lost)
	if got := s.Mark - s.Parts.Interpretation; math.Abs(got-want) > 1e-6 {
		t.Errorf("sheet %s: %v without interpretation, by exhaustion %v", s.Sheet, got, want)
	}
}
