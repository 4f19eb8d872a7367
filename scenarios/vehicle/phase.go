package vehicle

import (
	"math"
	"slices"

	"nospark/scenarios/circuit"
	"nospark/scenarios/vehicle/coil"
)

// setup is what the mechanic has arranged: a condition, parts taken off, a lamp across two points.
type setup struct {
	condition int
	gone      []bool // by part; nil for none
	table     bool   // the part that is left lies on the table
	lamp      lamp
}

func (s *setup) has(part int) bool { return s.gone == nil || !s.gone[part] }

// lamp is a load across two points; ohms 0 means none.
type lamp struct {
	red, black circuit.Node
	bulb       bulb
	ohms       float64 // at its present voltage
}

// drive is what a driver does with its coil in a phase.
type drive uint8

const (
	rest      drive = iota // switch open
	closed                 // switch just closed: the inductance still carries nothing
	charging               // switch closed, the inductance carries the phase's current
	limiting               // the switch holds the current at its limit
	pulled                 // switch closed on a coil that cannot carry current
	commanded              // commanded, but the switch does not follow
)

// phase is one of the steady situations between which a running engine switches; voltages in it are averages over its
// time.
type phase struct {
	high    bool      // the sensor's output is open, or the pickup at its positive peak
	rpm     float64   // of the engine
	channel int       // whose coil is driven, -1 for none
	drive   drive     // of that channel; all others rest
	amps    float64   // through the coil while charging or limiting
	blocked uint64    // by the order of the outputs that only sink: those that would have to push current out
	hot     []float64 // by filament: its resistance, ohms; nil for that at the test voltage
	// by channel: mean voltage of the inductance, - above +, while it delivers its energy; nil for none
	emf []float64
}

// wiring tells where things are in the netlist just built.
type wiring struct {
	parts  []circuit.Element // by part: the element whose current a clamp on the part sees; -1 for none
	middle []circuit.Node    // by channel: between the winding's resistance and its inductance
	ref    circuit.Node      // the controller's reference
	drive  circuit.Element   // the inductance that carries the phase's current; -1 for none
	sinks  []circuit.Element // closed outputs of semiconductors, which take current in and give none out; -1: blocked
}

// reset empties the wiring and keeps its memory.
func (w *wiring) reset(parts, channels int) {
	w.parts, w.middle = slices.Grow(w.parts[:0], parts), slices.Grow(w.middle[:0], channels)
	w.sinks, w.ref, w.drive = w.sinks[:0], nowhere, none
	for range parts {
		w.parts = append(w.parts, none)
	}
	for range channels {
		w.middle = append(w.middle, nowhere)
	}
}

func (w *wiring) copy(from *wiring) {
	w.parts, w.middle = append(w.parts[:0], from.parts...), append(w.middle[:0], from.middle...)
	w.sinks, w.ref, w.drive = append(w.sinks[:0], from.sinks...), from.ref, from.drive
}

const none circuit.Element = -1

// MeterOhms loads every voltmeter. Source: a 6,000-count meter's manual, "over 10 Mohm".
const MeterOhms = 10e6

// solved is a solution with its wiring and what it is the solution of.
type solved struct {
	circuit.Solution
	wiring
	phase phase
}

// pool keeps solutions and states that are no longer needed for their memory, and the netlist that circuits are written
// into.
type pool struct {
	free   []*solved
	states []*state
	net    circuit.Netlist // remembers the shapes of circuits, so variants of a vehicle share it too
	begun  begun           // what net begins with
}

func (p *pool) takeState() *state {
	if n := len(p.states); n > 0 {
		st := p.states[n-1]
		p.states = p.states[:n-1]
		return st
	}
	return new(state)
}

func (p *pool) take() *solved {
	if n := len(p.free); n > 0 {
		sol := p.free[n-1]
		p.free = p.free[:n-1]
		return sol
	}
	return new(solved)
}

func (p *pool) give(sol *solved) {
	if sol != nil {
		p.free = append(p.free, sol)
	}
}

// through is the current in a part, amperes; 0 when it is not in the circuit.
func (s *solved) through(part int) float64 {
	if s.parts[part] == none {
		return 0
	}
	return s.Amps(s.parts[part])
}

