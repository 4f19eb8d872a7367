package vehicle

import (
	"fmt"
	"io"
	"math"
	"slices"

	"nospark/scenarios/circuit"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
)

// WriteNetlist opens the books: it writes the circuits behind a condition's readings as one file that ngspice runs as it is
// (ngspice -b FILE). title is its first line.
//
// Each settled phase is a subcircuit with the operating point as solved, comments tell its situation and its share of time. With a test
// (an index into the pack's Tests, -1 for none) the meter is in place in every phase that the instrument looks at, and the node
// "reading" has the true reading in volts, ohms or amperes. Instruments that show something else than a voltage, current or
// resistance get a comment that says how the reading follows. The lamps are part of the circuit: their phases are those of the vehicle
// with the lamp in place, and the node "reading" has the lamp's mean voltage.
//
// Errors: a condition that the vehicle does not reach, also because of what the test unplugs; a test of another condition; a circuit
// that cannot be solved; the writer's.
func (v *Vehicle) WriteNetlist(w io.Writer, title string, condition, test int) error {
	b := book{v: v, title: title}
	if test >= 0 {
		if b.test = &v.l.p.Tests[test]; b.test.Condition != condition {
			return fmt.Errorf("test %q is made in condition %q, not in %q", b.test.ID,
				v.l.p.Conditions[b.test.Condition].ID, v.l.p.Conditions[condition].ID)
		}
		b.reading = v.Read(test)
		if b.test.Swap != nil {
			v = v.exchanged(b.test.Swap[0], b.test.Swap[1])
			b.v = v
		}
	}
	if !v.reaches(condition) || b.reading.Phrase == pack.NotRunning {
		return fmt.Errorf("the engine does not run in condition %q, so there is nothing to read", v.l.p.Conditions[condition].ID)
	}
	switch {
	case b.test == nil:
		v.blowFuses()
		b.st = v.plain(condition)
	case b.test.Isolate:
		b.st = v.onTheTable(b.test)
	default:
		b.st = v.state(b.test)
	}
	defer v.done(b.st)
	if v.err != nil {
		return v.err
	}
	b.pages = b.st.pages(b.looksAt())
	return b.write(w)
}

// book is what goes into one file.
type book struct {
	v       *Vehicle
	title   string
	st      *state
	test    *pack.Test // nil for none
	reading Value
	pages   []page
}

// page is one phase.
type page struct {
	*solved
	share float64 // of the time in averages; 0 for an instant
}

// sight is which phases an instrument looks at.
type sight uint8

const (
	everything sight = iota
	averages         // the phases that fill the time
	moments          // the ends of phases, which hold functions and counters see
	peaks            // the pickup's two
	still            // the one in which an ohmmeter measures
)

func (b *book) looksAt() sight {
	if b.test == nil {
		return everything
	}
	switch b.test.Instrument.ID {
	case "voltmeter", "test-lamp", "load-lamp":
		return averages
	case "ac-voltmeter":
		if b.st.low != nil && len(b.v.dev.pickups) > 0 && b.wave() > leastWave {
			return peaks
		}
		return averages
	case "max-hold", "min-hold", "frequency", "duty", "ammeter":
		return moments
	case "ohmmeter":
		if b.reading.Phrase == pack.Live {
			return moments
		}
		return still
	}
	return everything
}

// wave is the amplitude of a pickup's wave between the leads, volts.
func (b *book) wave() float64 {
	red, black := b.v.node(b.test.Red), b.v.node(b.test.Black)
	return math.Abs(b.st.high.metered(red, black)-b.st.low.metered(red, black)) / 2
}

// pages lists the phases of a state, each once: those that fill the time in order, then the instants.
func (st *state) pages(s sight) []page {
	var list []page
	add := func(sol *solved, share float64) {
		if !slices.ContainsFunc(list, func(p page) bool { return p.solved == sol }) {
			list = append(list, page{sol, share})
		}
	}
	if s == still || s == peaks {
		add(st.high, 0)
		if s == peaks {
			add(st.low, 0)
		}
		return list
	}
	if s != moments {
		for _, ph := range st.mean {
			add(ph.solved, ph.share)
		}
	}
	if s != averages {
		st.instants(func(sol *solved) { add(sol, 0) })
	}
	return list
}

// leads are the netlist nodes that the meter is put across.
func (b *book) leads() (red, black circuit.Node, ok bool) {
	t := b.test
	if t == nil || !t.Isolate && (t.Red < 0 || t.Black < 0) {
		return 0, 0, false
	}
	red, black = b.v.across(t)
	return red, black, true
}

// situation says in words what happens in a phase.
func (b *book) situation(p page) string {
	ph, where := p.phase, ""
	if b.st.rpm > 0 && b.v.l.sensor >= 0 {
		switch {
		case b.v.l.kinds[b.v.l.sensor] == "pickup":
			where = "pickup at one peak, "
			if !ph.high {
				where = "pickup at the other peak, "
			}
		case ph.high:
			where = "sensor output open, "
		default:
			where = "sensor output closed, "
		}
	}
	if ph.channel < 0 {
		switch {
		case b.st.rpm == 0:
			return "nothing moves"
		case ph.emf != nil && slices.ContainsFunc(ph.emf, func(x float64) bool { return x != 0 }):
			return where + "coils at rest, each with the mean voltage at which it gives up its energy"
		}
		return where + "coils at rest"
	}
	coil := b.v.id(b.v.l.channels[ph.channel].coil)
	switch ph.drive {
	case closed:
		return where + coil + ": switch just closed, no current yet"
	case charging:
		return where + fmt.Sprintf("%s: charging, %.4g A", coil, ph.amps) + b.when(p)
	case limiting:
		return where + fmt.Sprintf("%s: held at the limit of %.4g A", coil, ph.amps)
	case pulled:
		return where + coil + ": switch closed, but the coil takes no current"
	}
	return where + coil + ": commanded, but the switch does not follow"
}

// when tells the mean of a ramp from its end.
func (b *book) when(p page) string {
	if p.share > 0 {
		return " on average"
	}
	return " just before the switch opens"
}

// value writes the reading in SI units.
func (b *book) value() string {
	switch {
	case b.reading.Phrase != "":
		return b.reading.Phrase
	case math.IsInf(b.reading.Number, 1):
		return cards.OverRange
	}
	return fmt.Sprintf("%.12g %s", b.reading.Number, b.test.Instrument.SI)
}
