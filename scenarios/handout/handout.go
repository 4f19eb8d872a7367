package handout

import "nospark/scenarios/lab"

// Handout is everything of a lab that may be given to students. None of its types can hold a fault, a hypothesis or a
// band; only ReadingsSheet depends on what is hidden, and only through the texts of its readings.
type Handout struct {
	Program    string
	Lab        string // name
	Title      string
	Date       string
	Paper      string
	Rows       int
	Forbidden  []string  // instruments that stand on the sheets but must not be used, by name
	Closed     bool      // the list of repairs is taken to be complete: no repair needs checks
	Lacks      lab.Lacks // dangers that the vehicle does not have
	Nothing    bool      // a vehicle with nothing wrong is possible
	NotToday   []Waived  // checks that some repair needs and that cannot be made with what this lab allows
	Untested   []int     // numbers of the points at which the lab has no test
	Reference  Reference
	Worksheets []Worksheet
	Readings   []ReadingsSheet // one per worksheet, same order
}

// Waived is a check that cannot be made today and need not be.
type Waived struct {
	What  string // "end"
	Label string // of the part: "coil 1 ground wire"
	Point int    // its number; 0 for none
	Read  bool   // there are lines at the point, which show something else
}

// Reference is the booklet, the same for everyone and for all labs of a pack in a term; the columns are the lab's own.
type Reference struct {
	PackTitle string
	Vehicle   []VehicleFact
	Diagram   Diagram
	Points    []lab.Point
	Columns   []lab.Column
	Specs     []lab.SpecRow
	Meters    []MeterNote
	Sensors   []Sensors // what good temperature sensors give
	Repairs   []lab.Repair
	Proofs    []Proof  // of each repair, which checks it needs
	Never     []string // checks for which the pack has no test
}

// Proof lists in words the checks that a repair needs before it is proven, for whatever reason it is needed.
type Proof []string

// VehicleFact is a line of vehicle data.
type VehicleFact struct{ Name, Value string }

// MeterNote explains an instrument and what it shows.
type MeterNote struct{ Meter, Note string }

// Sensors says what good temperature sensors of one kind give, temperature by temperature.
type Sensors struct {
	Labels []string // of the parts: "ECT"
	Today  []string // "coolant 85 °C"
	Rows   []SensorRow
}

// SensorRow is a temperature, the sensor's resistance at it, and the voltage at its input.
type SensorRow struct{ Celsius, Ohms, Volts string }

// Diagram is the circuit as drawn. Coordinates are grid squares, x to the right, y down.
type Diagram struct {
	Nodes    []DiagramNode
	Parts    []DiagramPart
	Unplaced bool // no node has a place: whoever draws it finds them
}

// DiagramNode is a node with its place; Number is 0 for a node that is no test point.
type DiagramNode struct {
	Number int
	ID     string
	Label  string
	Ground bool // the reference node
	At     [2]float64
	Side   string // where the label goes: left, right, above, below or ""
}

// DiagramPart is a part between nodes.
type DiagramPart struct {
	ID, Label string
	Kind      string // name of the kind's card
	Pins      []int  // indexes into Nodes
	PinNames  []string
	Via       [][2]float64 // corners of a wire between its two pins
	Box       *[4]float64
	LabelAt   *[2]float64
}

// Worksheet is the student's own two pages.
type Worksheet struct {
	Code      string
	Holder    string // code of the worksheet whose student holds the readings, "" for the instructor
	Student   string // id, "" for a spare
	Name      string
	Section   string
	Large     bool
	Complaint string
	Mileage   int            // as the work order has it; 0: none
	Vehicle   int            // of the student's vehicles, from 1; 0 where there is but one
	Known     []KnownReading // what the work order says was measured already
	Grid      [][]Cell       // [row of Reference.Points][column of Reference.Columns]
	Tables    []SmallTable   // tests outside the grid
}

// KnownReading is a reading that the work order gives. It is told as a class with its limits, never as a number, so
// that it says the same on the sheets of all vehicles which it fits.
type KnownReading struct {
	Test    string // as the worksheet names it
	Reading string // "at least 11 V below the battery reading"
}

// Cell is a place of the grid: a line number, or 0 where that lead would harm something or touch nothing.
type Cell struct{ Line int }

// SmallTable lists the tests of one kind outside the grid.
type SmallTable struct {
	Heading string
	Rows    []SmallRow
}

// SmallRow is one test outside the grid.
type SmallRow struct {
	Label     string
	Meter     string
	Condition string
	Minutes   int64 // tenths
	Line      int
}

// ReadingsSheet is what the partner holds.
type ReadingsSheet struct {
	Code  string
	Large bool
	Lines []ReadingLine // by line number
	Plots []Plot        // oscilloscope pictures, when the plan allows them
}

// ReadingLine is one line the partner may answer.
type ReadingLine struct {
	Number  int
	Letters string
	Reading string
	Beside  string // "battery 12.56 V", "" for none
}

// Plot is a trace on an oscilloscope screen.
type Plot struct {
	Line         int
	Test         string // name of its test, "" where the picture stands beside a reading
	Title        string
	XLabel       string
	YLabel       string
	X, Y         []float64
	XFrom, XTo   float64
	YFrom, YTo   float64
	XPerDivision float64
	YPerDivision float64
}
