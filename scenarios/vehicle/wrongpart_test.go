package vehicle

import "testing"

// A part of another system fits and fails: the engine idles and misses under load, and a test of the part shows that it
// is not the right one. Common practice, no source; a coil for breaker points has 3 ohms, one for a ballast resistor
// 1.5 to 2 (from memory), a good one of these systems 0.5 to 1.2. A plug of too cold a heat range keeps its soot, which
// leaks beside the gap: it misses when more voltage is asked for.
func TestWrongParts(t *testing.T) {
	for _, c := range []struct{ pack, fault, shows, good string }{
		{"single-coil", "coil-wrong", "primary-ohms=high", "secondary-ohms=normal"},
		{"reluctor", "coil-wrong", "primary-ohms=high", "ballast-ohms=normal"},
		{"double-ended", "coil-wrong", "primary-a-ohms=high", "primary-b-ohms=normal"},
		{"reluctor", "plugs-cold", "plug2-ohms=leaking", "gap2=normal"},
		{"reluctor", "plugs-cold", "plug1-look=damage to see", "plug1-spark=strong spark"},
		{"coil-per-plug", "plugs-wrong", "gap2=wide", "plug2-ohms=normal"},
	} {
		healthy := loaded(t, c.pack)
		for _, severity := range []float64{0, 0.5, 1} {
			b := healthy.with(c.fault, severity)
			if o := b.v.Observe(); o.Misfires != "loaded" || !o.Starts {
				t.Errorf("%s, %s at %g: %+v, want an engine that starts and misses under load", c.pack, c.fault,
					severity, o)
			}
			b.look(c.shows, c.good)
		}
	}
}
