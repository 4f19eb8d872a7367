package vehicle

import (
	"bytes"
	"fmt"
	"math"
	"testing"

	"nospark/scenarios/circuit/spicetest"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/packtest"
	"nospark/scenarios/testrun"
	"nospark/scenarios/vehicle/coil"
	"nospark/scenarios/vehicle/trace"
)

// eachDischarge visits every coil that a vehicle of a built-in pack charges, with every fault, mild, middling and
// severe, in every condition and for every cylinder. Coils that agree in all values come once.
func eachDischarge(t *testing.T, visit func(label string, v *Vehicle, st *state, k int, d *coil.Discharge,
	period float64)) {
	t.Helper()
	type what struct {
		d      coil.Discharge
		period float64
	}
	seen := map[what]bool{}
	look := func(p *pack.Pack, label string, v *Vehicle) {
		for c := range p.Conditions {
			if !v.reaches(c) {
				continue
			}
			st := v.plain(c)
			for i, plug := range v.l.plugs {
				k := v.l.towers[p.Parts[plug].Pins[0]].channel
				if st.rpm == 0 || k < 0 || st.charges[k].amps == 0 {
					continue
				}
				d, err := v.discharge(st, k, i)
				if err != nil {
					t.Fatalf("%s: %v", label, err)
				}
				if key := (what{*d, 1 / st.firing}); !seen[key] {
					seen[key] = true
					visit(fmt.Sprintf("%s %s %s, cylinder %d", p.Name, label, p.Conditions[c].ID, i+1), v, st, k, d,
						1/st.firing)
				}
			}
		}
	}
	for _, name := range packtest.Packs(t) {
		b := loaded(t, name)
		look(b.p, "healthy", b.v)
		for _, f := range b.p.Faults {
			for _, severity := range severities(f) {
				v := Healthy(b.p)
				v.Apply(f, severity)
				look(b.p, fmt.Sprintf("%s at %g", f.ID, severity), v)
			}
		}
	}
	if len(seen) < 20 {
		t.Errorf("only %d coils", len(seen))
	}
}

// worst keeps the largest deviation and where it was.
type worst struct {
	off   float64
	where string
	count int
}

func (w *worst) add(got, want float64, where string) {
	w.count++
	if off := math.Abs(got/want - 1); off > w.off || math.IsNaN(off) {
		w.off, w.where = off, fmt.Sprintf("%s: %g, closed form %g", where, got, want)
	}
}

func (w *worst) judge(t *testing.T, what string, most float64) {
	t.Helper()
	t.Logf("%s: %d coils, worst deviation %.2g (%s)", what, w.count, w.off, w.where)
	if !(w.off <= most) {
		t.Errorf("%s: want at most %g", what, most)
	}
}

// The closed forms that readings use, against the same coil followed in time: current at the end of the dwell and
// available voltage.
func TestClosedFormsAgainstTransient(t *testing.T) {
	testrun.Slow(t, "follows every coil in time")
	var current, available worst
	eachDischarge(t, func(label string, v *Vehicle, st *state, k int, d *coil.Discharge, _ float64) {
		t.Helper()
		tr, err := d.Charge()
		if err != nil {
			t.Fatalf("%s: %v", label, err)
		}
		if st.charges[k].amps < 1 {
			return // a dwell of microseconds: what the secondary takes in meanwhile counts, and no spark depends on it
		}
		current.add(tr.Value[coil.PrimaryAmps][len(tr.Time)-1], st.charges[k].amps, label)
		if !d.HasSecondary() {
			return
		}
		alone := *d
		alone.Needs = math.Inf(1)
		tr, _, err = alone.Release(st.charges[k].amps, 0, swing(d))
		if err != nil {
			t.Fatalf("%s: %v", label, err)
		}
		low, high := tr.Extremes(coil.TowerVolts, 0, swing(d))
		available.add(math.Max(-low, high), v.offered(st, k, d.Shunt), label)
	})
	current.judge(t, "peak current", 0.01)
	available.judge(t, "available voltage", 0.05)
}

// The voltmeter's average at the coil's switched terminal, from volt-second balance, against the average of the event
// in time, flyback and spark included.
func TestAverageAtCoilAgainstTransient(t *testing.T) {
	testrun.Slow(t, "follows every coil in time")
	var average worst
	eachDischarge(t, func(label string, v *Vehicle, st *state, k int, d *coil.Discharge, period float64) {
		t.Helper()
		if !v.l.p.Conditions[st.setup.condition].Running() {
			return
		}
		e := &Event{Period: period, Opens: d.Dwell, coil: d}
		if err := e.addCoil(); err != nil {
			t.Fatalf("%s: %v", label, err)
		}
		tr, area := e.trace(t, "primary voltage at coil -"), 0.0
		for i := 1; i < len(tr.X); i++ {
			area += (tr.X[i] - tr.X[i-1]) * (tr.Y[i] + tr.Y[i-1]) / 2
		}
		mean := 0.0
		for _, ph := range st.mean {
			// the event knows its own coil only, not the dips in a shared feed
			if other := ph.phase.channel; other >= 0 && other != k {
				ph.solved = st.high
			}
			mean += ph.share * ph.Between(v.dev.coils[k].minus, 0)
		}
		average.add(area/period, mean, label)
	})
	average.judge(t, "average at coil -", 0.02)
}

