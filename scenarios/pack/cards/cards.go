// Package cards is the table of what a pack can be made of: the part kinds with their pins and parameters, and the
// meters of the shop.
//
// Start at Kinds in kinds.go and Instruments in instruments.go. Text prints the cards of all part kinds. How a part
// behaves is not here (package vehicle gives each its behavior), nor how a pack's values are read.
package cards

import (
	"cmp"
	"math"
	"strings"

	"nospark/scenarios/strict"
)

// Kind is the card of a part kind: its pins, its parameters and how it behaves.
type Kind struct {
	Name     string
	Family   string   // how it behaves, when that is another kind's way with other pins; "" for its own
	Pins     []string // names in order
	Optional int      // how many of the last pins may be left out
	More     bool     // further pins may follow the last (a distributor's terminals)
	Params   []Param
	Main     int    // index of the parameter that Tolerance spreads; -1 for none
	Equation string // what it does, in one or two lines
	Source   string
}

// Param is one parameter of a card.
type Param struct {
	Name     string  // unit in the name
	Unit     string  // as printed; "" for a plain number
	Default  float64 // NaN with Required
	Required bool
	Min, Max float64 // valid range, inclusive
	Open     bool    // "open" (+Inf) is allowed
	Short    bool    // "short" (0) is allowed
	Kind     ValueKind
	Whole    bool // no fractions
	Note     string
}

// ValueKind tells how a parameter is written.
type ValueKind uint8

// The ways a parameter is written: a number, true or false, a list of key positions.
const (
	Number ValueKind = iota
	Boolean
	KeyPositions
)

// common is what the table marks a value with that every shop uses and no source states.
const common = "common practice, no source"

var open = math.Inf(1)

func number(name, unit string, def, low, high float64, note string) Param {
	return Param{Name: name, Unit: unit, Default: def, Min: low, Max: high, Note: note}
}

func required(name, unit string, low, high float64, note string) Param {
	p := number(name, unit, math.NaN(), low, high, note)
	p.Required = true
	return p
}

// count is a whole number.
func count(name string, def, low, high float64, note string) Param {
	p := number(name, "", def, low, high, note)
	p.Whole = true
	return p
}

// path is a resistance that a fault may open or short.
func path(def float64, note string) Param {
	p := number("resistance_ohms", "ohm", def, 0, 1e9, note)
	p.Open, p.Short = true, true
	return p
}

// leakage is a resistance in megohms that is absent in a healthy part.
func leakage(name, note string) Param {
	p := number(name, "megohm", open, 0.001, 1e4, note)
	p.Open = true
	return p
}

func flag(name, note string) Param {
	return Param{Name: name, Max: 1, Kind: Boolean, Note: note}
}

// Param finds a parameter of the card; -1 when there is none.
func (k *Kind) Param(name string) int {
	for i, p := range k.Params {
		if p.Name == name {
			return i
		}
	}
	return -1
}

// Behaves is the name of the kind whose behavior this one has.
func (k *Kind) Behaves() string { return cmp.Or(k.Family, k.Name) }

// HighTension reports whether pin i of the kind carries the secondary's voltage.
func (k *Kind) HighTension(i int) bool {
	switch k.Name {
	case "lead", "distributor":
		return true
	case "plug":
		return i == 0
	}
	return i < len(k.Pins) && strings.HasPrefix(k.Pins[i], "tower")
}

// Valid says in words what may be written for the parameter.
func (p *Param) Valid() string {
	switch p.Kind {
	case Boolean:
		return "true or false"
	case KeyPositions:
		return "a list of " + strings.Join(KeyNames(), ", ")
	}
	text := strict.Within(p.Min, p.Max, p.Unit)
	if p.Open {
		text += ` or "open"`
	}
	if p.Short {
		text += ` or "short"`
	}
	return text
}
