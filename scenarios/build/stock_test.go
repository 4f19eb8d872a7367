package build

import (
	"context"
	"encoding/json"
	"math"
	"slices"
	"testing"

	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/term"
)

// stockOf makes the stock of a plan's text for a built-in pack.
func stockOf(t *testing.T, name, complaint string) *Stock {
	t.Helper()
	source, err := pack.Source(name)
	if err != nil {
		t.Fatal(err)
	}
	plan, err := term.ParsePlan("practice.toml",
		"title = \"Practice\"\ndate = 2026-01-01\npack = \""+name+"\"\ncomplaint = \""+complaint+"\"\n")
	if err != nil {
		t.Fatal(err)
	}
	in := Input{Term: term.Term{ID: "practice", Paper: "letter", Rubric: term.DefaultRubric()}, Plan: plan,
		PackFile: name, Pack: string(source)}
	s, err := NewStock(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestStockKeepsEverything: a stock that went through its file draws the same vehicles as before.
func TestStockKeepsEverything(t *testing.T) {
	s := stockOf(t, "horn", "weak")
	text, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	back := new(Stock)
	if err := json.Unmarshal(text, back); err != nil {
		t.Fatal(err)
	}
	for n := range 20 {
		var drawn [2]string
		for i, stock := range []*Stock{s, back} {
			supply, err := stock.Open(nil)
			if err != nil {
				t.Fatal(err)
			}
			l, err := supply.Draw(term.Key{1, byte(n)}, n, Any)
			if err != nil {
				t.Fatal(err)
			}
			sheet, err := json.Marshal(l.Sheets)
			if err != nil {
				t.Fatal(err)
			}
			drawn[i] = string(sheet)
		}
		if drawn[0] != drawn[1] {
			t.Fatalf("vehicle %d differs", n)
		}
	}
}

// TestStockDrawsByWeight: of 600 vehicles every case has about its share, and within the cases every row: the
// chi-square of the rows stays below mean plus five standard deviations of its distribution, 2k being its variance.
func TestStockDrawsByWeight(t *testing.T) {
	s := stockOf(t, "horn", "silent")
	supply, err := s.Open(nil)
	if err != nil {
		t.Fatal(err)
	}
	const draws = 600
	count := map[[2]int]float64{}
	perCase := map[int]float64{}
	for n := range draws {
		l, err := supply.Draw(term.Key{2}, n, Any)
		if err != nil {
			t.Fatal(err)
		}
		sheet := &l.Sheets[0]
		for i, line := range sheet.Lines {
			if line.Band != l.Hypotheses[sheet.Truth].Band(i) {
				t.Fatalf("vehicle %d: line %d is not in the band of its row", n, i)
			}
		}
		count[[2]int{sheet.Case, sheet.Truth}]++
		perCase[sheet.Case]++
	}
	chi, free := 0.0, 0.0
	for c, set := range supply.sets {
		if perCase[c] < 20 {
			continue
		}
		var weight int64
		for h := range set.All() {
			weight += s.Lab.Hypotheses[h].Weight
		}
		for h := range set.All() {
			want := perCase[c] * float64(s.Lab.Hypotheses[h].Weight) / float64(weight)
			chi += math.Pow(count[[2]int{c, h}]-want, 2) / want
			free++
		}
		free--
	}
	if free < 3 || chi > free+5*math.Sqrt(2*free) {
		t.Errorf("chi-square %.1f with %.0f degrees of freedom", chi, free)
	}
}

// TestSameFaultAgain: a row that was hidden once can be hidden again, behind other readings and lines.
func TestSameFaultAgain(t *testing.T) {
	supply, err := stockOf(t, "horn", "weak").Open(nil)
	if err != nil {
		t.Fatal(err)
	}
	first, err := supply.Draw(term.Key{3}, 1, Any)
	if err != nil {
		t.Fatal(err)
	}
	for n := 2; n < 12; n++ {
		again, err := supply.Draw(term.Key{3}, n, first.Sheets[0].Truth)
		if err != nil {
			t.Fatal(err)
		}
		if again.Sheets[0].Truth != first.Sheets[0].Truth {
			t.Error("another row")
		}
		if slices.EqualFunc(again.Sheets[0].Lines, first.Sheets[0].Lines, func(a, b lab.Line) bool { return a == b }) {
			t.Error("the same lines")
		}
	}
	if _, err := supply.Draw(term.Key{3}, 1, len(first.Hypotheses)); err == nil {
		t.Error("a row that does not exist was hidden")
	}
}

func TestStockOfAnotherVersion(t *testing.T) {
	s := stockOf(t, "horn", "weak")
	for name, spoil := range map[string]func(*Stock){
		"rows":  func(s *Stock) { s.Rows = s.Rows[1:] },
		"fault": func(s *Stock) { s.Rows = slices.Clone(s.Rows); s.Rows[0].Fault = 999 },
		"test": func(s *Stock) {
			l := *s.Lab
			l.Tests = slices.Clone(l.Tests)
			l.Tests[0].ID = "nix"
			s.Lab = &l
		},
		"cases": func(s *Stock) { l := *s.Lab; l.Cases = nil; s.Lab = &l },
		"pack":  func(s *Stock) { l := *s.Lab; l.Pack.Source = "x ="; s.Lab = &l },
	} {
		other := *s
		spoil(&other)
		if _, err := other.Open(nil); err == nil {
			t.Errorf("%s: a spoiled stock was opened", name)
		}
	}
}