// metered is the voltage with a 10 Mohm meter in place.
func (s *solved) metered(red, black circuit.Node) float64 {
	volts, ohms := s.Thevenin(red, black)
	if math.IsInf(ohms, 1) {
		return 0
	}
	return volts * MeterOhms / (MeterOhms + ohms)
}

// volts is what an averaging dc voltmeter shows: the mean over all phases, each through its own source resistance.
func (st *state) volts(red, black circuit.Node) float64 {
	sum := 0.0
	for _, ph := range st.mean {
		sum += ph.share * ph.metered(red, black)
	}
	return sum
}

// awake tells which parts work.
type awake struct {
	part    []bool // powered
	active  []bool // a controller that commands, a module that has its trigger
	channel []bool // a driver's output that has its command
}

// charge is what one channel does in a turning engine.
type charge struct {
	ramp  coil.Ramp
	time  float64 // dwell, s
	hold  float64 // part of it at the limit, s
	amps  float64 // at switch-off
	start *solved // switch just closed, or commanded in vain; nil when nothing happens
	end   *solved // just before it opens

	floor       *solved // at the time at which a picture's floor is read; solved when first asked for
	early, late *solved // a millisecond after start, a millisecond before end; solved when first asked for

	known               bool // that the currents then are known, which are
	earlyAmps, lateAmps float64
}

// lasts is how long a voltage must last for a hold function of a meter to keep it, and for a part that it starves to
// stop. Source: a requirement for the hold function of meters; for parts: common practice, no source.
const lasts = 1e-3

// inDwell are the currents of a coil a millisecond after the switch has closed and a millisecond before it opens; ok is
// false in a dwell too short for either.
func (ch *charge) inDwell() (early, late float64, ok bool) {
	if ch.time < lasts {
		return 0, 0, false
	}
	if !ch.known {
		ch.known = true
		ch.earlyAmps, ch.lateAmps = math.Min(ch.ramp.At(lasts), ch.amps), math.Min(ch.ramp.At(ch.time-lasts), ch.amps)
	}
	return ch.earlyAmps, ch.lateAmps, true
}

// state is the settled vehicle in one setup.
type state struct {
	setup   setup
	rpm     float64 // of the engine; 0: it stands
	pulses  float64 // of the sensor, 1/s; those that come
	firing  float64 // of each channel, 1/s; those that come
	on      awake
	low     *solved // sensor output closed, coils at rest; nil while the engine stands
	high    *solved // sensor output open, coils at rest
	charges []charge
	mean    []weighted       // all phases with their shares of time
	own     []*solved        // all of the above and those on the way there
	emf     []float64        // by channel: of coils that deliver their energy, volts
	beside  map[bulb]float64 // the effective voltage of a lamp across the battery, once it was asked for
	plugs   []keptCylinder   // by plug of the pack
	looked  int              // the vehicle's changes when cylinders were last looked at
	margin  float64          // the least distance of a voltage from a threshold that decided something, volts
}

// weighted is a phase with its share of the time.
type weighted struct {
	*solved
	share float64
}

// stateKey names a setup without a lamp: tests that differ only in where the leads of a high-resistance meter go share
// a state.
type stateKey struct {
	condition int
	unplug    string // the parts taken off, as a string of bytes
}

// bulb is a tungsten lamp by its current at a test voltage.
type bulb struct{ volts, amps float64 }

// keptCylinder is a cylinder that somebody has looked at since the vehicle's values last changed.
type keptCylinder struct {
	is bool
	cylinder
}

// begun is the part of a netlist that is the same in every phase of a setup.
type begun struct {
	of       *Vehicle // with the values that it has; nil for none
	setup    setup
	elements int
	parts    []circuit.Element // by part, as in a wiring
}

// cylinder is one plug in one state.
type cylinder struct {
	available float64 // volts that reach the plug with everything connected
	required  float64 // volts the plug's gap needs
	rotor     float64 // volts the rotor gap or the partner's plug needs on top
	own       bool    // no lead or terminal on the way there is open, nor the plug itself
	whole     bool    // nor on the way back, through the partner's plug of a twin coil
	seconds   float64 // that the spark burns; 0 when none jumps
	fires     bool
}
