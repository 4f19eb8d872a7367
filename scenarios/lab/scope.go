package lab

// With scope = true in a plan the oscilloscope is among the instruments, and each of its lines has a picture. Where a
// pack has no test with it, two readings that every vehicle can be asked for have one, both while cranking: the coil's
// peak current and the available voltage. Where the pictures stand, their number and their scales are the same on every
// sheet; only the curves depend on what is hidden.

// Trace is an oscilloscope picture of a sheet, frozen with it.
type Trace struct {
	Test int       `json:"test"`
	X    []float64 `json:"x"` // seconds
	Y    []float64 `json:"y"` // amperes, volts or kilovolts
}

// Screen is how one quantity is shown.
type Screen struct {
	Instrument string // the line that it belongs to
	Title      string
	Unit       string
	From, To   float64 // of the scale
	Division   float64
	// Of the time axis, seconds. With a coil 0 is the moment at which its switch opens.
	Begin, End, Step float64
	Beside           string // where the pack has no test with an oscilloscope: what is shown beside a reading
}

// PrimaryTitle heads the pictures of a coil's negative terminal.
const PrimaryTitle = "coil negative"

// Screens are the scales of all pictures: ten divisions across and eight down, as on the instrument.
var Screens = []Screen{
	{"scope-current", "coil current", "A", -2, 14, 2, -8e-3, 2e-3, 1e-3, ""},
	{"scope-current", "coil current", "A", -2, 14, 2, -30e-3, 10e-3, 4e-3, ""}, // of a long dwell
	{"scope-primary", PrimaryTitle, "V", -20, 60, 10, -8e-3, 2e-3, 1e-3, ""},   // its spike leaves the screen
	{"scope-primary", PrimaryTitle, "V", -20, 60, 10, -30e-3, 10e-3, 4e-3, ""},
	{"scope-secondary", "secondary voltage", "kV", -20, 60, 10, -1e-3, 4e-3, 0.5e-3, ""},
	{"scope-signal", "crank signal", "V", -2, 14, 2, 0, 0.4, 0.04, ""},
	{"scope-wave", "crank signal", "V", -2, 2, 0.5, 0, 0.4, 0.04, ""},
	{"ammeter", "coil primary current", "A", -2, 14, 2, -8e-3, 2e-3, 1e-3, "primary current"},
	{"ammeter", "coil primary current", "A", -2, 14, 2, -30e-3, 10e-3, 4e-3, "primary current"},
	{"kv-available", "secondary voltage, cylinder 1", "kV", -20, 60, 10, -8e-3, 2e-3, 1e-3,
		"secondary voltage, negative up"},
}

// ScreenOf finds the scales of an instrument's pictures: those with the shortest time axis that begins no later than
// asked for, the last ones when none does; nil for an instrument that has none.
func ScreenOf(instrument string, begin float64) *Screen {
	var found *Screen
	for i := range Screens {
		if s := &Screens[i]; s.Instrument == instrument && (found == nil || found.Begin > begin) {
			found = s
		}
	}
	return found
}

// Screen is the one that the picture of an instrument was made for.
func (t *Trace) Screen(instrument string) *Screen { return ScreenOf(instrument, t.X[0]) }
