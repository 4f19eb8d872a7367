package instructor

import (
	"fmt"
	"slices"
	"testing"

	"nospark/scenarios/lab"
)

// TestPeriods: what is left of a lesson for working, worked out by hand: 5 minutes to settle, 5 to hand out, 10 for the
// end. Two vehicles share it, and a long lesson with one is told that two would fit.
func TestPeriods(t *testing.T) {
	check := func(period, vehicles, minutes int, want ...string) {
		t.Helper()
		l := &lab.Lab{Name: "week05", Period: period, Vehicles: vehicles, Faults: []lab.Fault{{}}}
		parts := howToParts(l)
		at := slices.IndexFunc(parts, func(p howToPart) bool {
			return p.heading == fmt.Sprintf("While they work, about %d minutes", minutes)
		})
		if at < 0 {
			t.Fatalf("period %d: no part of %d minutes", period, minutes)
		}
		if got := parts[at].items[3:]; !slices.Equal(got, want) {
			t.Errorf("period %d, %d vehicles: %q, want %q", period, vehicles, got, want)
		}
	}
	check(0, 1, 30)
	check(50, 0, 30)
	check(100, 1, 80, "So long a lesson fits two vehicles: **vehicles = 2** in the plan of the next.")
	check(100, 2, 80, "Everybody has 2 vehicles: say every 40 minutes that the next one begins.")
	check(75, 1, 55)
}
