package vehicle

import (
	"math"

	"nospark/scenarios/vehicle/coil"
)

// What a spark tester needs, volts at its gap in open air. Common practice, no source.
const (
	strongSpark = 25e3
	weakSpark   = 8e3
)

// sparkDraw is the part of the available voltage below which a customer's spark counts as weak while cranking. Common
// practice, no source.
const sparkDraw = 25e3

// Pressure and temperature at the partner's plug of a twin coil, in its exhaust stroke. Common practice, no source.
const (
	exhaustBar    = 1.1
	exhaustKelvin = 500
)

// lifted is the voltage available at a high-tension node with what lies beyond it taken off, volts; 0 when nothing
// arrives.
func (v *Vehicle) lifted(st *state, node int) float64 {
	w := v.l.towers[node]
	if w.channel < 0 {
		return 0
	}
	shunt, gap, whole := v.path(st, w)
	volts := v.offered(st, w.channel, shunt)
	back, returns := v.partner(st, w)
	if !whole || !returns || volts <= gap+back {
		return 0
	}
	return volts
}

// partner is the other way of a twin coil's current: the volts its plug needs in the exhaust stroke, and whether it is
// whole. A coil with one tower returns through its primary, which is always there.
func (v *Vehicle) partner(st *state, w way) (volts float64, whole bool) {
	if !v.dev.coils[w.channel].twin {
		return 0, true
	}
	for _, part := range v.l.plugs {
		other := v.l.towers[v.l.p.Parts[part].Pins[0]]
		if other.channel != w.channel || other.tower == w.tower {
			continue
		}
		_, _, whole = v.path(st, other)
		if !whole || !st.setup.has(part) || math.IsInf(v.value(part, "resistance_ohms"), 1) {
			return 0, false
		}
		return v.value(part, "electrode_factor") * coil.Breakdown(v.value(part, "gap_mm"), exhaustBar, exhaustKelvin),
			true
	}
	return 0, false
}

// offered is the voltage a channel raises against a shunt in ohms.
func (v *Vehicle) offered(st *state, k int, shunt float64) float64 {
	c := &v.dev.coils[k]
	if math.IsInf(c.secondOhms, 1) {
		return 0
	}
	return c.side.Available(st.charges[k].amps, shunt)
}

// path follows a way: the shunt in ohms of all that leaks on it (the coil's own included), the volts its rotor gap
// takes, and whether it is whole.
func (v *Vehicle) path(st *state, w way) (shunt, gap float64, whole bool) {
	leaks := 1 / v.dev.coils[w.channel].leakOhms
	whole = true
	for _, part := range w.parts {
		if !st.setup.has(part) {
			whole = false
			continue
		}
		if v.l.kinds[part] == "lead" {
			whole = whole && !math.IsInf(v.value(part, "resistance_ohms"), 1)
			leaks += 1e-6 / v.value(part, "leak_megohms")
			continue
		}
		if int(v.value(part, "open_terminal")) == w.terminal {
			whole = false
		}
		gap += coil.Breakdown(v.value(part, "rotor_gap_mm"), coil.AirBar, coil.AirKelvin)
		leaks += 1e-6 / v.value(part, "rotor_leak_megohms")
		if t := int(v.value(part, "leak_terminal")); t == 0 || t == w.terminal {
			leaks += 1e-6 / v.value(part, "cap_leak_megohms")
		}
	}
	return 1 / leaks, gap, whole
}

// cylinder looks at the plug with index i in l.plugs.
func (v *Vehicle) cylinder(st *state, i int) cylinder {
	if st.looked != v.changes || len(st.plugs) == 0 {
		st.looked, st.plugs = v.changes, st.plugs[:0]
		for range v.l.plugs {
			st.plugs = append(st.plugs, keptCylinder{})
		}
	}
	if k := &st.plugs[i]; !k.is {
		k.is, k.cylinder = true, v.freshCylinder(st, i)
	}
	return st.plugs[i].cylinder
}

