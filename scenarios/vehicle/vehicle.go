// Package vehicle computes what each meter would show: it takes a pack, a hidden fault and a condition, and gives
// readings.
//
// Start at Healthy, which gives a Vehicle without a fault; Apply hides one; Read gives a test's true value, package
// meter what an instrument makes of it, and its class. NewMatrix (matrix.go) does so for all faults and severities of a
// pack. Event (event.go) follows one ignition in time. Circuits (circuits.go) hands out the circuit behind a reading.
//
// A fault that comes and goes is there in conditions that provoke it only; provoke.go says how.
//
// Electrical state and behavior depend on each other; settle.go says how that is solved. The package knows nothing of
// labs, students or marks. Rooms of their own: what a meter shows (meter), curves (trace), the physics of a coil (coil),
// what is wrong with a pack itself (lint), circuits for SPICE (netlist).
package vehicle

import (
	"math"
	"slices"

	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/vehicle/meter"
)

// Vehicle is one vehicle of a pack with its own part values. It remembers what it has computed, so it must not be used
// by two goroutines at once; clones may.
type Vehicle struct {
	l      *layout
	values [][]float64 // by part, aligned with its card
	pool   *pool
	dev    *devices // decoded from values when first needed
	// what was decoded from other values, for its memory; nil as long as dev is in use
	idleDev *devices
	blown   []bool   // by part: fuses that have blown
	plains  []*state // by condition: everything connected
	states  map[stateKey]*state
	engine  *engine
	err     error         // the first circuit that could not be solved
	shown   []meter.Shown // memory of Bands
	row     []float64     // memory of become

	kept    []keptValue // by test
	tabled  map[tableKey]tableReading
	apart   []bool    // by part: its pull-ups hang on a supply of their own; nil for none
	passing []passing // what the fault changes only under a provocation

	changes  int                 // counts the changes of values
	swapped  map[[2]int]*variant // with two parts exchanged
	provoked map[string]*variant // by provocation
}

// variant is a vehicle that follows from another one.
type variant struct {
	*Vehicle
	after int // the changes of the other vehicle that it has followed
}

// keptValue is a reading that changes on the high-tension side do not touch.
type keptValue struct {
	is bool
	x  meter.Value
}

// Healthy is the vehicle with nominal values and no fault.
func Healthy(p *pack.Pack) *Vehicle {
	v := &Vehicle{l: newLayout(p), values: make([][]float64, len(p.Parts)), pool: &pool{}}
	for i := range p.Parts {
		v.values[i] = slices.Clone(p.Parts[i].Values)
	}
	return v
}

// Clone is an independent copy.
func (v *Vehicle) Clone() *Vehicle {
	c := &Vehicle{l: v.l, values: make([][]float64, len(v.values)), pool: &pool{}}
	for i := range v.values {
		c.values[i] = slices.Clone(v.values[i])
	}
	c.passing, c.apart = slices.Clone(v.passing), v.apart
	return c
}

// SetApart gives the pull-ups within a part a supply of their own, as no vehicle has it: what then reads otherwise came
// to where it was measured through them.
func (v *Vehicle) SetApart(part int) {
	v.apart = make([]bool, len(v.values))
	v.tabled = nil
	v.apart[part] = true
	v.forget()
}

// Spread moves the main value of every part by its tolerance times f(part), which lies in -1..1. Values a fault has
// opened or shorted stay as they are, so the order of Spread and Apply matters: spread first.
func (v *Vehicle) Spread(f func(part int) float64) {
	for i := range v.l.p.Parts {
		part := &v.l.p.Parts[i]
		if part.Tolerance == 0 || part.Kind.Main < 0 {
			continue
		}
		v.values[i][part.Kind.Main] *= 1 + part.Tolerance*f(i)
	}
	v.forget()
}

// Apply hides a fault of the given severity, 0 to 1.
func (v *Vehicle) Apply(f pack.Fault, severity float64) {
	for _, s := range f.Set {
		if s.Only != "" {
			v.passing = append(v.passing, passing{s.Part, s.Param, s.At(severity), s.Only})
			continue
		}
		v.values[s.Part][s.Param] = s.At(severity)
	}
	v.forget()
}

func (v *Vehicle) forget() {
	v.forgetStates()
	v.forgetBehavior()
	clear(v.kept)
	v.blown, v.err = nil, nil
}

// forgetBehavior forgets what follows from the settled states. Variants stay for what they have settled; they follow
// when they are next asked for.
func (v *Vehicle) forgetBehavior() {
	if v.dev != nil {
		v.dev, v.idleDev = nil, v.dev
	}
	v.engine, v.pool.begun.of = nil, nil
	v.changes++
}

// take gives the vehicle other values, those that want tells of each part. What has been settled stays as long as only
// values of the high-tension side change, which no phase depends on.
func (v *Vehicle) take(want func(part int) []float64) {
	same := true
	for i, have := range v.values {
		row := want(i)
		for k, x := range row {
			// by bits: a value left out is NaN
			if math.Float64bits(x) != math.Float64bits(have[k]) {
				have[k] = x
				same = same && v.l.highTension[i][k]
			}
		}
	}
	if !same {
		v.forget()
		return
	}
	v.forgetBehavior()
	v.decode()
}

func (v *Vehicle) forgetStates() {
	for i, st := range v.plains {
		if st != nil {
			v.release(st)
			v.plains[i] = nil
		}
	}
	for _, st := range v.states {
		v.release(st)
	}
	clear(v.states)
}

// value reads a parameter by its card's name.
func (v *Vehicle) value(part int, name string) float64 {
	return v.values[part][v.l.p.Parts[part].Kind.Param(name)]
}

// is reads a boolean parameter.
func (v *Vehicle) is(part int, name string) bool { return v.value(part, name) != 0 }

// charged is the battery's emf: given, or from its state of charge.
func (v *Vehicle) charged(part int) float64 {
	if emf := v.value(part, "emf_volts"); !math.IsNaN(emf) {
		return emf
	}
	return cards.BatteryEMF(v.value(part, "charge_percent"))
}

// engine is what the vehicle can do.
type engine struct {
	cranks string
	spark  string
	starts bool
	misses []bool // by condition: at least one cylinder does not fire (of conditions that can be reached)
}

// release gives a state and its solutions back. Nobody may use it any more.
func (v *Vehicle) release(st *state) {
	for _, sol := range st.own {
		v.pool.give(sol)
	}
	st.own = st.own[:0]
	v.pool.states = append(v.pool.states, st)
}

// tableKey names a measurement of a part on the table, tableReading what it gave with which values of the part: nothing
// else has a part in it.
type tableKey struct{ part, red, black, condition int }

type tableReading struct {
	values []float64
	blown  bool
	x      meter.Value
}

// passing is a setting that is there only under a provocation.
type passing struct {
	part, param int
	value       float64
	when        string // one of pack.Provocations
}
