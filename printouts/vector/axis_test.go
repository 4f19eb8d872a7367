package vector

import (
	"math"
	"testing"
)

func TestTicks(t *testing.T) {
	check := func(low, high float64, n int, want ...float64) {
		t.Helper()
		got := Ticks(low, high, n)
		if len(got) != len(want) {
			t.Fatalf("from %g to %g in %d: got %v, want %v", low, high, n, got, want)
		}
		for i := range got {
			if math.Abs(got[i]-want[i]) > 1e-9 {
				t.Errorf("from %g to %g in %d: got %v, want %v", low, high, n, got, want)
			}
		}
	}
	check(0, 18, 4, 0, 5, 10, 15, 20)
	check(0, 21, 11, 0, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 22)
	check(0, 1, 5, 0, 0.2, 0.4, 0.6, 0.8, 1)
	check(-3, 3, 3, -4, -2, 0, 2, 4)
	check(7, 7, 2, 7, 7.5, 8)
	check(0, 100, 1, 0, 100)
	if TickText(0.1+0.2) != "0.3" || TickText(math.Copysign(0, -1)) != "0" || TickText(20) != "20" {
		t.Error("figures are printed with noise")
	}
}
