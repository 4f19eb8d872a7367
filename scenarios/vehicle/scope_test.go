package vehicle

import (
	"fmt"
	"math"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/pack/packtest"
	"nospark/scenarios/testrun"
	"nospark/scenarios/vehicle/coil"
	"nospark/scenarios/vehicle/trace"
)

// at is a trace at a time, on a straight line between its entries.
func at(tr trace.Trace, x float64) float64 {
	for i := 1; i < len(tr.X); i++ {
		if tr.X[i] >= x && tr.X[i] > tr.X[i-1] {
			return tr.Y[i-1] + (tr.Y[i]-tr.Y[i-1])*(x-tr.X[i-1])/(tr.X[i]-tr.X[i-1])
		}
	}
	return tr.Y[len(tr.Y)-1]
}

// measured reads the features off a picture as one would with a ruler.
func measured(instrument string, tr trace.Trace) features {
	low, high := tr.Extremes()
	switch instrument {
	case cards.ScopeCurrent:
		return measuredRamp(tr, low, high)
	case cards.ScopePrimary:
		return measuredPrimary(tr, low, high)
	case cards.ScopeSecondary:
		return measuredLine(tr)
	}
	f := features{swing: high - low, low: low}
	switch instrument {
	case cards.ScopeSignal:
		f.stays = measuredStays(tr, (low+high)/2)
	case cards.ScopeWave:
		f.stays = measuredWaves(tr, low, high)
	}
	return f
}

// measuredWaves: the longest time from one rise through three quarters of a wave's height to the next, beside the time of
// one wave, which is above that line for a third of it.
func measuredWaves(tr trace.Trace, low, high float64) float64 {
	line, rise, longest, wave := low+0.75*(high-low), math.NaN(), 0.0, 0.0
	for i := 1; i < len(tr.X); i++ {
		switch up, was := tr.Y[i] >= line, tr.Y[i-1] >= line; {
		case up && !was:
			if !math.IsNaN(rise) {
				longest = math.Max(longest, tr.X[i]-rise)
			}
			rise = tr.X[i]
		case was && !up && !math.IsNaN(rise):
			wave = math.Max(wave, 3*(tr.X[i]-rise))
		}
	}
	if wave == 0 {
		return 0 // flat
	}
	return longest / wave
}

// measuredStays: how long the trace stays above its middle without a break, beside how long it stays below.
func measuredStays(tr trace.Trace, middle float64) float64 {
	longest, since := [2]float64{}, tr.X[0]
	side := func(i int) int {
		if tr.Y[i] > middle {
			return 1
		}
		return 0
	}
	for i := range tr.X {
		if i > 0 && side(i) != side(i-1) {
			since = tr.X[i]
		}
		longest[side(i)] = math.Max(longest[side(i)], tr.X[i]-since)
	}
	if longest[0] == 0 || longest[1] == 0 {
		return 0 // flat
	}
	return longest[1] / longest[0]
}

// measuredRamp: where the current begins, how far it comes in the first 0.4 ms, how high it is before it breaks off.
func measuredRamp(tr trace.Trace, low, high float64) features {
	if high-low < 0.02 {
		return features{level: high}
	}
	begins := 0.0
	for i := range tr.X {
		if tr.X[i] < 0 && tr.Y[i] < 0.005*high {
			begins = tr.X[i]
		}
	}
	early := math.Min(0.4e-3, -begins/2)
	return features{peak: at(tr, -1e-7), dwell: -begins, slope: at(tr, begins+early) / early}
}

// measuredPrimary: the level at rest, before the switch closes; how long it stays closed, and how high the level is two
// milliseconds later; after the spike the line, which begins where the voltage has fallen by half within 5 us for the last
// time, and ends where it leaves the line upwards or through the level at rest.
func measuredPrimary(tr trace.Trace, low, high float64) features {
	if high-low < 30 {
		return features{calm: high}
	}
	begins, calm := 0.0, at(tr, -0.9*SignalSeconds)
	for i := range tr.X {
		if tr.X[i] < 0 && tr.Y[i] > 0.9*calm {
			begins = tr.X[i]
		}
	}
	calm = at(tr, begins-1e-6)
	f := features{calm: calm, dwell: -begins, low: at(tr, begins+math.Min(floorTime, -begins/2)), peak: high}
	starts := math.Inf(1)
	for x := 1e-6; x < 300e-6; x += 1e-6 {
		if at(tr, x+5e-6)-calm < 0.5*(at(tr, x)-calm) && at(tr, x) > calm+10 {
			starts = x + 5e-6
		}
	}
	line := math.Inf(1)
	for i := range tr.X {
		if tr.X[i] < starts {
			continue
		}
		if line = math.Min(line, tr.Y[i]); tr.Y[i] > line+2 || tr.Y[i] < calm-2 {
			f.burn = tr.X[i] - starts
			break
		}
	}
	return f
}

