package build

import (
	"context"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"nospark/scenarios/chances"
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
	"nospark/scenarios/testrun"
)

// TestOthersTellNothing deals a class under many keys and guesses the repair of one sheet: from its own case, and from
// that and what all other sheets hide. By exact enumeration the first guess is right with the top share of the case;
// knowing all others is worth no more than chance makes of so many deals.
func TestOthersTellNothing(t *testing.T) {
	deals := testrun.Times(t, 10_000, 1_000)
	if text := os.Getenv("NOSPARK_DEALS"); text != "" { // 100000 takes a minute
		var err error
		if deals, err = strconv.Atoi(text); err != nil || deals < 1 {
			t.Fatalf("NOSPARK_DEALS = %q, want a number of deals", text)
		}
	}
	l, _ := seated(t)
	sets, _, err := rowsOf(l)
	if err != nil {
		t.Fatal(err)
	}
	hide := make([]bool, len(l.Faults))
	for i := range hide {
		hide[i] = true
	}
	list, seats := grid(12)
	near := neighbors(list, seats)
	const own = 5
	rows := rowsToHide(t, l, hide)
	repair := func(row int) int { return l.Faults[l.Hypotheses[row].Fault].Repair }
	expected, hits, other := 0.0, 0, 0
	for k := range deals {
		d := dealer{lab: l, key: term.Key{byte(k), byte(k >> 8), byte(k >> 16), 1}, sets: sets, hide: hide, rows: rows}
		jobs := make([]job, len(list))
		persons := make([]int, len(list))
		for i := range jobs {
			jobs[i].who, persons[i] = list[i], i
		}
		d.deal(jobs, persons, make([][]int, len(list)), near)
		share := shares(sets[jobs[own].begin], repair, func(h int) int64 { return l.Hypotheses[h].Weight })
		best := top(share, nil)
		expected += share[best]
		if repair(jobs[own].row) == best {
			hits++
		}
		// Whoever has seen all other sheets and thinks that faults are dealt evenly avoids what has come already.
		var met []int
		for i := range jobs {
			if i != own {
				met = append(met, repair(jobs[i].row))
			}
		}
		if repair(jobs[own].row) == top(share, met) {
			other++
		}
	}
	n := float64(deals)
	mean := expected / n
	deviation := math.Sqrt(mean * (1 - mean) / n)
	t.Logf("first guess right in %.4f of deals, expected %.4f; knowing all others %.4f", float64(hits)/n, mean,
		float64(other)/n)
	if math.Abs(float64(hits)/n-mean) > 5*deviation {
		t.Errorf("the first guess is right in %.4f of deals, by enumeration %.4f", float64(hits)/n, mean)
	}
	if float64(other)/n > mean+0.02 {
		t.Errorf("knowing all others the first guess is right in %.4f of deals, without %.4f", float64(other)/n, mean)
	}
	if mean > 0.4 {
		t.Errorf("a case leaves too little open: the first guess is right in %.3f of deals", mean)
	}
}

// shares gives the share of each repair of a set of rows.
func shares(set isolation.Set, repair func(int) int, weight func(int) int64) map[int]float64 {
	share, total := map[int]float64{}, 0.0
	for h := range set.All() {
		share[repair(h)] += float64(weight(h))
		total += float64(weight(h))
	}
	for r := range share {
		share[r] /= total
	}
	return share
}

// top is the repair with the greatest share, if possible none of some.
func top(share map[int]float64, but []int) int {
	best := -1
	for r, p := range share {
		if !slices.Contains(but, r) && (best < 0 || p > share[best] || p == share[best] && r < best) {
			best = r
		}
	}
	if best < 0 {
		return top(share, nil)
	}
	return best
}

// TestRowsFollowTheirWeights: of many deals from one case each row comes as often as its weight says. Pearson's chi
// squared with k degrees of freedom has mean k and variance 2k (any textbook of statistics).
func TestRowsFollowTheirWeights(t *testing.T) {
	l, _ := build(t, input(t, twoLamps(t), "", 2))
	sets, _, err := rowsOf(l)
	if err != nil {
		t.Fatal(err)
	}
	hide := slices.Repeat([]bool{true}, len(l.Faults))
	rows := rowsToHide(t, l, hide)
	const deals = 20_000
	count, total := map[int]float64{}, 0.0
	for k := range deals {
		d := dealer{lab: l, key: term.Key{byte(k), byte(k >> 8), 2}, sets: sets, hide: hide, rows: rows}
		count[d.row(sheetStreams(d.key, l.Name, person{id: "1"}, 0)("row"), 0)]++
	}
	for h := range sets[0].All() {
		total += float64(l.Hypotheses[h].Weight)
	}
	chi, degrees := 0.0, float64(sets[0].Len()-1)
	for h := range sets[0].All() {
		want := deals * float64(l.Hypotheses[h].Weight) / total
		chi += (count[h] - want) * (count[h] - want) / want
	}
	if off := (chi - degrees) / math.Sqrt(2*degrees); off > 5 {
		t.Errorf("chi squared %.1f with %.0f degrees of freedom", chi, degrees)
	}
}

// seatedOnce is a lab of a large complaint that several tests look at: 25 students in rows of five.
var seatedOnce struct {
	sync.Once
	lab    *lab.Lab
	report *Report
}

