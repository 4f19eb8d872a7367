package cases

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// rubric is the usual one.
var rubric = lab.Rubric{Evidence: 15, Diagnosis: 40, Efficiency: 30, Interpretation: 15}

// threeSuspects are three rows with repairs of 1, 2 and 4 minutes and two tests: A (1 minute) at a point tells the
// first from the others, B (2 minutes) outside the grid the last from the others.
func threeSuspects() *lab.Lab {
	two := []lab.Band{{Name: "x", Normal: true}, {Name: "y"}}
	return &lab.Lab{Format: lab.Format, Points: []lab.Point{{Number: 1}}, Rows: 2, Rubric: rubric,
		Tests: []lab.Test{{ID: "a", Minutes: 10, Bands: two}, {ID: "b", Minutes: 20, Point: -1, Bands: two}},
		Hypotheses: []lab.Hypothesis{{Weight: 1, Bands: "00"}, {Fault: 1, Weight: 1, Bands: "10"},
			{Fault: 2, Weight: 1, Bands: "11"}},
		Faults: []lab.Fault{{Repair: 0}, {Repair: 1}, {Repair: 2}}, Complaints: []lab.Complaint{{ID: "c"}},
		Repairs: []lab.Repair{{Minutes: 10}, {Minutes: 20}, {Minutes: 40}}}
}

func all(int) bool { return true }

// Best play of the three suspects takes A first, 7/3 minutes on average, and needs one step for the first and two for
// the others. A walk begins with A or with B, which loses 1/3 minute.
//
// With two lines in the record table, of 15 + 40 + 30 + 15 points: after A all lose only an eighth of the verdicts,
// 15/8. After B all have 30 x 7/3 / (7/3 + 2 x 1/3) = 70/3 for efficiency; the second and the last lose an eighth of
// the verdicts, the first has made two steps where one was needed, and of two verdicts none may be wrong: 15 x 49/64.
func TestWalkByHand(t *testing.T) {
	l := threeSuspects()
	f, err := Find(l, 0, Request{Hide: all})
	if err != nil {
		t.Fatal(err)
	}
	if want := 70.0 / 3; math.Abs(f.Reference-want) > 1e-9 || len(f.Cases) != 1 {
		t.Fatalf("V %v, %d cases", f.Reference, len(f.Cases))
	}
	const proven = 100 - 15.0/8
	late := 55 + 70.0/3
	a := []float64{proven, proven, proven}
	b := []float64{late + 15*49.0/64, late + 15*7.0/8, late + 15*7.0/8}
	for h, got := range f.Cases[0].Walk.Marks {
		// About half of the walks begin with A: of 40 draws the share lies within four standard errors, 4 x 0.5 /
		// sqrt(40) < 0.32.
		if math.Abs(got-(a[h]+b[h])/2) > 0.32*math.Abs(a[h]-b[h])+1e-9 {
			t.Errorf("walk to %d earns %v, want about the mean of %v and %v", h, got, a[h], b[h])
		}
	}
}

// A row table of one line is full before the proof; what is written then earns its share of what is left.
func TestWalkThatEndsEarly(t *testing.T) {
	l := threeSuspects()
	l.Rows = 1
	f, err := Find(l, 0, Request{Hide: all})
	if err != nil {
		t.Fatal(err)
	}
	// After A, which does not prove the second: e = 1/2, c = 1/2 for both repairs that are left. Right: 40/2; wrong: 40
	// x min(e/4, c/2) = 5. Best play would still take 2 minutes, a wrong repair its own: of efficiency 30/2 x 7 / (7 +
	// 12) and 30/2 x 7 / (7 + 12 + 24). Half of the two steps are done, and seven verdicts of eight are right.
	after := 7.5 + (20+5)/2.0 + (105.0/19+105.0/43)/2 + 15*7.0/8/2
	// After B the second: e = 1/2, c = 1/2; best play would still take 1 minute after a test that lost 1/3, the first
	// repair 1 minute more.
	afterB := 7.5 + (20+5)/2.0 + (105.0/15+105.0/21)/2 + 15*7.0/8/2
	if got := f.Cases[0].Walk.Marks[1]; math.Abs(got-(after+afterB)/2) > 0.32*math.Abs(after-afterB)+1e-9 {
		t.Errorf("the second earns %v, want about the mean of %v and %v", got, after, afterB)
	}
}