func (e *Event) trace(t *testing.T, title string) trace.Trace {
	t.Helper()
	for _, tr := range e.Traces {
		if tr.Title == title {
			return tr
		}
	}
	t.Fatalf("no trace %q", title)
	return trace.Trace{}
}

// event follows cylinder 1.
func (b *benchOf) event(condition string) *Event {
	b.t.Helper()
	c, err := b.p.Condition(condition)
	if err != nil {
		b.t.Fatal(err)
	}
	e, err := b.v.Event(c, 0)
	if err != nil {
		b.t.Fatal(err)
	}
	return e
}

// Every trace covers one period in order.
func TestEventTraces(t *testing.T) {
	for _, name := range pack.Builtin() {
		b := loaded(t, name)
		for c, cond := range b.p.Conditions {
			for i := range b.v.l.plugs {
				e, err := b.v.Event(c, i)
				if !cond.Running() && !cond.Cranking() {
					if err == nil {
						t.Errorf("%s %s: an event although the engine stands", name, cond.ID)
					}
					continue
				}
				if err != nil {
					t.Errorf("%s %s: %v", name, cond.ID, err)
					continue
				}
				for _, tr := range e.Traces {
					n := len(tr.X)
					if len(tr.Y) != n || tr.X[0] != 0 || math.Abs(tr.X[n-1]/e.Period-1) > 1e-9 {
						t.Errorf("%s %s %s: from %g to %g s, want 0 to %g", name, cond.ID, tr.Title, tr.X[0], tr.X[n-1],
							e.Period)
					}
					for k := 1; k < n; k++ {
						if !(tr.X[k] >= tr.X[k-1]) || math.IsNaN(tr.Y[k]) {
							t.Errorf("%s %s %s: %g V at %g s after %g s", name, cond.ID, tr.Title, tr.Y[k], tr.X[k],
								tr.X[k-1])
							break
						}
					}
				}
			}
		}
	}
}

// Service data: primary current 5-7 A running (8 A with newer coils: common practice, no source), primary spike up to
// 400 V, firing line about 12 kV at idle, spark line about 2 ms.
func TestEventLooksLikeServiceData(t *testing.T) {
	for _, name := range pack.Builtin() {
		b := loaded(t, name)
		if len(b.v.l.plugs) == 0 {
			continue
		}
		e := b.event("idle")
		within := func(what string, x, low, high float64) {
			t.Helper()
			if !(x >= low && x <= high) {
				t.Errorf("%s: %s %g, want %g to %g", name, what, x, low, high)
			}
		}
		_, amps := e.trace(t, "primary current").Extremes()
		within("peak current", amps, 5, 8.1)
		_, spike := e.trace(t, "primary voltage at coil -").Extremes()
		within("spike", spike, 300, 405)
		_, kilovolts := e.trace(t, secondaryTitle).Extremes()
		within("firing line", kilovolts, 6, 15)
		within("rise time, us", 1e6*(e.Burning[0]-e.Opens), 1, 50)
		within("spark line, ms", 1e3*(e.Burning[1]-e.Burning[0]), 0.7, 2.5)
	}
}

// What an oscilloscope shows of faults: common practice, no source.
func TestEventOfFaults(t *testing.T) {
	b := loaded(t, "single-coil")
	flat := func(fault, title string, want bool) {
		t.Helper()
		low, high := b.with(fault, 0.5).event("crank").trace(t, title).Extremes()
		if is := high-low < 0.1; is != want {
			t.Errorf("%s: %s goes from %g to %g, flat should be %v", fault, title, low, high, want)
		}
	}
	flat("icm-dead", "sensor signal", false)
	flat("icm-dead", "command", false)
	flat("icm-dead", "primary current", true)
	flat("icm-dead", secondaryTitle, true)
	flat("ckp-dead", "sensor signal", true)
	flat("ckp-dead", "command", true)
	flat("pcm-mute", "sensor signal", false)
	flat("pcm-mute", "command", true)
	flat("coil-primary", "command", false)
	flat("coil-primary", "primary current", true)
	flat("coil-secondary", "primary current", false)
	flat("coil-secondary", secondaryTitle, true)
	// A worn plug needs more volts and leaves less time to burn; an open lead lets everything ring out.
	_, fresh := b.event("crank").trace(t, secondaryTitle).Extremes()
	worn := b.with("plug-worn-1", 0.5).event("crank")
	if _, high := worn.trace(t, secondaryTitle).Extremes(); high < 1.4*fresh {
		t.Errorf("worn plug: firing line %g kV, fresh %g kV", high, fresh)
	}
	open := b.with("lead-open-1", 0.5).event("crank")
	if _, high := open.trace(t, secondaryTitle).Extremes(); high < 30 || open.Burning != [2]float64{} {
		t.Errorf("open lead: %g kV, burning %v; want all there is and no spark", high, open.Burning)
	}
}

