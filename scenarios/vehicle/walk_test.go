package vehicle

import (
	"slices"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/testrun"
)

// The matrix looks at as few severities of a fault as it can; every one of the grid must show what it says.
func TestMatrixTellsEverySeverityOfTheGrid(t *testing.T) {
	testrun.Slow(t, "works out every severity")
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