func seated(t *testing.T) (*lab.Lab, *Report) {
	t.Helper()
	testrun.Slow(t, "works out a large lab")
	seatedOnce.Do(func() {
		in := input(t, builtin(t, "single-coil"), "complaint = \"no-start\"\n", 25)
		in.Seating = term.Seating{}
		for i, s := range in.Students {
			in.Seating[s.ID] = term.Seat{Row: i / 5, Column: i % 5}
		}
		seatedOnce.lab, seatedOnce.report = build(t, in)
	})
	if seatedOnce.lab == nil {
		t.Fatal("the lab could not be built")
	}
	return seatedOnce.lab, seatedOnce.report
}

// TestNeighborsBeginDifferently: as long as there are enough cases no two neighbors have the same.
func TestNeighborsBeginDifferently(t *testing.T) {
	l, r := seated(t)
	if len(l.Cases) < 20 || r.Same != 0 {
		t.Errorf("%d cases, %d pairs of neighbors begin alike", len(l.Cases), r.Same)
	}
}

// TestHistoryChoosesCases: somebody who has had a repair gets cases in which it is less likely, on average.
func TestHistoryChoosesCases(t *testing.T) {
	l, _ := seated(t)
	sets, _, err := rowsOf(l)
	if err != nil {
		t.Fatal(err)
	}
	hide := slices.Repeat([]bool{true}, len(l.Faults))
	rows := rowsToHide(t, l, hide)
	first := l.Repairs[l.Faults[l.Hypotheses[0].Fault].Repair].ID
	// In expectation, over the weights with which a case is chosen.
	share := func(met func(repair string) bool) float64 {
		d := dealer{lab: l, sets: sets, hide: hide, rows: rows}
		sum, weights := 0.0, 0.0
		for _, c := range d.offering() {
			var seen, all float64
			for h := range sets[c].All() {
				w := float64(l.Hypotheses[h].Weight)
				all += w
				if l.Repairs[l.Faults[l.Hypotheses[h].Fault].Repair].ID == first {
					seen += w
				}
			}
			weight := float64(chances.Weight(rows[c], met, nil, nil))
			sum, weights = sum+weight*seen/all, weights+weight
		}
		return sum / weights
	}
	if before, after := share(func(string) bool { return false }), share(func(r string) bool { return r == first }); after >= before {
		t.Errorf("the repair that was met has a share of %.4f, before of %.4f", after, before)
	}
}

// rowsToHide are the rows of each case that may be hidden, with what best play needs.
func rowsToHide(t *testing.T, l *lab.Lab, hide []bool) [][]chances.Row {
	t.Helper()
	rows, err := chances.Of(l, func(fault int) bool { return hide[fault] }, true)
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// TestAskedKinds: a plan that asks for a kind of test gets cases that give opportunities for it, of several vehicles
// one for each kind; and which row a case hides does not depend on what was asked.
func TestAskedKinds(t *testing.T) {
	text := builtin(t, "single-coil")
	two := "complaints = [\"slow-crank\", \"runs-badly\"]\nvehicles = 2\n"
	asked := two + "competency = [\"source-voltage\", \"timing-inputs\"]\n"
	covered := func(l *lab.Lab) map[string]int {
		given := map[string]map[string]bool{}
		rows, err := chances.Of(l, func(int) bool { return true }, true)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range l.Sheets {
			if given[s.Student] == nil {
				given[s.Student] = map[string]bool{}
			}
			for _, r := range rows[s.Case] {
				if r.Fault == l.Hypotheses[s.Truth].Fault {
					for _, k := range r.Kinds {
						given[s.Student][k] = true
					}
				}
			}
		}
		count := map[string]int{}
		for _, kinds := range given {
			for k := range kinds {
				count[k]++
			}
		}
		return count
	}
	without, _ := build(t, input(t, text, two, 12))
	with, _ := build(t, input(t, text, asked, 12))
	a, b := covered(without), covered(with)
	if b["source-voltage"] < 11 || b["timing-inputs"] < 11 {
		t.Errorf("asked for, of 12 students source-voltage %d, timing-inputs %d", b["source-voltage"],
			b["timing-inputs"])
	}
	if a["source-voltage"] == 12 && a["timing-inputs"] == 12 {
		t.Error("everybody has both without asking, so the sample shows nothing")
	}
	rows := map[string]string{} // by student, vehicle and case
	for _, l := range []*lab.Lab{without, with} {
		for _, s := range l.Sheets {
			at := fmt.Sprint(s.Student, s.Vehicle, l.Cases[s.Case])
			row := l.Faults[l.Hypotheses[s.Truth].Fault].ID
			if before, known := rows[at]; known && before != row {
				t.Errorf("student %s: the same case hides %s without asking and %s with", s.Student, before, row)
			}
			rows[at] = row
		}
	}
}

// TestAskedForNothing: a kind that no test of the pack has is refused by name.
func TestAskedForNothing(t *testing.T) {
	in := input(t, twoLamps(t), "competency = [\"ground-integrty\"]\n", 2)
	_, _, err := Lab(context.Background(), in)
	if err == nil || !strings.Contains(err.Error(), "ground-integrty") {
		t.Errorf("error %v", err)
	}
}
