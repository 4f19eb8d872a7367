package vehicle

import (
	"math"

	"nospark/scenarios/circuit"
	"nospark/scenarios/pack"
)

// The two lamps of the shop. 21 W: at most 26.5 W at its test voltage of 13.5 V (ECE/TRANS/WP.29/GRE/2012/34, the 21 W
// filament), so 1.96 A. 1.2 W at 12 V: common practice, no source.
var (
	smallBulb = bulb{12, 0.1}
	loadBulb  = bulb{13.5, 26.5 / 13.5}
)

// What a filament does with its voltage. Source: an encyclopedia's article on lamp rerating (current ~ V^0.55, light ~
// V^3.4); cold a tenth of the hot resistance.
const (
	currentPower = 0.55
	lightPower   = 3.4
	coldShare    = 0.1
)

// ohms is the resistance that a bulb has at an effective voltage.
//
//	R = V/I, I = amps (V/volts)^0.55, at least a tenth of volts/amps
func (b bulb) ohms(effective float64) float64 {
	return b.volts / b.amps * math.Max(coldShare, power(effective/b.volts, 1-currentPower))
}

// power is x to the power of y for x of 0 or more. Lamps ask for it by the ten thousand, and it needs none of the care
// that math.Pow takes with other numbers.
func power(x, y float64) float64 { return math.Exp(y * math.Log(x)) }

// lampFeed is what feeds a lamp in one phase: its Thevenin equivalent and its share of the time.
type lampFeed struct{ volts, ohms, share float64 }

// fewFeeds is memory for the feeds of a lamp, enough for an engine of six coils.
type fewFeeds [8]lampFeed

// supplies are those of a state's phases between two nodes, in the memory given if that is enough; ok is false where
// the lamp would join islands.
func (st *state) supplies(few *fewFeeds, red, black circuit.Node) (list []lampFeed, ok bool) {
	list = few[:0]
	for _, ph := range st.mean {
		volts, ohms := ph.Thevenin(red, black)
		if math.IsInf(ohms, 1) {
			return nil, false
		}
		list = append(list, lampFeed{volts, ohms, ph.share})
	}
	return list, true
}

// settle finds the bulb's resistance and its effective voltage. Resistance follows voltage with a power below 1/2, so
// every round brings both nearer by more than half, and much nearer when it allows for how much the last one did.
func (b bulb) settle(list []lampFeed) (ohms, effective float64) {
	tried, found := math.Inf(1), 0.0 // a resistance, and the one that its voltage calls for
	hot := b.volts / b.amps
	ohms = hot
	for range 40 {
		square := 0.0
		for _, s := range list {
			x := s.volts * ohms / (ohms + s.ohms)
			square += s.share * x * x
		}
		effective = math.Sqrt(square)
		next := b.ohms(effective)
		if math.Abs(next/ohms-1) < 1e-9 {
			return next, effective
		}
		slope := min(max((next-found)/(ohms-tried), 0), 0.5)
		tried, found, ohms = ohms, next, max((next-slope*ohms)/(1-slope), coldShare*hot)
	}
	return ohms, effective
}

// What the eye makes of a lamp beside the same one across the battery, by shares of its light. Half the light looks
// four fifths as bright, and a stop lamp has three to five times the light of a tail lamp (SAE J586). The limits:
// common practice, no source.
const (
	BrightShare = 0.75
	DimShare    = 0.30
	DarkShare   = 0.03
)

// brightness compares the effective voltage of a lamp with that of the same lamp across the battery.
func brightness(volts, beside float64) string {
	switch light := power(math.Max(0, volts)/beside, lightPower); {
	case light >= BrightShare:
		return "bright"
	case light >= DimShare:
		return "dim"
	case light >= DarkShare:
		return "very dim"
	}
	return "dark"
}

// lit is the effective voltage of the lamp in a state.
func lit(st *state) float64 {
	square := 0.0
	for _, ph := range st.mean {
		x := ph.Between(st.setup.lamp.red, st.setup.lamp.black)
		square += ph.share * x * x
	}
	return math.Sqrt(square)
}

// besideBattery is the effective voltage of a test's lamp held across the battery in the same situation.
func (v *Vehicle) besideBattery(t *pack.Test) float64 {
	l := v.lamp(t)
	if len(v.decode().sources) == 0 {
		return l.bulb.volts
	}
	b, st := &v.dev.sources[0], v.cached(v.arranged(t))
	if volts, known := st.beside[l.bulb]; known {
		return volts
	}
	volts := l.bulb.volts
	var few fewFeeds
	if list, ok := st.supplies(&few, b.plus, b.minus); ok {
		_, volts = l.bulb.settle(list)
	}
	if st.beside == nil {
		st.beside = map[bulb]float64{}
	}
	st.beside[l.bulb] = volts
	return volts
}

