package vehicle

import (
	"fmt"
	"math"
	"slices"

	"nospark/scenarios/circuit"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/vehicle/meter"
)

// Circuits are the steady circuits behind the readings of a condition, or behind one reading, for a simulator that is
// to repeat them.
type Circuits struct {
	RPM, Pulses, Firing float64     // of the engine, 1/min; of the sensor and of each coil, 1/s; 0: the engine stands
	Test                *pack.Test  // whose meter is in place; nil for none
	Reading             meter.Value // of Test
	LampOhms            float64     // of the lamp that Test puts across its leads; 0 for none
	Red, Black          circuit.Node
	Measured            bool           // Red and Black are where the meter's leads go
	Points              []circuit.Node // by test point of the pack
	Phases              []Phase        // those that fill the time in order, then the instants
}

// Phase is one steady circuit.
type Phase struct {
	Netlist   circuit.Netlist
	Situation string          // in words
	Share     float64         // of the time in averages; 0 for an instant
	Joined    bool            // a path joins the leads
	Part      circuit.Element // whose current a clamp on the test's part sees; -1 for none
}

// Circuits gives the circuits of a condition with the meter of a test in place (an index into the pack's Tests, -1 for
// none). Errors: a condition that the vehicle does not reach, also because of what the test unplugs; a test of another
// condition; a circuit that cannot be solved.
func (v *Vehicle) Circuits(condition, test int) (*Circuits, error) {
	c := &Circuits{}
	if test >= 0 {
		if c.Test = &v.l.p.Tests[test]; c.Test.Condition != condition {
			return nil, fmt.Errorf("test %q is made in condition %q, not in %q", c.Test.ID,
				v.l.p.Conditions[c.Test.Condition].ID, v.l.p.Conditions[condition].ID)
		}
		c.Reading = v.Read(test)
		if c.Test.Swap != nil {
			v = v.exchanged(c.Test.Swap[0], c.Test.Swap[1])
		}
	}
	calm := v
	v = v.under(v.provocation(condition))
	if !v.reaches(condition) || c.Reading.Phrase == pack.NotRunning {
		return nil, fmt.Errorf("the engine does not run in condition %q, so there is nothing to read",
			v.l.p.Conditions[condition].ID)
	}
	st := v.stateBehind(condition, c.Test)
	defer v.done(st)
	if v.err != nil {
		return nil, v.err
	}
	c.RPM, c.Pulses, c.Firing, c.LampOhms = st.rpm, st.pulses, st.firing, st.setup.lamp.ohms
	c.Points = v.l.node[:v.l.p.Points]
	if t := c.Test; t != nil && (t.Isolate || t.Red >= 0 && t.Black >= 0) {
		c.Red, c.Black = v.across(t)
		c.Measured = true
	}
	v.addPhases(c, st)
	if c.Test != nil && calm != v && v.takesTurns(c.Test) {
		calm.addPhases(c, calm.stateBehind(condition, c.Test))
	}
	return c, nil
}

// stateBehind is the state that a test is made in, nil for none.
func (v *Vehicle) stateBehind(condition int, t *pack.Test) *state {
	switch {
	case t == nil:
		v.blowFuses()
		return v.plain(condition)
	case t.Isolate:
		return v.onTheTable(t)
	}
	return v.state(t)
}

// which phases an instrument looks at.
type sight uint8

const (
	everything sight = iota
	averages         // the phases that fill the time
	moments          // the ends of phases, which counters and peak ammeters see
	holds            // what lasts a millisecond
	peaks            // the pickup's two
	still            // the one in which an ohmmeter measures
)

func (v *Vehicle) looksAt(c *Circuits, st *state) sight {
	if c.Test == nil {
		return everything
	}
	switch c.Test.Instrument.ID {
	case "voltmeter", "loaded-drop", "test-lamp", "load-lamp":
		return averages
	case "ac-voltmeter":
		if st.low != nil && len(v.dev.pickups) > 0 && st.wave(c.Red, c.Black) > leastWave {
			return peaks
		}
		return averages
	case "max-hold", "min-hold":
		return holds
	case "frequency", "duty", "ammeter", cards.ScopeCurrent, cards.ScopePrimary, cards.ScopeSignal, cards.ScopeWave:
		return moments
	case "ohmmeter":
		if c.Reading.Phrase == pack.Live {
			return moments
		}
		return still
	}
	return everything
}

// wave is the amplitude of a pickup's wave between the leads, volts.
func (st *state) wave(red, black circuit.Node) float64 {
	return math.Abs(st.high.metered(red, black)-st.low.metered(red, black)) / 2
}

// addPhases lists the phases of a state, each once.
func (v *Vehicle) addPhases(c *Circuits, st *state) {
	var seen []*solved
	add := func(sol *solved, share float64) {
		if slices.Contains(seen, sol) {
			return
		}
		seen = append(seen, sol)
		var w wiring
		v.build(&st.setup, &st.on, sol.phase, &w)
		ph := Phase{Netlist: v.pool.net, Situation: v.situation(st, sol.phase, share), Share: share, Part: none,
			Joined: c.Measured && sol.Connected(c.Red, c.Black)}
		v.pool.net = circuit.Netlist{} // what was built is the phase's from now on
		if c.Test != nil && c.Test.Part >= 0 {
			ph.Part = w.parts[c.Test.Part]
		}
		c.Phases = append(c.Phases, ph)
	}
	sight := v.looksAt(c, st)
	switch sight {
	case still:
		add(st.high, 0)
		return
	case peaks:
		add(st.high, 0)
		add(st.low, 0)
		return
	case holds:
		v.lasting(st, func(sol *solved) { add(sol, 0) })
		return
	}
	if sight != moments {
		for _, ph := range st.mean {
			add(ph.solved, ph.share)
		}
	}
	if sight != averages {
		st.instants(func(sol *solved) { add(sol, 0) })
	}
}

// situation says in words what happens in a phase.
func (v *Vehicle) situation(st *state, ph phase, share float64) string {
	where := v.sensorInWords(st, ph)
	if ph.channel < 0 {
		switch {
		case st.rpm == 0:
			return "nothing moves"
		case ph.emf != nil && slices.ContainsFunc(ph.emf, func(x float64) bool { return x != 0 }):
			return where + "coils at rest, each with the mean voltage at which it gives up its energy"
		}
		return where + "coils at rest"
	}
	coil := v.id(v.l.channels[ph.channel].coil)
	switch ph.drive {
	case closed:
		return where + coil + ": switch just closed, no current yet"
	case charging:
		when := " at one moment"
		if share > 0 {
			when = " on average"
		}
		return where + fmt.Sprintf("%s: charging, %.4g A", coil, ph.amps) + when
	case limiting:
		return where + fmt.Sprintf("%s: held at the limit of %.4g A", coil, ph.amps)
	case pulled:
		return where + coil + ": switch closed, but the coil takes no current"
	}
	return where + coil + ": commanded, but the switch does not follow"
}

func (v *Vehicle) sensorInWords(st *state, ph phase) string {
	switch {
	case st.rpm == 0 || v.l.sensor < 0:
		return ""
	case v.l.kinds[v.l.sensor] == "pickup" && ph.high:
		return "pickup at one peak, "
	case v.l.kinds[v.l.sensor] == "pickup":
		return "pickup at the other peak, "
	case ph.high:
		return "sensor output open, "
	}
	return "sensor output closed, "
}
