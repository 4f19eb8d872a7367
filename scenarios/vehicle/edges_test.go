package vehicle

import (
	"math"
	"testing"

	"nospark/scenarios/circuit"
	"nospark/scenarios/pack/cards"
)

// More rules at their edges, each beside its source.

// A wasted event by hand: air of 1.1 bar (825 torr) and 500 K, a gap of 1 mm. X = 293 x 825.07 x 0.1 / (760 x 500) =
// 0.063617, 24.22 X + 6.08 sqrt(X) = 3.0743 kV in a uniform field (the textbook form of a gap's breakdown), times the
// plug's electrode factor. That is within the 2 to 4 kV of the trade (common practice, no source).
func TestWastedEventByHand(t *testing.T) {
	b := loaded(t, "double-ended")
	v := b.v
	crank, err := b.p.Condition("crank")
	if err != nil {
		t.Fatal(err)
	}
	plug := v.l.plugs[0]
	if gap := v.value(plug, "gap_mm"); gap != 1 {
		t.Fatalf("a gap of %g mm, the hand calculation is for 1 mm", gap)
	}
	want := 3074.3 * v.value(plug, "electrode_factor")
	if got := v.cylinder(v.plain(crank), 0).rotor; math.Abs(got-want) > 1 {
		t.Errorf("the partner's plug takes %g V, by hand %g", got, want)
	}
}

// A controller takes an input for open above 97 % of its reference and for shorted below 3 % (from memory). Behind its
// pull-up a sensor of share/(1-share) times the pull-up reads that share.
func TestCodesAtTheirEdges(t *testing.T) {
	for _, c := range []struct {
		share float64
		code  string
	}{{0.025, cards.CoolantLow}, {0.035, cards.NoCode}, {0.5, cards.NoCode}, {0.96, cards.NoCode},
		{0.98, cards.CoolantHigh}} {
		v := loaded(t, "single-coil").v.Clone()
		v.sensorOhms(t, "ect", c.share/(1-c.share)*v.decode().control.ectPullup)
		if got := v.trouble(); got != c.code {
			t.Errorf("an input at %g of the reference: %s, want %s", c.share, got, c.code)
		}
	}
}

// A customer notices timing that is off by 3 degrees (common practice, no source); a cold engine gets at most 10
// degrees more, so that the advance of an engine at 85 °C rises by 10 when the sensor reports -40 °C.
func TestTimingAtItsEdges(t *testing.T) {
	healthy := loaded(t, "single-coil")
	idle := healthy.v.idle()
	per := healthy.v.value(healthy.v.l.control, "cold_degrees_per_kelvin")
	for _, c := range []struct {
		degrees float64
		says    string
		more    float64
	}{{0, "normal", 0}, {2.7, "normal", 2.7}, {3.3, "advanced", 3.3}, {200, "advanced", 10}} {
		v := healthy.v.Clone()
		a, b, k := v.steinhart()
		celsius := math.Max(-40, 70-c.degrees/per)
		v.sensorOhms(t, "ect", circuit.SteinhartOhms(celsius, a, b, k))
		if got := v.timing(idle); got != c.says {
			t.Errorf("%g degrees early: %s, want %s", c.degrees, got, c.says)
		}
		if more := v.advance(v.plain(idle)) - v.nominalAdvance(idle); math.Abs(more-c.more) > 0.1 {
			t.Errorf("%g °C: %g degrees more, want %g", celsius, more, c.more)
		}
	}
}

// sensorOhms gives a temperature sensor a resistance.
func (v *Vehicle) sensorOhms(t *testing.T, id string, ohms float64) {
	t.Helper()
	part := v.l.partNamed(id)
	for _, p := range v.decode().pairs {
		if p.part == part {
			v.values[part][v.l.p.Parts[part].Kind.Param("scale")] *= ohms / p.ohms
			v.forget()
			return
		}
	}
	t.Fatalf("no sensor %q", id)
}

// A closed output by hand: its saturation voltage, and 20 mohm (common practice, no source) times the coil's current;
// 1.2 V and 6 A give 1.32 V.
func TestClosedOutputByHand(t *testing.T) {
	v := loaded(t, "single-coil").v
	idle := v.plain(v.idle())
	ch, m := &idle.charges[0], v.driver(0)
	if m.saturation != 1.2 || ch.ramp.Dwell-ch.hold <= 0 || ch.end.phase.drive != charging {
		t.Fatalf("saturation %g V, a charge of %g s that holds %g s", m.saturation, ch.ramp.Dwell, ch.hold)
	}
	at := v.l.channels[0].out
	near(t, "volts across the closed output", ch.end.Between(at, m.ground), 1.2+0.02*ch.amps, 1e-6)
}
