package lint

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"sync"

	"nospark/scenarios/pack"
	"nospark/scenarios/vehicle"
	"nospark/scenarios/vehicle/meter"
)

// Draws for the lint. They are drawn as those of a sheet: the main value of each part within its tolerance, the
// severity within its range, one gain error per meter, the last digits anew for each reading.

// seedLint keeps the lint's sequences apart from others of the same generator.
const seedLint = 0x6e6f737061726b

func sequence(fault, draw int) *rand.Rand {
	return rand.New(rand.NewPCG(seedLint, uint64(fault+1)<<32|uint64(draw)))
}

// even is uniform within -1..1.
func even(r *rand.Rand) float64 { return 2*r.Float64() - 1 }

// drawnVehicle is a vehicle within its tolerances; fault -1 for none.
func drawnVehicle(healthy *vehicle.Vehicle, p *pack.Pack, fault int, r *rand.Rand) *vehicle.Vehicle {
	v := healthy.Clone()
	spread := make([]float64, len(p.Parts))
	for i := range spread {
		spread[i] = even(r)
	}
	v.Spread(func(part int) float64 { return spread[part] })
	if severity := r.Float64(); fault >= 0 {
		v.Apply(p.Faults[fault], severity)
	}
	return v
}

// drawnMeter gives the errors of a set of meters.
func drawnMeter(p *pack.Pack, r *rand.Rand) func(test int) meter.Error {
	gain := map[string]float64{}
	errors := make([]meter.Error, len(p.Tests))
	for i := range p.Tests {
		unit := p.Tests[i].Instrument.Unit
		if _, known := gain[unit]; !known {
			gain[unit] = even(r)
		}
		errors[i] = meter.Error{Gain: gain[unit], Offset: even(r)}
	}
	return func(test int) meter.Error { return errors[test] }
}

// edges draws healthy vehicles and names the tests that read outside their normal bands, and how often.
func (l *linter) edges(draws int) {
	outside := make([]map[uint8]int, len(l.p.Tests))
	for n := range draws {
		r := sequence(-1, n)
		v := drawnVehicle(l.healthy, l.p, -1, r)
		shown := v.Shown(drawnMeter(l.p, r))
		for t := range shown {
			b := v.BandAmong(t, shown)
			if band := l.p.Tests[t].Bands[b]; band.Normal || band.Silent {
				continue
			}
			if outside[t] == nil {
				outside[t] = map[uint8]int{}
			}
			outside[t][b]++
		}
	}
	for i, counts := range outside {
		t := &l.p.Tests[i]
		for b := range t.Bands {
			if n := counts[uint8(b)]; n > 0 {
				l.warn(t.Line, "edge", t.ID, "move the edge, or tighten the tolerances",
					"test %q reads %q on %d of %d healthy vehicles (%s %%)",
					t.ID, t.Bands[b].Name, n, draws, percent(n, draws))
			}
		}
	}
}

// percent with one decimal.
func percent(n, of int) string { return fmt.Sprintf("%.1f", 100*float64(n)/float64(of)) }

// Refusals is how often a sheet with a fault would have to be drawn again, and why.
type Refusals struct {
	Draws, Refused int
	Why            []Reason // most frequent first
}

// Reason is a reading that no row of the fault has beside the readings before it.
type Reason struct {
	Test  int // index into the pack's Tests; -1: the bands fit a row, the complaint does not
	Band  uint8
	Count int
}

// CountRefusals draws vehicles with a fault and counts those that fit none of its rows in m. The sequence of draws is
// fixed.
func CountRefusals(p *pack.Pack, m *vehicle.Matrix, fault, draws int) Refusals {
	out := Refusals{Draws: draws}
	healthy := vehicle.Healthy(p)
	for n := range draws {
		r := sequence(fault, n)
		v := drawnVehicle(healthy, p, fault, r)
		why, ok := fits(p, v, m, fault, drawnMeter(p, r))
		if ok {
			continue
		}
		out.Refused++
		at := slices.IndexFunc(out.Why, func(o Reason) bool { return o.Test == why.Test && o.Band == why.Band })
		if at < 0 {
			at = len(out.Why)
			out.Why = append(out.Why, why)
		}
		out.Why[at].Count++
	}
	slices.SortStableFunc(out.Why, func(a, b Reason) int { return b.Count - a.Count })
	return out
}