// randomLab is a small lab of a few faults with one or two rows each, and checks.
func randomLab(r *rand.Rand) *lab.Lab {
	l := &lab.Lab{Format: lab.Format, Rows: 12, Rubric: rubric, Complaints: []lab.Complaint{{ID: "c"}}}
	bands := []lab.Band{{Name: "low"}, {Name: "normal", Normal: true}, {Name: "high"}}
	for t := range 6 {
		l.Points = append(l.Points, lab.Point{Number: t + 1})
		l.Tests = append(l.Tests, lab.Test{ID: fmt.Sprint("t", t), Minutes: int64(4 + r.IntN(24)), Point: t,
			Bands: bands})
	}
	for f := range 6 {
		l.Repairs = append(l.Repairs, lab.Repair{Minutes: 100})
		l.Faults = append(l.Faults, lab.Fault{Repair: f})
		for range 1 + r.IntN(2) {
			row := ""
			for range l.Tests {
				row += string(rune('0' + r.IntN(3)))
			}
			h := lab.Hypothesis{Fault: f, Weight: int64(5 + r.IntN(20)), Bands: row}
			if r.IntN(2) == 0 {
				h.Checks = []int{len(l.Checks)}
				l.Checks = append(l.Checks, lab.Check{What: "feed", Tests: []int{r.IntN(len(l.Tests))}})
			}
			l.Hypotheses = append(l.Hypotheses, h)
		}
	}
	return l
}

// Every case of a random lab is what the rules of a usable state ask for, worked out here from the matrix alone: its
// set by comparing bands, its V by going through all orders of tests.
func TestCasesByExhaustion(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 8))
	cases := 0
	for range 60 {
		l := randomLab(r)
		f, err := Find(l, 0, Request{Hide: all, Known: 2})
		if err != nil {
			continue
		}
		v0 := exhaustive(f.World, f.World.Suspects, map[isolation.Set]float64{})
		if math.Abs(v0-f.Reference) > 1e-6 {
			t.Fatalf("V %v, by exhaustion %v", f.Reference, v0)
		}
		for i, c := range f.Cases {
			cases++
			set := f.World.Suspects
			for _, k := range c.Known {
				for s := range set.All() {
					if f.World.Problem.Band[k.Test][s] != k.Band {
						set = set.Without(s)
					}
				}
				if l.Tests[k.Test].Minutes > 26 {
					t.Errorf("a known test of %d tenths", l.Tests[k.Test].Minutes)
				}
			}
			if set != c.Set || set != f.World.Start(c.Known) {
				t.Fatalf("case %v begins with %v, want %v", c.Known, c.Set, set)
			}
			v := exhaustive(f.World, set, map[isolation.Set]float64{})
			if math.Abs(v-c.Reference) > 1e-6 {
				t.Errorf("V %v, by exhaustion %v", c.Reference, v)
			}
			if len(c.Known) == 0 {
				continue
			}
			if v < 0.5*v0-1e-9 || v > 1.1*v0+1e-9 {
				t.Errorf("V %v of %v", v, v0)
			}
			repairs, weight, most := map[int]int64{}, int64(0), int64(0)
			for h := range f.World.Rows(set).All() {
				repairs[l.Faults[l.Hypotheses[h].Fault].Repair] += l.Hypotheses[h].Weight
				weight += l.Hypotheses[h].Weight
			}
			for _, w := range repairs {
				most = max(most, w)
			}
			if len(repairs) < 4 || 2*most > weight {
				t.Errorf("%d repairs, the likeliest has %d of %d", len(repairs), most, weight)
			}
			if c.Walk.Spread() > 22 {
				t.Errorf("walkers lie %v points apart", c.Walk.Spread())
			}
			for _, o := range f.Cases[:i] {
				a, b := f.World.Rows(set), f.World.Rows(o.Set)
				if float64(a.Intersect(b).Len()) > 0.9*float64(a.Union(b).Len()) {
					t.Errorf("two cases are nearly the same")
				}
			}
		}
	}
	if cases < 100 {
		t.Errorf("only %d cases looked at", cases)
	}
}

// exhaustive is V by trying every test everywhere, tenths.
func exhaustive(w *lab.World, set isolation.Set, known map[isolation.Set]float64) float64 {
	if v, ok := known[set]; ok {
		return v
	}
	best := math.Inf(1)
	var total int64
	for i := range set.All() {
		total += w.Problem.Weight[i]
	}
	for t, minutes := range w.Problem.Minutes {
		parts := map[uint8]isolation.Set{}
		for i := range set.All() {
			b := w.Problem.Band[t][i]
			parts[b] = parts[b].With(i)
		}
		if len(parts) < 2 {
			continue
		}
		cost := float64(minutes)
		for _, p := range parts {
			var weight int64
			for i := range p.All() {
				weight += w.Problem.Weight[i]
			}
			cost += exhaustive(w, p, known) * float64(weight) / float64(total)
		}
		best = min(best, cost)
	}
	if math.IsInf(best, 1) || settled(w, set) {
		best = 0
	}
	known[set] = best
	return best
}

// settled tells whether all suspects of a set call for the same repair, or read alike everywhere.
func settled(w *lab.World, set isolation.Set) bool {
	labels := map[string]bool{}
	for i := range set.All() { // those that read like i share their labels
		mine := map[int]bool{}
		for j := range set.All() {
			same := true
			for t := range w.Problem.Minutes {
				same = same && w.Problem.Band[t][i] == w.Problem.Band[t][j]
			}
			if same {
				mine[w.Problem.Repair[j]] = true
			}
		}
		labels[fmt.Sprint(mine)] = true
	}
	return len(labels) == 1
}
