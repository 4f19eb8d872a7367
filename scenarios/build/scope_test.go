package build

import (
	"context"
	"reflect"
	"slices"
	"strings"
	"testing"

	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/term"
)

// scopeLab builds a lab with the oscilloscope and one fault only.
func scopeLab(t *testing.T, fault string) *lab.Lab {
	t.Helper()
	return planned(t, builtin(t, "single-coil"), "scope = true\nfaults = [\""+fault+"\"]\n")
}

// planned builds a lab of the single-coil pack as it is given.
func planned(t *testing.T, text, more string) *lab.Lab {
	t.Helper()
	plan, err := term.ParsePlan("scope.toml", "title = \"Pictures\"\ndate = 2026-10-05\npack = "+
		"\"single-coil\"\ncomplaint = \"no-start\"\nknown = 0\nspares = 3\n"+more)
	if err != nil {
		t.Fatal(err)
	}
	autumn := term.Term{ID: "scope-term", Paper: "letter", Rubric: term.DefaultRubric(), Mastery: term.DefaultMastery()}
	l, _, err := Lab(context.Background(), Input{Term: autumn, Plan: plan, Key: term.Key{3},
		PackFile: "single-coil.toml", Pack: text})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// With the oscilloscope every line that is made with it has its picture and no other; it stands in for the
// kV probe, unless the plan names that or the engine is warmed for it. Without it neither is there.
func TestScopeIsAnInstrument(t *testing.T) {
	count := func(l *lab.Lab, is func(id string) bool) (n int) {
		for _, test := range l.Tests {
			if is(test.Instrument) {
				n++
			}
		}
		return n
	}
	replaced := func(id string) bool { return instead[id] != "" }
	with := scopeLab(t, "icm-dead")
	text := with.Pack.Source
	without := planned(t, text, "faults = [\"icm-dead\"]\n")
	named := planned(t, text, "scope = true\n"+
		"instruments = [\"voltmeter\", \"frequency\", \"kv-required\", \"spark-tester\"]\n")
	for _, c := range []struct {
		what           string
		l              *lab.Lab
		scopes, others int // counted by hand in the pack: 8 and 6 with the kV probe, one of them hot
	}{{"with", with, 13, 1}, {"without", without, 0, 8 + 6}, {"probe named", named, 13, 8}} {
		if got := count(c.l, cards.IsScope); got != c.scopes {
			t.Errorf("%s: %d tests with the oscilloscope, want %d", c.what, got, c.scopes)
		}
		if got := count(c.l, replaced); got != c.others {
			t.Errorf("%s: %d tests with the kV probe, want %d", c.what, got, c.others)
		}
		for _, s := range c.l.Sheets {
			if len(s.Traces) != c.scopes {
				t.Fatalf("%s: %d pictures, want %d", c.what, len(s.Traces), c.scopes)
			}
			for _, tr := range s.Traces {
				if !cards.IsScope(c.l.Tests[tr.Test].Instrument) {
					t.Errorf("%s: a picture of %s", c.what, c.l.Tests[tr.Test].ID)
				}
			}
		}
	}
}

// A pack without such tests shows pictures beside two readings, as before there were any.
func TestPicturesBesideReadings(t *testing.T) {
	text, err := pack.Source("single-coil")
	if err != nil {
		t.Fatal(err)
	}
	blocks := strings.Split(string(text), "[[")
	blocks = slices.DeleteFunc(blocks, func(b string) bool { return strings.Contains(b, "instrument = \"scope-") })
	const flat, alive = "icm-dead", "coil-lead-open"
	for _, fault := range []string{flat, alive} {
		h, err := handout.Of(planned(t, strings.Join(blocks, "[["), "scope = true\nfaults = [\""+fault+"\"]\n"))
		if err != nil {
			t.Fatal(err)
		}
		plots := h.Readings[0].Plots
		if len(plots) != 2 {
			t.Fatalf("%s: %d pictures, want 2", fault, len(plots))
		}
		if plots[0].YLabel != "A" || plots[1].YLabel != "kV" {
			t.Fatalf("%s: pictures in %s and %s", fault, plots[0].YLabel, plots[1].YLabel)
		}
		currentPeaks(t, fault, plots[0], fault == alive)
	}
}

// currentPeaks checks a picture of the coil's current: the module of the pack limits at 7.5 A, and its coil reaches
// 7.0 A while cranking; a dead one lets no current flow.
func currentPeaks(t *testing.T, fault string, p handout.Plot, alive bool) {
	t.Helper()
	peak := 0.0
	for i, y := range p.Y {
		if x := p.X[i]; x < p.XFrom || x > p.XTo || y > p.YTo {
			t.Fatalf("%s: %g ms, %g A lies off the screen", fault, x, y)
		}
		peak = max(peak, y)
	}
	if !alive && peak != 0 || alive && (peak < 6 || peak > 7.6) {
		t.Errorf("%s: the current peaks at %g A", fault, peak)
	}
}

func TestScopePictures(t *testing.T) {
	const flat, alive = "icm-dead", "coil-lead-open"
	for _, fault := range []string{flat, alive} {
		h, err := handout.Of(scopeLab(t, fault))
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range h.Readings[0].Plots {
			if p.X[0] != p.XFrom || p.X[len(p.X)-1] != p.XTo {
				t.Errorf("%s: %s goes from %g to %g ms, the screen from %g to %g", fault, p.Test, p.X[0], p.X[len(p.X)-1],
					p.XFrom, p.XTo)
			}
			if p.Test == "Primary current, cranking" {
				currentPeaks(t, fault, p, fault == alive)
			}
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
		if !reflect.DeepEqual(a[i], b[i]) {
			t.Errorf("picture %d: %+v and %+v", i, a[i], b[i])
		}
	}
}