// measuredLine: the height of the firing line; a spark takes it down within 5 us, and its line ends where the voltage
// leaves it, upwards or through 0.
func measuredLine(tr trace.Trace) features {
	top := 0
	for i, y := range tr.Y {
		if tr.X[i] > 0 && (tr.X[top] <= 0 || y > tr.Y[top]) {
			top = i
		}
	}
	f := features{peak: 1e3 * tr.Y[top]}
	if at(tr, tr.X[top]+5e-6) > 0.6*tr.Y[top] {
		return f
	}
	line := math.Inf(1)
	for i := top; i < len(tr.X); i++ {
		if tr.Y[i] > 0.6*tr.Y[top] && math.IsInf(line, 1) || tr.X[i] < tr.X[top]+5e-6 {
			continue
		}
		if line = math.Min(line, tr.Y[i]); tr.Y[i] > line+0.2 || tr.Y[i] < 0 {
			f.burn = tr.X[i] - tr.X[top]
			break
		}
	}
	return f
}

// drawn is everything that a picture depends on.
func (v *Vehicle) drawn(t *testing.T, test *pack.Test) (f features, d coil.Discharge) {
	t.Helper()
	v = v.under(v.provocation(test.Condition))
	v.blowFuses()
	if !v.reaches(test.Condition) {
		return features{}, coil.Discharge{}
	}
	st, k, i := v.state(test), v.l.channelOf(max(0, test.Part)), 0
	switch test.Instrument.ID {
	case cards.ScopeSecondary:
		i = v.l.cylinderAt(test.Red)
		k = v.l.towers[test.Red].channel
	case cards.ScopePrimary:
		i = v.l.firstOf(k)
	}
	if k >= 0 && st.rpm > 0 && st.charges[k].amps > 0 {
		seen, err := v.discharge(st, k, i)
		if err != nil {
			t.Fatal(err)
		}
		d = *seen
	}
	return v.features(st, test), d
}

// Every picture shows what is said of it: of every fault of every pack, mild, middling and severe, the features that
// are measured in the drawn trace give the words of the reading, beside those measured in the picture of the healthy
// vehicle. The readings come from closed forms, the pictures from the coil followed in time.
func TestPicturesShowWhatIsSaid(t *testing.T) {
	testrun.Slow(t, "draws every picture")
	pictures, words := 0, map[string]int{}
	for _, name := range packtest.Packs(t) {
		b := loaded(t, name)
		good, drawn := map[int]features{}, map[string]bool{}
		look := func(label string, v *Vehicle) {
			for i := range b.p.Tests {
				test := &b.p.Tests[i]
				if !test.Instrument.Scope() {
					continue
				}
				f, d := v.drawn(t, test)
				key := fmt.Sprint(i, f, d)
				if drawn[key] {
					continue // the same signal, or the same coil charged and loaded in the same way
				}
				drawn[key] = true
				tr, err := v.Picture(i)
				if err != nil {
					t.Fatalf("%s %s %s: %v", name, label, test.ID, err)
				}
				f = measured(test.Instrument.ID, tr)
				if v == b.v {
					good[i] = f
				}
				phrase := v.Read(i).Phrase
				words[phrase]++
				pictures++
				if phrase == pack.NotRunning {
					if low, high := tr.Extremes(); low != 0 || high != 0 {
						t.Errorf("%s %s %s: the engine does not run, the trace goes from %g to %g", name, label,
							test.ID, low, high)
					}
					continue
				}
				if seen := judged(test.Instrument.ID, f, good[i]); seen != phrase {
					t.Errorf("%s %s %s: reads %q, the picture shows %q: %+v, good %+v", name, label, test.ID, phrase,
						seen, f, good[i])
				}
			}
		}
		look("healthy", b.v)
		for _, f := range b.p.Faults {
			for _, severity := range severities(f) {
				v := Healthy(b.p)
				v.Apply(f, severity)
				look(fmt.Sprintf("%s at %g", f.ID, severity), v)
			}
		}
	}
	t.Logf("%d pictures: %v", pictures, words)
	if least := testrun.Times(t, 1000, 400); pictures < least {
		t.Errorf("only %d pictures", pictures)
	}
}
