package readings

import "testing"

// TestPlanLines: every cell is on the page, whatever the number of lines up to 400.
func TestPlanLines(t *testing.T) {
	for n := 1; n <= 400; n++ {
		for _, height := range []float64{229.0, 247.0} { // what a letter and an A4 page leave
			g := planLines(n, 191.9, height)
			if g.rows*g.columns < n || float64(g.rows)*g.high > height+1e-6 || g.size < 8 {
				t.Errorf("%d lines in %g mm: %+v", n, height, g)
			}
		}
	}
}