func (v *Vehicle) freshCylinder(st *state, i int) cylinder {
	part := v.l.plugs[i]
	w := v.l.towers[v.l.p.Parts[part].Pins[0]]
	if w.channel < 0 || !st.setup.has(part) {
		return cylinder{}
	}
	c := v.l.p.Conditions[st.setup.condition]
	shunt, rotor, whole := v.path(st, w)
	back, returns := v.partner(st, w)
	rotor += back
	out := cylinder{rotor: rotor, own: whole && !math.IsInf(v.value(part, "resistance_ohms"), 1)}
	out.whole = out.own && returns
	out.required = v.value(part, "electrode_factor") * coil.Breakdown(v.value(part, "gap_mm"), c.PressureBar,
		c.TemperatureKelvin)
	if out.whole {
		shunt = 1 / (1/shunt + 1e-6/v.value(part, "shunt_megohms"))
	}
	if out.available = v.offered(st, w.channel, shunt); out.available <= rotor || !out.whole {
		out.available = 0
	}
	amps, side := st.charges[w.channel].amps, &v.dev.coils[w.channel].side
	if out.available < out.required+rotor || out.available == 0 {
		return out
	}
	burn := coil.BurnVolts(v.value(part, "gap_mm"), c.PressureBar)
	out.seconds = side.Duration(amps, out.required+rotor, burn, v.sparkOhms(w.channel, part))
	out.fires = side.Energy(amps) >= 1e-3*c.SparkMillijoules && out.seconds >= 1e-3*c.SparkMilliseconds
	return out
}

// burden is what the secondary works against at the plug with index i in l.plugs: the shunt in ohms, and the volts at
// which its spark jumps, +Inf where the way is broken.
func (v *Vehicle) burden(st *state, i int, cyl cylinder) (shunt, needs float64) {
	part := v.l.plugs[i]
	shunt, _, _ = v.path(st, v.l.towers[v.l.p.Parts[part].Pins[0]])
	if !cyl.whole {
		return shunt, math.Inf(1)
	}
	return 1 / (1/shunt + 1e-6/v.value(part, "shunt_megohms")), cyl.required + cyl.rotor
}

// sparkOhms is what lies in series with the spark at a plug: the winding, leads and plugs; of a twin coil both ways.
func (v *Vehicle) sparkOhms(k, part int) float64 {
	c := &v.dev.coils[k]
	ohms := c.secondOhms
	for _, plug := range v.l.plugs {
		w := v.l.towers[v.l.p.Parts[plug].Pins[0]]
		if w.channel != k || plug != part && !c.twin {
			continue
		}
		ohms += v.value(plug, "resistance_ohms")
		for _, lead := range w.parts {
			if v.l.kinds[lead] == "lead" {
				ohms += v.value(lead, "resistance_ohms")
			}
		}
	}
	return ohms
}

// peakAt is what a kV probe at a node shows with everything connected: the voltage at which the spark jumps, or all
// there is when it does not. At a node that feeds several cylinders it is the highest of them. Beside a broken partner
// of a twin coil the own gap still breaks down at its voltage, although no spark follows: the charge of tower and lead
// is all that crosses it.
func (v *Vehicle) peakAt(st *state, node int) float64 {
	w := v.l.towers[node]
	if w.channel < 0 {
		return 0
	}
	if _, _, whole := v.path(st, w); !whole {
		return 0
	}
	peak := 0.0
	for i, part := range v.l.plugs {
		beyond := v.l.towers[v.l.p.Parts[part].Pins[0]]
		if beyond.channel != w.channel || !begins(beyond.parts, w.parts) {
			continue
		}
		cyl := v.cylinder(st, i)
		need := cyl.required
		if beyond.terminal != w.terminal { // the rotor lies between the probe and the plug
			need += cyl.rotor
		}
		have := cyl.available
		if !cyl.whole {
			shunt, _, _ := v.path(st, w)
			have = v.offered(st, w.channel, shunt)
		}
		if cyl.own {
			have = math.Min(need, have)
		}
		peak = math.Max(peak, have)
	}
	return peak
}

// begins reports whether long starts with short.
func begins(long, short []int) bool {
	if len(short) > len(long) {
		return false
	}
	for i := range short {
		if long[i] != short[i] {
			return false
		}
	}
	return true
}

// enough reports whether an engine starts and keeps running on the cylinders that fire: badly, but it does, as long as
// half of them do, or half of all ignitions come where some are left out at random. Common practice, no source. A pack
// without plugs has nothing to say about it.
func (v *Vehicle) enough(firing int) bool {
	return v.l.cylinders == 0 || firing >= 1 && 2*float64(firing)*v.given() >= float64(v.l.cylinders)
}

// loses reports whether so many ignitions are left out, now in one cylinder and now in another, that somebody notices:
// more than one in fifty. Common practice, no source.
func (v *Vehicle) loses() bool { return v.given() < 0.98 }

// firing counts the cylinders that fire.
func (v *Vehicle) firing(st *state) int {
	n := 0
	for i := range v.l.plugs {
		if v.cylinder(st, i).fires {
			n++
		}
	}
	return n
}
