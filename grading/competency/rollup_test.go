package competency

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/evidence"
	"nospark/grading/statistics"
	"nospark/scenarios"
)

// TestGroups rolls up seven students by hand: five in A, of whom two are competent, and two in B, who are hidden.
func TestGroups(t *testing.T) {
	term := newTerm()
	term.Mastery = scenarios.Mastery{Met: 1, Of: 1, Labs: 1, Signed: true}
	var signed []SignOff
	for _, id := range []string{"1", "2"} {
		signed = append(signed, SignOff{Student: id, Competency: evidence.Proof, Date: "2026-12-01", By: "I"})
	}
	g := gather(t, Options{Term: term, SignOffs: signed},
		rec("week01", "2026-09-01", "A", "1 A: proof+", "2 B: proof+", "3 C: proof+", "4 D: proof-", "5 E: economy+"),
		rec("week01", "2026-09-01", "B", "6 F: proof+", "7 G: proof-")).
		Groups(find(evidence.Table(), evidence.Proof))
	check := func(i int, want string) {
		t.Helper()
		got := fmt.Sprintf("%q %v %d %v %v %.3f", g[i].Section, g[i].All, g[i].Students, g[i].Count, g[i].Hidden,
			g[i].Competent.Share)
		if got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
	// too few, not yet, to be signed, competent; 2 of the 6 who could be judged
	check(0, `"" true 7 [1 2 2 2] false 0.333`)
	check(1, `"A" false 5 [1 1 1 2] false 0.500`)
	check(2, `"B" false 2 [0 0 0 0] true NaN`)
	if len(g) != 3 || math.Abs(g[0].Mean-6./7) > 1e-12 {
		t.Errorf("%d groups, mean %v", len(g), g[0].Mean)
	}
}

// TestLabs counts opportunities by lab, of everybody and of those who are not competent.
func TestLabs(t *testing.T) {
	term := newTerm()
	term.Mastery = scenarios.Mastery{Met: 2, Of: 2, Labs: 2}
	labs := gather(t, Options{Term: term},
		rec("week02", "2026-09-08", "A", "1 A: proof+", "2 B: proof+"), rec("week01", "2026-09-01", "A", "1 A: proof+",
			"2 B: proof-"),
		rec("week02", "2026-09-08", "B", "3 C: proof-", "4 D: blank")).Labs()
	c := find(evidence.Table(), evidence.Proof)
	var got []string
	for _, l := range labs {
		got = append(got, fmt.Sprintf("%s %d/%d %d/%d %.3f", l.Name, l.Met[c], l.Of[c], l.MetOpen[c], l.OfOpen[c],
			l.Trend[c]))
	}
	// Student 1 is competent. Shares .5 and .667: .35 x .5 + .65 x .667 = .608.
	if want := []string{"week01 1/2 0/1 0.500", "week02 2/3 1/2 0.608"}; !slices.Equal(got, want) {
		t.Errorf("got %s, want %s", got, want)
	}
}

// TestStatistics puts ten students into one lab, so that the bound of ten is just reached; by hand, six are right and
// four of these proven.
func TestStatistics(t *testing.T) {
	build := func(n int) Statistics {
		r := rec("week01", "2026-09-01", "A")
		for i := range n {
			e := evidence.Entry{Student: fmt.Sprint(i), Status: grading.Graded, Worked: true, Right: i < 6, Proven: i < 4,
				Asked: 2, Agreed: 2 - i%2, Fault: "lamp-open", Evidence: []evidence.Item{
					{Competency: evidence.Complaint, Met: true}, {Competency: evidence.Economy, Met: i < 5}}}
			r.Students = append(r.Students, e)
		}
		r.Students = append(r.Students, evidence.Entry{Student: "blank", Status: grading.Blank},
			evidence.Entry{Student: "set", Status: grading.Graded})
		return gather(t, Options{}, r).Labs()[0].Statistics
	}
	s := build(10)
	var got []string
	for _, f := range s.Steps {
		got = append(got, fmt.Sprintf("%s %d %.1f", f.Title, f.Met, f.Share))
	}
	want := "the repair fits the complaint 10 1.0; every verdict agrees 5 0.5; little time lost 5 0.5; the right " +
		"repair 6 0.6; proven before concluding 4 0.4"
	if strings.Join(got, "; ") != want || s.N != 10 {
		t.Errorf("N %d, %s", s.N, strings.Join(got, "; "))
	}
	// Item variances 0, .25, .25, .24, .24; totals 5 4 5 4 4 2 ... give variance 1.60: 5/4 (1 - .98/1.60).
	totals := []float64{5, 4, 5, 4, 4, 2, 2, 1, 2, 1}
	sum, square := 0.0, 0.0
	for _, v := range totals {
		sum += v / 10
		square += v * v / 10
	}
	if want := 1.25 * (1 - .98/(square-sum*sum)); math.Abs(s.KR20-want) > 1e-12 {
		t.Errorf("KR-20 %v, want %v", s.KR20, want)
	}
	if !math.IsNaN(s.Steps[0].Fit) {
		t.Errorf("a step that everybody met has fit %v", s.Steps[0].Fit)
	}
	few := build(9)
	if few.N != 9 || !math.IsNaN(few.KR20) || !math.IsNaN(few.Steps[1].Share) || few.Steps[1].Met != 0 {
		t.Errorf("nine are shown: %+v", few)
	}
}

// TestFaults finds one fault in 7 of 10 sheets, and hides another with 9.
func TestFaults(t *testing.T) {
	r := rec("week01", "2026-09-01", "A")
	for i := range 19 {
		e := evidence.Entry{Student: fmt.Sprint(i), Status: grading.Graded, Worked: true, Right: i < 7, Fault: "lamp-open"}
		if i >= 10 {
			e.Fault, e.Status = "switch-open", grading.Provisional
		}
		r.Students = append(r.Students, e)
	}
	r.Students = append(r.Students, evidence.Entry{Student: "blank", Status: grading.Blank, Fault: "lamp-open"})
	f := gather(t, Options{}, r).Faults()
	if len(f) != 2 || f[0].Fault != "lamp-open" || f[0].N != 10 || f[0].Found != statistics.Wilson(7, 10) || f[1].N != 9 ||
		!math.IsNaN(f[1].Found.Share) {
		t.Errorf("%+v", f)
	}
}

// TestMarks: two labs that rank ten students alike have alpha 1; a student who missed one is left out.
func TestMarks(t *testing.T) {
	one, two := rec("week01", "2026-09-01", "A"), rec("week02", "2026-09-08", "A")
	for i := range 11 {
		e := evidence.Entry{Student: fmt.Sprint(i), Status: grading.Graded, Mark: float64(40 + 5*i)}
		one.Students = append(one.Students, e)
		if i == 10 {
			e.Status, e.Mark = grading.Blank, 0
		}
		two.Students = append(two.Students, e)
	}
	if alpha, labs, n := gather(t, Options{}, one, two).Marks(); math.Abs(alpha-1) > 1e-12 || labs != 2 || n != 10 {
		t.Errorf("alpha %v, %d labs, N %d", alpha, labs, n)
	}
	two.Students[3].Status = grading.Excused
	if alpha, _, n := gather(t, Options{}, one, two).Marks(); !math.IsNaN(alpha) || n != 9 {
		t.Errorf("alpha %v of %d", alpha, n)
	}
}

// TestHistory lists what a student has had, and what a build may know.
func TestHistory(t *testing.T) {
	term := gather(t, Options{},
		rec("week01", "2026-09-01", "A", "1 A: proof+ economy-", "2 B: blank"),
		rec("week02", "2026-09-08", "A", "1 A: provisional", "2 B: excused"),
		rec("week03", "2026-09-15", "A", "1 A: proof-"))
	h := term.History("2026-09-15", "week02")
	if len(h) != 1 || !slices.Equal(h["1"], []scenarios.Had{{Pack: "lamp", Fault: "lamp-open",
		Repair: "replace-lamp"}}) {
		t.Errorf("history %v", h)
	}
}
