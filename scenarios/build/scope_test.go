package build

import (
	"context"
	"testing"

	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/term"
)

// scopeLab builds a lab with pictures and one fault only.
func scopeLab(t *testing.T, fault string) *lab.Lab {
	t.Helper()
	plan, err := term.ParsePlan("scope.toml", "title = \"Pictures\"\ndate = 2026-10-05\npack = "+
		"\"single-coil\"\ncomplaint = \"no-start\"\nscope = true\nknown = 0\nspares = 3\nfaults = [\""+fault+"\"]\n")
	if err != nil {
		t.Fatal(err)
	}
	text, err := pack.Source("single-coil")
	if err != nil {
		t.Fatal(err)
	}
	autumn := term.Term{ID: "scope-term", Paper: "letter", Rubric: term.DefaultRubric(), Mastery: term.DefaultMastery()}
	l, _, err := Lab(context.Background(), Input{Term: autumn, Plan: plan, Key: term.Key{3},
		PackFile: "single-coil.toml", Pack: string(text)})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestScopePictures(t *testing.T) {
	const flat, alive = "icm-dead", "coil-lead-open"
	for _, fault := range []string{flat, alive} {
		l := scopeLab(t, fault)
		h, err := handout.Of(l)
		if err != nil {
			t.Fatal(err)
		}
		plots := h.Readings[0].Plots
		if len(plots) != 2 {
			t.Fatalf("%s: %d pictures, want 2", fault, len(plots))
		}
		peak := 0.0
		for i, y := range plots[0].Y {
			if x := plots[0].X[i]; x < plots[0].XFrom || x > plots[0].XTo || y > plots[0].YTo {
				t.Fatalf("%s: %g ms, %g A lies off the screen", fault, x, y)
			}
			peak = max(peak, y)
		}
		// the module of the pack limits at 7.5 A; a dead one lets no current flow
		if fault == flat && peak != 0 || fault == alive && (peak < 6 || peak > 8.5) {
			t.Errorf("%s: the current peaks at %g A", fault, peak)
		}
	}
}

// Number, place and scale of the pictures say nothing about what is hidden.
func TestScopeScreensAreTheSame(t *testing.T) {
	screens := func(fault string) []handout.Plot {
		h, err := handout.Of(scopeLab(t, fault))
		if err != nil {
			t.Fatal(err)
		}
		list := h.Readings[0].Plots
		for i := range list {
			list[i].X, list[i].Y = nil, nil
		}
		return list
	}
	a, b := screens("icm-dead"), screens("coil-lead-open")
	if len(a) != len(b) {
		t.Fatalf("%d and %d pictures", len(a), len(b))
	}
	for i := range a {
		if a[i].Line != b[i].Line || a[i].Title != b[i].Title || a[i].YTo != b[i].YTo || a[i].XFrom != b[i].XFrom {
			t.Errorf("picture %d: %+v and %+v", i, a[i], b[i])
		}
	}
}
