package vehicle

import (
	"slices"
	"testing"

	"nospark/scenarios/pack"
)

// The matrix looks at as few severities of a fault as it can; every one of the grid must show what it says.
func TestMatrixTellsEverySeverityOfTheGrid(t *testing.T) {
	seen := 0
	for _, name := range pack.Builtin() {
		p, err := pack.Load(name)
		if err != nil {
			t.Fatal(err)
		}
		m, err := NewMatrix(p)
		if err != nil {
			t.Fatal(err)
		}
		healthy := Healthy(p)
		v := healthy.Clone()
		for _, row := range m.Rows {
			if row.Fault < 0 {
				continue
			}
			for _, severity := range row.Severities {
				v.become(healthy, p.Faults[row.Fault], severity)
				bands, complaint, err := v.Bands()
				seen++
				if err != nil || complaint != row.Complaint || !slices.Equal(bands, row.Bands) {
					t.Errorf("%s: fault %s at %.3f shows another row than the matrix says", name,
						p.Faults[row.Fault].ID, severity)
				}
			}
		}
	}
	if seen < 2000 { // five packs of some 30 faults with a range and more
		t.Errorf("only %d severities looked at", seen)
	}
}

// Decimals as the standard library writes them, ties to even of the exact binary value.
func TestRoundedIsWhatTheDecimalsShow(t *testing.T) {
	for _, c := range []struct {
		x      float64
		digits int
		want   float64
	}{
		{12.345, 2, 12.35}, // the double lies above the tie: 12.3450000000000006
		{2.675, 2, 2.67},   // and below: 2.67499999999999982
		{0.125, 2, 0.12},   // a tie
		{-0.0004, 3, 0}, {1e15 + 0.3, 1, 1e15 + 0.3}, {599.95, 1, 600}, {-3.14159, 3, -3.142},
	} {
		if got := rounded(c.x, c.digits); got != c.want {
			t.Errorf("%v with %d decimals is %v, want %v", c.x, c.digits, got, c.want)
		}
	}
}
