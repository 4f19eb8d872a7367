package vehicle

import (
	"math"
	"strings"

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

// decode fills the devices from the values.
func (v *Vehicle) decode() *devices {
	if v.dev != nil {
		return v.dev
	}
	d := v.idleDev
	if d == nil {
		d = &devices{coils: make([]coilDevice, len(v.l.channels))}
	}
	d.reset()
	for i, kind := range v.l.kinds {
		switch kind {
		case "battery":
			d.sources = append(d.sources, sourceDevice{i, v.at(i, 0), v.at(i, 1), v.charged(i),
				v.value(i, "resistance_ohms")})
		case "starter":
			d.starter = &starterDevice{i, v.at(i, 0), v.at(i, 1), v.value(i, "resistance_ohms"),
				v.value(i, "speed_rpm"),
				v.value(i, "at_volts"), v.value(i, "turns_above_volts"), v.value(i, "slow_below_rpm")}
		case "relay":
			d.relays = append(d.relays, relayDevice{i, v.at(i, 0), v.at(i, 1), v.at(i, 2), v.at(i, 3),
				v.value(i, "coil_ohms"), v.value(i, "pull_in_volts"), v.value(i, "resistance_ohms"), v.is(i,
					"stuck_closed")})
		case "filament":
			volts := v.value(i, "test_volts")
			d.lamps = append(d.lamps, filamentDevice{i, v.at(i, 0), v.at(i, 1),
				bulb{volts, v.value(i, "test_watts") / volts},
				v.is(i, "burnt_out")})
		case "diode":
			diode := diodeDevice{i, v.at(i, 0), v.at(i, 1), v.value(i, "forward_volts"), v.value(i, "forward_ohms"),
				v.is(i, "shorted")}
			if v.is(i, "broken") {
				diode.ohms, diode.shorted = math.Inf(1), false
			}
			d.diodes = append(d.diodes, diode)
		case "potentiometer":
			ohms, share := v.value(i, "resistance_ohms"), v.value(i, "position")
			d.pots = append(d.pots, potDevice{i, v.at(i, 0), v.at(i, 1), v.at(i, 2), ohms * (1 - share), ohms * share})
		case "coil":
			v.decodeCoil(d, i, v.at(i, 0), v.at(i, 1))
		case "pencil-coil":
			v.decodeCoil(d, i, v.named(i, "feed"), v.l.inner[i])
			d.modules = append(d.modules, v.decodeModule(i))
		case "module":
			d.modules = append(d.modules, v.decodeModule(i))
		case "hall":
			d.halls = append(d.halls, v.decodeHall(i))
		case "pickup":
			d.pickups = append(d.pickups, v.decodePickup(i))
		case "controller":
			d.control = v.decodeControl(i)
		case "distributor": // gaps all over: no path for direct current
		default:
			d.pairs = append(d.pairs, v.decodePair(i, kind))
		}
	}
	d.listFed()
	v.dev, v.idleDev = d, nil
	return d
}

// at is the netlist node of a part's pin.
func (v *Vehicle) at(part, pin int) circuit.Node {
	pins := v.l.p.Parts[part].Pins
	if pin >= len(pins) {
		return nowhere
	}
	return v.l.node[pins[pin]]
}

// named is the netlist node of a part's pin by name.
func (v *Vehicle) named(part int, name string) circuit.Node {
	if n := v.l.pin(part, name); n >= 0 {
		return v.l.node[n]
	}
	return nowhere
}

// series lists the netlist nodes of all pins whose name begins with prefix.
func (v *Vehicle) series(part int, prefix string) []circuit.Node {
	var nodes []circuit.Node
	for i, name := range v.l.p.Parts[part].Kind.Pins {
		if strings.HasPrefix(name, prefix) && i < len(v.l.p.Parts[part].Pins) {
			nodes = append(nodes, v.at(part, i))
		}
	}
	return nodes
}

func (v *Vehicle) decodePair(i int, kind string) pair {
	p := pair{part: i, a: v.at(i, 0), b: v.at(i, 1), closed: cards.KeyOff | cards.KeyRun | cards.KeyCrank}
	switch kind {
	case "ntc":
		p.ohms = v.value(i, "scale")
		if p.ohms != 0 && !math.IsInf(p.ohms, 1) {
			p.ohms *= circuit.SteinhartOhms(v.value(i, "temperature_celsius"), v.value(i, "steinhart_a"),
				v.value(i, "steinhart_b"), v.value(i, "steinhart_c"))
		}
	case "plug":
		p.ohms = v.value(i, "resistance_ohms") + 1e6*v.value(i, "shunt_megohms")
	case "fuse":
		p.ohms, p.rating = v.value(i, "resistance_ohms"), v.value(i, "rating_amps")
		p.holder = v.value(i, "holder_ohms")
	case "motor":
		if p.ohms = v.value(i, "resistance_ohms"); v.is(i, "jammed") {
			p.ohms = v.value(i, "stalled_ohms")
		}
	case "switch":
		p.ohms, p.closed = v.value(i, "resistance_ohms"), cards.KeyPosition(v.value(i, "closed_in"))
	default:
		p.ohms = v.value(i, "resistance_ohms")
	}
	return p
}

func (v *Vehicle) decodeCoil(d *devices, i int, plus, minus circuit.Node) {
	tower, foot := v.named(i, "tower"), plus
	twin := v.l.pin(i, "tower_a") >= 0
	if twin {
		tower, foot = v.named(i, "tower_a"), v.named(i, "tower_b")
	}
	c := coilDevice{part: i, plus: plus, minus: minus, tower: tower, foot: foot, twin: twin,
		ohms: v.value(i, "primary_ohms"), secondOhms: v.value(i, "secondary_ohms"),
		leakOhms: 1e6 * v.value(i, "leak_megohms"),
		side: coil.Secondary{Henries: 1e-3 * v.value(i, "inductance_millihenries"), Ratio: v.value(i, "turns_ratio"),
			Farads: 1e-12 * v.value(i, "secondary_picofarads"), Transfer: v.value(i, "transfer")}}
	for k, ch := range v.l.channels {
		if ch.coil == i {
			c.side.Clamp = v.value(ch.driver, "clamp_volts")
			d.coils[k] = c
			return
		}
	}
	d.spare = append(d.spare, c)
}

func (v *Vehicle) decodeModule(i int) moduleDevice {
	m := moduleDevice{part: i, feed: v.named(i, "feed"), ground: v.named(i, "ground"), trigger: v.named(i, "trigger"),
		commands: v.series(i, "command"), outs: v.series(i, "out"),
		minimum: v.value(i, "minimum_volts"), quiescent: v.value(i, "quiescent_ohms"), input: v.value(i, "input_ohms"),
		pullup: v.value(i, "pullup_ohms"), low: v.value(i, "low_volts"), high: v.value(i, "high_volts"),
		saturation: v.value(i, "saturation_volts"), limit: v.value(i, "limit_amps"), clamp: v.value(i, "clamp_volts"),
		dwell10: 1e-3 * v.value(i, "dwell_10v_milliseconds"), dwell14: 1e-3 * v.value(i, "dwell_14v_milliseconds"),
		dwellShare: v.value(i, "dwell_share"), dead: v.is(i, "dead"), stuck: v.is(i, "stuck_on")}
	if v.l.p.Parts[i].Kind.Param("dead_output") >= 0 {
		m.deadOutput, m.stuckOutput = int(v.value(i, "dead_output")), int(v.value(i, "stuck_output"))
	}
	return m
}

func (v *Vehicle) decodeHall(i int) hallDevice {
	return hallDevice{part: i, feed: v.at(i, 0), ground: v.at(i, 1), signal: v.at(i, 2),
		minimum: v.value(i, "minimum_volts"), supply: v.value(i, "supply_ohms"), lowVolts: v.value(i, "low_volts"),
		lowOhms: v.value(i, "low_ohms"), highPart: v.value(i, "high_share"), given: 1 - v.value(i, "missed_share"),
		senses: !v.is(i, "dead") &&
			v.value(i, "field")*v.value(i, "gap_nominal_mm")/v.value(i, "gap_mm") >= v.value(i, "field_minimum")}
}

func (v *Vehicle) decodePickup(i int) pickupDevice {
	p := pickupDevice{part: i, plus: v.at(i, 0), minus: v.at(i, 1), ohms: v.value(i, "resistance_ohms"),
		perRPM: v.value(i, "volts_per_1000rpm") / 1000 * v.value(i, "field") * v.value(i, "gap_nominal_mm") / v.value(i,
			"gap_mm"),
		given: 1 - v.value(i, "missed_share"), reversed: v.is(i, "reversed"), shift: v.value(i, "reversed_degrees")}
	if p.ohms == 0 { // a winding shorted across its ends gives nothing to the outside
		p.perRPM = 0
	}
	return p
}

func (v *Vehicle) decodeControl(i int) *controlDevice {
	c := &controlDevice{part: i, feed: v.named(i, "feed"), ground: v.named(i, "ground"), sync: v.named(i, "sync"),
		ect: v.named(i, "ect"), iat: v.named(i, "iat"), ref: v.named(i, "reference"), commands: v.series(i, "command"),
		minimum: v.value(i, "minimum_volts"), supply: v.value(i, "supply_ohms"),
		refVolts: v.value(i, "reference_volts"),
		refOhms:  v.value(i, "reference_ohms"), syncPullup: v.value(i, "sync_pullup_ohms"),
		syncOhms:  v.value(i, "sync_ohms"),
		ectPullup: v.value(i, "ect_pullup_ohms"), iatPullup: v.value(i, "iat_pullup_ohms"),
		low:  v.value(i, "low_volts"),
		high: v.value(i, "high_volts"), commandOhms: v.value(i, "command_ohms"),
		syncMinus: v.named(i, "sync_minus"), pickupVolts: v.value(i, "pickup_volts"), dead: v.is(i, "dead"),
		mute: v.is(i, "no_command")}
	if v.l.p.Parts[i].Kind.Param("silent_command") >= 0 {
		c.silentCommand = int(v.value(i, "silent_command"))
	}
	return c
}

// driver is the module of a channel.
func (v *Vehicle) driver(k int) *moduleDevice {
	for i := range v.dev.modules {
		if v.dev.modules[i].part == v.l.channels[k].driver {
			return &v.dev.modules[i]
		}
	}
	panic("vehicle: a channel without its driver")
}

func (v *Vehicle) node(n int) circuit.Node {
	if n < 0 {
		return nowhere
	}
	return v.l.node[n]
}
