package vehicle

import (
	"math"

	"nospark/scenarios/circuit"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/vehicle/coil"
)

// devices is a vehicle's parts with their values at hand, so that building a netlist looks nothing up.
type devices struct {
	pairs   []pair
	sources []sourceDevice
	pots    []potDevice
	starter *starterDevice
	relays  []relayDevice
	lamps   []filamentDevice
	diodes  []diodeDevice
	coils   []coilDevice // by channel
	spare   []coilDevice // coils that no module drives
	modules []moduleDevice
	halls   []hallDevice
	pickups []pickupDevice
	control *controlDevice
	fed     []fedDevice // all that does nothing without its supply, but for relays
}

// reset empties the devices and keeps their memory.
func (d *devices) reset() {
	clear(d.coils)
	*d = devices{pairs: d.pairs[:0], sources: d.sources[:0], pots: d.pots[:0], relays: d.relays[:0], lamps: d.lamps[:0],
		diodes: d.diodes[:0], coils: d.coils, spare: d.spare[:0], modules: d.modules[:0], halls: d.halls[:0],
		pickups: d.pickups[:0], fed: d.fed[:0]}
}

// listFed lists the sensors, the controller and the modules.
func (d *devices) listFed() {
	for i := range d.halls {
		h := &d.halls[i]
		d.fed = append(d.fed, fedDevice{h.part, h.feed, h.ground, h.minimum})
	}
	if c := d.control; c != nil {
		d.fed = append(d.fed, fedDevice{c.part, c.feed, c.ground, c.minimum})
	}
	for i := range d.modules {
		m := &d.modules[i]
		d.fed = append(d.fed, fedDevice{m.part, m.feed, m.ground, m.minimum})
	}
}

// fedDevice is a part that needs volts between two nodes.
type fedDevice struct {
	part         int
	feed, ground circuit.Node
	minimum      float64
}

// pair is any part that is a resistance between two pins.
type pair struct {
	part   int
	a, b   circuit.Node
	ohms   float64
	holder float64           // of a fuse: its holder's contacts, ohms
	closed cards.KeyPosition // key positions in which it conducts
	rating float64           // amperes of a fuse; 0 for other parts
}

type sourceDevice struct {
	part        int
	plus, minus circuit.Node
	volts, ohms float64
}

type potDevice struct {
	part                 int
	top, bottom, wiper   circuit.Node
	upperOhms, lowerOhms float64
}

type starterDevice struct {
	part                            int
	plus, minus                     circuit.Node
	ohms, speed, at, turns, slowRPM float64
}

type relayDevice struct {
	part                          int
	coilA, coilB, common, contact circuit.Node
	coilOhms, pullIn, ohms        float64
	stuck                         bool
}

type filamentDevice struct {
	part  int
	a, b  circuit.Node
	bulb  bulb
	burnt bool
}

type diodeDevice struct {
	part           int
	anode, cathode circuit.Node
	volts, ohms    float64
	shorted        bool // a broken one has infinite ohms
}

type coilDevice struct {
	part             int
	plus, minus      circuit.Node
	tower, foot      circuit.Node // ends of the secondary
	twin             bool         // two towers, no end of the secondary on the primary
	ohms, secondOhms float64
	leakOhms         float64
	side             coil.Secondary
}

type moduleDevice struct {
	part                                int
	feed, ground, trigger               circuit.Node
	commands, outs                      []circuit.Node
	minimum, quiescent, input, pullup   float64
	low, high, saturation, limit, clamp float64
	dwell10, dwell14                    float64 // seconds
	dwellShare                          float64 // of the time from spark to spark, at most; 0: see dwell
	dead, stuck                         bool
	deadOutput, stuckOutput             int // the one output that fails; 0 for none
}

// isDead reports whether an output, counted from 1, never closes.
func (m *moduleDevice) isDead(output int) bool { return m.dead || m.deadOutput == output }

// isStuck reports whether an output, counted from 1, never opens.
func (m *moduleDevice) isStuck(output int) bool { return m.stuck || m.stuckOutput == output }

type hallDevice struct {
	part                                         int
	feed, ground, signal                         circuit.Node
	minimum, supply, lowVolts, lowOhms, highPart float64
	given                                        float64 // share of its pulses that come
	senses                                       bool
}

type pickupDevice struct {
	part        int
	plus, minus circuit.Node
	ohms        float64
	perRPM      float64 // peak volts per 1/min
	given       float64 // share of its pulses that come
	reversed    bool
	shift       float64 // degrees of timing when reversed
}

type controlDevice struct {
	part                              int
	feed, ground, sync, ect, iat, ref circuit.Node // ref is -1 when no pin brings it out
	syncMinus                         circuit.Node // -1 but for a pickup's two wires
	pickupVolts                       float64
	commands                          []circuit.Node
	minimum, supply, refVolts         float64
	refOhms, syncPullup, syncOhms     float64
	ectPullup, iatPullup              float64
	low, high, commandOhms            float64
	dead, mute                        bool
	silentCommand                     int // the one command that stays low, counted from 1; 0 for none
}

// silent reports whether a command, counted from 0, stays low.
func (c *controlDevice) silent(command int) bool { return c.mute || c.silentCommand == command+1 }

// dwellAt is a module's on-time in seconds with volts at its feed: linear between 10 and 14 V, flat outside.
func (m *moduleDevice) dwellAt(volts float64) float64 {
	x := math.Max(0, math.Min(1, (volts-10)/4))
	return m.dwell10 + x*(m.dwell14-m.dwell10)
}