// Without a secondary the clamp takes all of the flux: L i = (clamp - feed) t.
func TestClampTakesTheFlux(t *testing.T) {
	e := loaded(t, "single-coil").with("coil-secondary", 0.5).event("crank")
	tr, d := e.trace(t, "primary voltage at coil -"), e.coil
	long := 0.0
	for i := 1; i < len(tr.X); i++ {
		if math.Min(tr.Y[i], tr.Y[i-1]) > d.Side.Clamp-1 {
			long += tr.X[i] - tr.X[i-1]
		}
	}
	_, amps := e.trace(t, "primary current").Extremes()
	if want := d.Side.Henries * amps / (d.Side.Clamp - d.Feed); math.Abs(long/want-1) > 0.02 {
		t.Errorf("at the clamp for %g s, want %g", long, want)
	}
}

// Primary ramp and secondary rise in ngspice from a netlist.
func TestEventAgainstNgspice(t *testing.T) {
	testrun.Slow(t, "asks ngspice a hundred times")
	for _, name := range packtest.Packs(t) {
		b := loaded(t, name)
		for c, cond := range b.p.Conditions {
			if len(b.v.l.plugs) == 0 || !cond.Running() && !cond.Cranking() {
				continue
			}
			e, err := b.v.Event(c, 0)
			if err != nil {
				t.Fatal(err)
			}
			var text bytes.Buffer
			if err := e.writeNetlist(&text, name+" "+cond.ID); err != nil {
				t.Fatal(err)
			}
			d := *e.coil
			d.Needs = math.Inf(1)
			up, err := d.Charge()
			if err != nil {
				t.Fatal(err)
			}
			down, _, err := d.Release(up.Value[coil.PrimaryAmps][len(up.Time)-1], 0, swing(&d))
			if err != nil {
				t.Fatal(err)
			}
			rows := spicetest.Table(t, text.String(), "i(ldp) v(rt)")
			if end := rows[len(rows)-1][0]; end < 0.999*math.Max(d.Dwell, swing(&d)) {
				t.Fatalf("ngspice stopped at %g s", end)
			}
			var off, most [2]float64
			peak := coil.PeakTime(down)
			for _, row := range rows {
				if row[0] <= d.Dwell {
					off[0] = math.Max(off[0], math.Abs(row[1]-up.At(coil.PrimaryAmps, row[0])))
					most[0] = math.Max(most[0], math.Abs(row[1]))
				}
				if row[0] <= peak {
					off[1] = math.Max(off[1], math.Abs(row[2]-down.At(coil.TowerVolts, row[0])))
					most[1] = math.Max(most[1], math.Abs(row[2]))
				}
			}
			t.Logf("%s %s: of the peak, primary ramp %.2g off, secondary rise %.2g off", name, cond.ID, off[0]/most[0],
				off[1]/most[1])
			if off[0] > 0.02*most[0] || off[1] > 0.02*most[1] {
				t.Errorf("%s %s: want at most 0.02 of the peak", name, cond.ID)
			}
		}
	}
}

// A good coil's current does not leap at switch-on. By hand, for the first microseconds, in which only the leakage
// holds it back: i = (feed - saturation) / (L (1 - k^2)) t; and the ripple must be over before the coil is charged.
func TestNoLeapAtSwitchOn(t *testing.T) {
	for _, name := range pack.Builtin() {
		b := loaded(t, name)
		if len(b.v.l.plugs) == 0 {
			continue
		}
		for _, condition := range []string{"crank", "idle", "load"} {
			d := b.event(condition).coil
			up, err := d.Charge()
			if err != nil {
				t.Fatal(err)
			}
			const early = 4e-6
			leak := d.Side.Henries * (1 - coil.DwellCoupling*coil.DwellCoupling)
			want := (d.Feed - d.Sink) / leak * early
			if got := up.At(coil.PrimaryAmps, early); math.Abs(got/want-1) > 0.1 || got > 0.4 {
				t.Errorf("%s %s: %.3g A after 4 us, want %.3g and at most 0.4", name, condition, got, want)
			}
			smooth := coil.Ramp{Volts: d.Feed - d.Sink, Ohms: d.FeedOhms + d.SinkOhms, Henries: d.Side.Henries,
				Limit: d.Limit,
				Dwell: d.Dwell}
			for _, share := range []float64{0.5, 0.75, 1} {
				x := share * d.Dwell
				got, want := up.At(coil.PrimaryAmps, x), math.Min(smooth.At(x), d.Limit)
				if math.Abs(got-want) > 0.02*smooth.End() {
					t.Errorf("%s %s: %.3g A at %.3g of the dwell, ramp %.3g", name, condition, got, share, want)
				}
			}
		}
	}
}