// fits tells whether the shown readings and the complaint are those of one row of the fault, and if not, where the last
// row was lost.
func fits(p *pack.Pack, v *vehicle.Vehicle, m *vehicle.Matrix, fault int, errs func(int) meter.Error) (Reason,
	bool) {
	var alive []*vehicle.Row
	for i := range m.Rows {
		if m.Rows[i].Fault == fault {
			alive = append(alive, &m.Rows[i])
		}
	}
	// Each test is read once, and no further than to the first that fits no row: most of the time goes into settling
	// lamps.
	tests := p.Tests
	values, shown, plain := make([]meter.Value, len(tests)), make([]meter.Shown, len(tests)),
		make([]meter.Shown, len(tests))
	read := make([]bool, len(tests))
	show := func(t int) {
		if !read[t] {
			values[t], read[t] = v.Read(t), true
			shown[t], plain[t] = meter.Show(tests[t].Instrument, values[t], errs(t)),
				meter.Show(tests[t].Instrument, values[t], meter.Error{})
		}
	}
	for t := range tests {
		show(t)
		if with := tests[t].Compare; with >= 0 {
			show(with)
		}
		b := v.BandAmong(t, shown)
		if alive = slices.DeleteFunc(alive, func(r *vehicle.Row) bool { return r.Bands[t] != b }); len(alive) == 0 {
			return Reason{Test: t, Band: b}, false
		}
	}
	bands := make([]uint8, len(tests))
	for t := range tests {
		bands[t] = v.BandAmong(t, plain)
	}
	complaint := v.ComplaintOf(bands)
	return Reason{Test: -1}, v.Err() == nil && slices.ContainsFunc(alive,
		func(r *vehicle.Row) bool { return r.Complaint == complaint })
}

// refusedMost is the share of refused draws, in percent, above which a fault is warned of.
const refusedMost = 20

// refusals counts for all faults, on all cores.
func (l *linter) refusals(m *vehicle.Matrix, draws int, progress func(done, total int)) {
	counts := make([]Refusals, len(l.p.Faults))
	next, done := make(chan int, len(counts)), make(chan struct{}, len(counts))
	var workers sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		workers.Go(func() {
			for i := range next {
				counts[i] = CountRefusals(l.p, m, i, draws)
				done <- struct{}{}
			}
		})
	}
	for i := range counts {
		next <- i
	}
	close(next)
	for i := range counts {
		<-done
		if progress != nil {
			progress(i+1, len(counts))
		}
	}
	workers.Wait()
	for i, c := range counts {
		if 100*c.Refused > refusedMost*c.Draws {
			f := &l.p.Faults[i]
			l.warn(f.Line, "refused", f.ID, "move its range or the edges away from each other",
				"fault %q: %d of %d drawn vehicles fit none of its rows, %s",
				f.ID, c.Refused, c.Draws, c.because(l.p))
		}
	}
}

// because names the three most frequent reasons.
func (c Refusals) because(p *pack.Pack) string {
	var texts []string
	for _, w := range c.Why[:min(3, len(c.Why))] {
		if w.Test < 0 {
			texts = append(texts, fmt.Sprintf("%d for another complaint", w.Count))
			continue
		}
		t := &p.Tests[w.Test]
		texts = append(texts, fmt.Sprintf("%d because test %q read %q", w.Count, t.ID, t.Bands[w.Band].Name))
	}
	return strings.Join(texts, ", ")
}
