package diagram

import (
	"context"
	"sync"
	"testing"
	"time"

	"nospark/printouts/page"
	"nospark/printouts/vector"
	"nospark/scenarios/build"
	"nospark/scenarios/handout"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/packtest"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
)

// built keeps the diagrams of the built-in packs, each of which costs a lab.
var built sync.Map

// diagramOf is the diagram of a built-in pack as a class gets it.
func diagramOf(t *testing.T, name string) handout.Diagram {
	t.Helper()
	if d, known := built.Load(name); known {
		return d.(handout.Diagram)
	}
	text, err := pack.Source(name)
	if err != nil {
		t.Fatal(err)
	}
	plan, err := term.ParsePlan("plans/week05.toml", "title = \"Week 5\"\ndate = 2026-10-05\npack = \"x\"\n")
	if err != nil {
		t.Fatal(err)
	}
	l, _, err := build.Lab(context.Background(), build.Input{
		Term: term.Term{ID: "test-term-1", Program: "Example Technical Program", Paper: "letter",
			Rubric: term.DefaultRubric(), Mastery: term.DefaultMastery()},
		Plan: plan, Key: term.Key{7}, PackFile: name + ".toml", Pack: string(text),
		Students: []roster.Student{{ID: "s1", Name: "Testina Example"}},
	})
	if err != nil {
		t.Fatal(err)
	}
	h, err := handout.Of(l)
	if err != nil {
		t.Fatal(err)
	}
	built.Store(name, h.Reference.Diagram)
	return h.Reference.Diagram
}

// TestBuiltinDiagrams lays out every built-in pack with the real typeface, on the space that the booklet gives
// it: below the title, above the legend. Every label finds its place.
func TestBuiltinDiagrams(t *testing.T) {
	for _, name := range packtest.Packs(t) {
		d := diagramOf(t, name)
		for _, paper := range []string{"letter", "a4"} {
			doc := page.New(page.Options{Paper: paper, Title: "test",
				Date: time.Date(2026, 10, 5, 0, 0, 0, 0, time.UTC)})
			flow := doc.Section(page.Frame{Landscape: true, Left: "x", Right: "x", Foot: "x", Size: 10})
			flow.Title("x", "")
			flow.Draw(flow.Room()-1, func(c page.Canvas) {
				frame := vector.Rect{W: c.W, H: c.H - 7}
				w := arrange(d, frame, c.Width)
				stayClear(t, name+" on "+paper, d, frame, w)
				for _, text := range w.left {
					t.Errorf("%s on %s: no room for %q", name, paper, text)
				}
			})
		}
	}
}
