package pack

// Kind is the card of a part kind: its pins, its parameters and how it behaves.
type Kind struct {
	Name     string
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
	Name     string // unit in the name
	Unit     string
	Default  float64
	Required bool
	Min, Max float64 // valid range, inclusive
	Open     bool    // "open" (+Inf) is allowed
	Short    bool    // "short" (0) is allowed
	Kind     ValueKind
	Note     string
}

// ValueKind tells how a parameter is written.
type ValueKind uint8

// The ways a parameter is written: a number, true or false, a list of key positions.
const (
	Number ValueKind = iota
	Boolean
	Positions
)
