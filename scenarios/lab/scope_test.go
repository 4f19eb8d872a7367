package lab

import (
	"math"
	"testing"
)

// A picture stands on the shortest time axis on which its dwell can be seen: 8 ms before the switch opens, or 30.
func TestScreenOf(t *testing.T) {
	for _, c := range []struct{ dwell, begin float64 }{{0, -8e-3}, {6e-3, -8e-3}, {8e-3, -8e-3}, {25e-3, -30e-3},
		{50e-3, -30e-3}} {
		for _, instrument := range []string{"scope-current", "ammeter"} {
			if s := ScreenOf(instrument, -c.dwell); s == nil || s.Begin != c.begin {
				t.Errorf("%s with a dwell of %g s: %+v, want one from %g s on", instrument, c.dwell, s, c.begin)
			}
		}
	}
	if s := ScreenOf("voltmeter", 0); s != nil {
		t.Errorf("a voltmeter has a screen: %+v", s)
	}
	for i := range Screens { // what was cut to a screen finds it again
		tr := Trace{X: []float64{Screens[i].Begin, Screens[i].End}}
		if got := tr.Screen(Screens[i].Instrument); got != &Screens[i] {
			t.Errorf("screen %d is taken for %+v", i, got)
		}
	}
}

// The screen of an oscilloscope has ten divisions across and eight down (common practice, no source).
func TestScreensAreTenByEight(t *testing.T) {
	for _, s := range Screens {
		across, down := (s.End-s.Begin)/s.Step, (s.To-s.From)/s.Division
		if math.Abs(across-10) > 1e-9 || math.Abs(down-8) > 1e-9 {
			t.Errorf("%s: %g by %g divisions", s.Title, across, down)
		}
	}
}
