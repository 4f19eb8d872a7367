package lab

// A plan with scope = true lets the partner show an oscilloscope picture with two lines: the coil's peak current and
// the available voltage, both while cranking, which every vehicle can be asked for. Where the pictures stand, their
// number and their scales are the same on every sheet; only the curves depend on what is hidden.

// Trace is an oscilloscope picture of a sheet, frozen with it.
type Trace struct {
	Test int       `json:"test"`
	X    []float64 `json:"x"` // seconds
	Y    []float64 `json:"y"` // amperes or kilovolts
}

// Screen is how one quantity is shown.
type Screen struct {
	Instrument string // the line that it belongs to
	Quantity   string // as vehicle.Trace.Title says
	Title      string
	Unit       string
	From, To   float64 // of the scale
	Division   float64
}

// Screens are the pictures of every sheet.
var Screens = []Screen{
	{"ammeter", "primary current", "coil primary current", "A", -2, 10, 2},
	{"kv-available", "secondary voltage, negative up", "secondary voltage, cylinder 1", "kV", -20, 40, 10},
}

// The time axis: seconds before and after the moment at which the switch opens.
const (
	ScopeBefore   = 8e-3
	ScopeAfter    = 4e-3
	ScopeDivision = 2e-3
)