// loading is the lamp that loads the path whose voltage drop is measured: from its far end to the other battery post. A
// path that ends at battery - is a ground, any other a feed.
func (v *Vehicle) loading(t *pack.Test) lamp {
	l := lamp{v.node(t.Black), circuit.Reference, loadBulb, loadBulb.volts / loadBulb.amps}
	if len(v.decode().sources) == 0 {
		return l
	}
	if b := &v.dev.sources[0]; l.red == b.minus {
		l.red, l.black = b.plus, v.node(t.Red)
	} else {
		l.black = b.minus
	}
	return l
}

// dropped is the voltage across a path that the lamp loads, found without settling the vehicle anew where that is
// certain: as for a glance, and by superposition. A current that leaves the circuit at one node and returns at another
// moves the voltage between two more by half the sum of the four resistances between them, with the signs of the
// formula.
func (v *Vehicle) dropped(t *pack.Test) (volts float64, sure bool) {
	l := v.lamp(t)
	if v.l.p.Conditions[t.Condition].Running() || v.l.p.Conditions[t.Condition].Cranking() {
		return 0, false
	}
	st := v.cached(v.arranged(t))
	var few fewFeeds
	list, ok := st.supplies(&few, l.red, l.black)
	if !ok || len(list) != 1 {
		return 0, false
	}
	red, black := v.node(t.Red), v.node(t.Black)
	ohms := func(a, b circuit.Node) float64 {
		_, ohms := st.high.Thevenin(a, b)
		return ohms
	}
	hot, at := l.bulb.settle(list)
	amps := math.Copysign(at/hot, list[0].volts)
	mutual := (ohms(red, l.red) + ohms(black, l.black) - ohms(red, l.black) - ohms(black, l.red)) / 2
	open, inner := st.high.Thevenin(red, black)
	if math.IsInf(mutual, 0) || math.IsNaN(mutual) || math.IsInf(inner, 1) {
		return 0, false
	}
	moved := math.Abs(list[0].volts) * list[0].ohms / (list[0].ohms + hot)
	return open + amps*mutual, 5*moved+1e-6 < st.margin
}

// glance tells how bright a lamp is without settling the vehicle anew, where that is certain.
//
// A load between two points moves no voltage of a circuit of resistances and given sources by more than the voltage
// between these points itself, since what its current adds is highest at one of them and lowest at the other. So as
// long as that is little against the margin of every decision that the vehicle without the lamp has taken, the vehicle
// with the lamp takes the same ones. Speeds, dwells and coil currents follow the voltages and move them in turn, by
// less than three times as much; five times allows for that.
func (v *Vehicle) glance(t *pack.Test) (phrase string, sure bool) {
	l := v.lamp(t)
	if l.ohms == 0 || v.l.p.Conditions[t.Condition].Running() {
		return "", false
	}
	st := v.cached(v.arranged(t))
	var few fewFeeds
	list, ok := st.supplies(&few, l.red, l.black)
	if !ok {
		return "", false
	}
	ohms, volts := l.bulb.settle(list)
	moved := 0.0
	for _, sol := range st.own {
		open, inner := sol.Thevenin(l.red, l.black)
		if math.IsInf(inner, 1) {
			return "", false
		}
		moved = math.Max(moved, math.Abs(open)*inner/(inner+ohms))
	}
	doubt, beside := 5*moved+1e-6, v.besideBattery(t)
	phrase = brightness(volts, beside)
	sure = doubt < st.margin && phrase == brightness(volts-doubt, beside) && phrase == brightness(volts+doubt, beside)
	return phrase, sure
}

// lamp is the lamp that a test puts across its leads.
func (v *Vehicle) lamp(t *pack.Test) lamp {
	with := func(b bulb) lamp { return lamp{v.node(t.Red), v.node(t.Black), b, b.volts / b.amps} }
	switch t.Instrument.ID {
	case "test-lamp":
		return with(smallBulb)
	case "load-lamp":
		return with(loadBulb)
	case "loaded-drop":
		return v.loading(t)
	}
	return lamp{}
}

// state is the state a test is made in.
func (v *Vehicle) state(t *pack.Test) *state {
	key, s := v.arranged(t)
	s.lamp = v.lamp(t)
	return v.cached(key, s)
}

// done says that a state is not needed any more. Only those with a lamp are given up: no other test puts a lamp in the
// same place.
func (v *Vehicle) done(st *state) {
	if st.setup.lamp.ohms > 0 {
		v.release(st)
	}
}
