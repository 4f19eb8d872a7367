package trace

import "testing"

// What lasts less than 10 ns is left out, what lasts longer stays, and so does a jump.
func TestSeen(t *testing.T) {
	tr := Trace{X: []float64{0, 1, 1, 1 + 2e-10, 2, 2, 3, 3 + 1e-6, 4}, Y: []float64{1, 1, -130, -3, -3, 380, 380, 20, 20}}
	got := tr.Seen()
	want := []float64{1, 1, -3, -3, 380, 380, 20, 20}
	if len(got.Y) != len(want) || len(got.X) != len(want) {
		t.Fatalf("%v, want %v", got.Y, want)
	}
	for i := range want {
		if got.Y[i] != want[i] {
			t.Errorf("%v, want %v", got.Y, want)
		}
	}
}
