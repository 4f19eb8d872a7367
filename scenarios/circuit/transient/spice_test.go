package transient

import (
	"fmt"
	"math"
	"testing"

	"nospark/scenarios/circuit/spicetest"
)

// deviation is the largest difference between a column of ngspice's rows and a
// probe between two times, relative to the column's largest magnitude there.
func deviation(rows [][]float64, column int, tr *Trace, probe int, from, to float64) float64 {
	off, most := 0.0, 0.0
	for _, row := range rows {
		if s := row[0]; s >= from && s <= to {
			off = math.Max(off, math.Abs(row[column]-tr.At(probe, s)))
			most = math.Max(most, math.Abs(row[column]))
		}
	}
	return off / most
}

// The coil of the other tests in ngspice, its driver and clamp as behavioral
// current sources along the same lines: primary ramp, current limit, secondary
// rise and what follows agree.
func TestCoilAgainstNgspice(t *testing.T) {
	check := func(g ignition) {
		t.Helper()
		g.farads = 1e-9 // ngspice finds no solution for the leap of a node without capacitance
		k := g.build()
		const after = 0.4e-3
		tr := k.run(t, k.opens+after)
		netlist := fmt.Sprintf(`coil
Vb plus 0 %g
L1 plus p1 %g
R1 p1 coll %g
L2 tower s1 %g
R2 s1 plus %g
K1 L1 L2 %.12g
C2 tower 0 %g
Vctl ctl 0 PWL(0 0 %.9g 0 %.9g 1 %.9g 1 %.9g 0)
Bdriver coll 0 I = V(ctl)*pwl(V(coll), -1e4, 0, %g, 0, %g, %g, 1e4, %g)
Bclamp coll 0 I = pwl(V(coll), -1e4, 0, %g, 0, 1e4, %g)
Roff coll 0 1e7
C1 coll 0 %g
.options reltol=1e-5 abstol=1e-9 vntol=1e-6
.tran 0.4u %.9g 0 0.4u uic
.end
`, g.feed, g.henries, primaryOhms, g.henries*turns*turns, secondaryOhms, math.Sqrt(g.share), secondaryFarads,
			g.closes, g.closes+1e-8, k.opens, k.opens+1e-8,
			saturationVolts, saturationVolts+g.limit*1e-3, g.limit, g.limit,
			float64(clampVolts), 1e4-clampVolts, g.farads, k.opens+after)
		until := k.opens + after
		rows := spicetest.Table(t, netlist, "i(l1) v(coll) v(tower) i(l2)")
		if len(rows) == 0 || math.Abs(rows[len(rows)-1][0]-until) > 1e-6*until {
			t.Fatalf("ngspice did not reach %g s", until)
		}
		ramp := deviation(rows, 1, tr, 0, 0, k.opens)
		dwell := deviation(rows, 3, tr, 2, 0, k.opens)
		rise := deviation(rows, 3, tr, 2, k.opens, k.opens+after)
		secondary := deviation(rows, 4, tr, 3, k.opens, k.opens+60e-6)
		t.Logf("%.1f V, %.2g ms dwell: deviations of peak: primary current %.2g, secondary voltage in dwell %.2g, "+
			"after opening %.2g, secondary current while it rises %.2g",
			g.feed, g.dwell*1e3, ramp, dwell, rise, secondary)
		if most := max(ramp, dwell, rise, secondary); !(most <= 0.02) {
			t.Errorf("deviation of %.2g of the peak, want at most 0.02", most)
		}
	}
	check(cranking)
	check(ignition{feed: 14, share: 0.65, closes: 0.2e-3, dwell: 3e-3, limit: 7.5, henries: 4.2e-3})
	check(ignition{feed: 12, share: 0.9, closes: 0.2e-3, dwell: 1.5e-3, limit: 7.5, henries: 3e-3})
}
