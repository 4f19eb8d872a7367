package pack

// Instrument is a meter of the shop as the readings see it.
type Instrument struct {
	ID, Label string
	Unit      string   // as displayed; "" for phrases
	SI        string   // unit of the true value in the matrix
	Scale     float64  // displayed = true / Scale
	Phrases   []string // what an instrument without numbers shows, also its bands in this order; nil for numbers
	Percent   float64  // accuracy: percent of reading
	Counts    float64  // accuracy: counts of the last digit
	Ranges    []Range  // ascending; a value above the last is "OL"
	LeadsTwo  bool     // needs red and black
	OneLead   bool     // goes to one point
	OnPart    bool     // goes on a part
	Note      string   // what it is, for students
}

// Range is one range of a meter: readings below Full are shown with Digits decimals.
type Range struct {
	Full   float64 // displayed units
	Digits int
}

// The names of readings that are not numbers, and of the bands every test has beside its own.
const (
	OverRange  = "OL"
	Live       = "live circuit"
	NotRunning = "engine does not run"
)
