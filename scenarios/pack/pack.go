// Package pack reads packs: TOML files that describe one ignition system, its parts, conditions, test points,
// tests, faults, repairs and complaints. A pack is data; nothing here knows how a part behaves (package vehicle
// does).
//
// Start at Parse, which gives a checked Pack or every error with its line, and at Builtin for the packs that come
// with the program. PACKS.md is the manual for people who write packs. The part kinds and the meters that a pack
// can use stand in package cards.
package pack

import (
	"fmt"
	"math"
	"slices"

	"nospark/scenarios/pack/cards"
	"nospark/scenarios/spelling"
)

// Pack is one checked ignition system. All references are indexes into the slices here; order is the order of the file.
type Pack struct {
	Name       string // short id, also the file name of a built-in pack
	Title      string
	Version    int
	Vehicle    []Fact // what the repair order says about the invented vehicle, for the worksheet
	Reference  int    // index into Nodes: the 0 V node
	Nodes      []Node // the first Points of them are test points
	Points     int    // Nodes[:Points] can be reached by a lead and are numbered 1..Points on the diagram
	Conditions []Condition
	Parts      []Part
	Complaints []Complaint // in order: the first rule that fits gives the complaint
	Sweeps     []Sweep     // the columns of the grid
	Tests      []Test      // sweeps expanded in order, then single tests
	Faults     []Fault
	Repairs    []Repair
	Nothing    *Nothing // the vehicle with nothing wrong, when the pack offers it
	Accepts    []Accept // warnings that the pack explains
}

// Fact is one line of vehicle data on a worksheet.
type Fact struct{ Name, Value string }

// Role tells what a test point is for; specifications are written per role.
type Role string

// The roles a point can have. RoleNone points take part in no sweep with bands per role.
const (
	RoleNone      Role = ""
	RoleBattery   Role = "battery"
	RoleFeed      Role = "switched-feed"
	RoleGround    Role = "ground"
	RoleReference Role = "reference"
	RoleSignal    Role = "signal"
	RoleOutput    Role = "output"
	RoleSensor    Role = "sensor" // an input that follows a sensor's resistance
	RoleSecondary Role = "secondary"
)

// Node is a point of the circuit.
type Node struct {
	ID        string
	Label     string // printed; the id when the file gives none
	Role      Role
	Access    int64      // tenths of a minute that a lead needs to get there, added to a sweep's base
	At        [2]float64 // grid squares on the diagram, x to the right, y down
	HasAt     bool
	LabelSide string // where the diagram prints the label: "left", "right", "above", "below" or "" for its own choice
	Line      int
}

// Condition is how the vehicle is operated during a test. Key crank turns the engine with the starter; a speed
// above 0 means that the engine runs by itself.
type Condition struct {
	ID, Label         string
	Key               cards.KeyPosition
	SpeedRPM          float64 // engine speed while running, 1/min; 0: the engine stands or is cranked
	ChargingVolts     float64 // replaces the battery's emf while the engine runs; 0: no charging
	PressureBar       float64 // in the cylinder at the moment of the spark, absolute
	TemperatureKelvin float64 // of the gas in the gap at that moment
	SparkMillijoules  float64 // energy the mixture needs to catch fire
	SparkMilliseconds float64 // time the spark must burn
	// one of Provocations: what is done to bring a fault on that comes and goes; "" for nothing
	Provoke string
	Line    int
}

// Provocations are the circumstances that bring on faults which come and go: the engine is hot, the ignition is wet,
// harness and connectors are moved by hand. While they are moved a contact is lost and made again many times.
var Provocations = []string{Hot, Wet, Shaken}

// The names of the provocations.
const (
	Hot    = "hot"
	Wet    = "wet"
	Shaken = "shaken"
)

// Running reports whether the engine must run by itself in this condition.
func (c Condition) Running() bool { return c.SpeedRPM > 0 }

// Cranking reports whether the starter turns the engine.
func (c Condition) Cranking() bool { return c.Key == cards.KeyCrank }

// Part is one component. Values are aligned with the parameters of its kind's card, in the units of their names.
type Part struct {
	ID, Label string
	Kind      *cards.Kind
	Pins      []int // indexes into Nodes, in the order of the card; optional trailing pins may be missing
	Values    []float64
	Tolerance float64 // relative spread (uniform, plus or minus) of the kind's main parameter from vehicle to vehicle
	Via       [][2]float64
	Box       *[4]float64 // x0, y0, x1, y1 on the diagram, for a part drawn as a box
	LabelAt   *[2]float64
	Hidden    bool // not drawn: a path that only a fault opens
	Line      int
}

// Band is a class of readings. A numeric reading belongs to the first band whose Below it is less than, in the
// displayed unit.
type Band struct {
	Name   string
	Below  float64 // +Inf in the pack's last band, in those added behind it and in the bands of phrases
	Normal bool
	Silent bool // no verdict is asked: the vehicle cannot be brought into the condition
}

// Sweep is one instrument, fixed lead and list of conditions over many points: the columns of the grid.
type Sweep struct {
	ID, Label  string
	Instrument *cards.Instrument
	Fixed      int  // node of the other lead, -1 when the instrument has one lead only
	FixedIsRed bool // the fixed lead is the red one (a lamp clipped to battery positive)
	// where the black lead goes at grounds, when a sweep gives both leads: each path from its own post; -1 for none
	Ground     int
	Conditions []int
	Minutes    int64 // tenths, before a point's access
	Line       int
}

// Test is one column of the matrix.
type Test struct {
	ID, Label  string
	Instrument *cards.Instrument
	Sweep      int // index into Sweeps; -1 for a single test
	Red, Black int // nodes; -1 where the instrument uses none
	// whose own test it is: what the instrument is put on (gap gauge, clamp, isolated part), or what the pack names; -1
	// for none
	Part       int
	Isolate    bool
	Unplug     []int // parts taken off the circuit for this test
	Swap       []int // two parts of one kind that change places for this test; nil for none
	Condition  int
	Minutes    int64  // tenths
	Compare    int    // test whose reading minus this one's is banded; -1 for none
	Bands      []Band // at least two of the pack's own, then Live, NoLink and NotRunning where they can occur; see Own
	Group      string // heading of the small table on the worksheet for single tests: "component", "spark", "scan", ...
	Competency string
	Line       int
}

// Point is the grid row of a sweep's test: the lead that moves.
func (t Test) Point(p *Pack) int {
	if t.Sweep >= 0 && p.Sweeps[t.Sweep].FixedIsRed &&
		(p.Sweeps[t.Sweep].Ground < 0 || t.Black != p.Sweeps[t.Sweep].Ground) {
		return t.Black
	}
	return t.Red
}

// Value gives a parameter of the part by name. It panics on a name that the card lacks.
func (p *Part) Value(name string) float64 {
	i := p.Kind.Param(name)
	if i < 0 {
		panic("pack: kind " + p.Kind.Name + " has no parameter " + name)
	}
	return p.Values[i]
}

// Setting is one change a fault makes: Low at severity 0, High at severity 1, equal when the fault has no range.
// +Inf means open.
type Setting struct {
	Part, Param int
	Low, High   float64
	Log         bool   // the range is travelled logarithmically
	Only        string // one of Provocations: the change is there only then; "" always
}

// Accept is the pack's answer to a warning: it is meant so.
type Accept struct {
	Warning string // the name of the finding
	Because string
	Line    int
}

// Fault is a change to the parameters of one part, or of a few that fail together.
type Fault struct {
	ID, Label string
	Set       []Setting
	Weight    int64
	Repair    int
	Note      string // one sentence for the key and the debrief: how it shows
	Line      int
}

// Ranged reports whether the fault comes in severities.
func (f Fault) Ranged() bool {
	for _, s := range f.Set {
		if s.Low != s.High {
			return true
		}
	}
	return false
}

// Repair is what a student concludes.
type Repair struct {
	ID, Label string
	Minutes   int64 // tenths
	Proof     []Proof
	Line      int
}

// Nothing is the vehicle with nothing wrong and the conclusion that says so.
type Nothing struct {
	Label  string
	Weight int64
	Repair int
	Line   int
}

// Complaint is what the customer would report when the observables meet When.
type Complaint struct {
	ID, Label string
	When      []Observation // all must hold
	Line      int
}

// Observation asks that an observable of the simulated vehicle has one of the values.
type Observation struct {
	Name   string   // of the table Observables
	Values []string // booleans as "true" and "false"
}

// At is the value at a severity of 0 to 1.
func (s Setting) At(severity float64) float64 {
	switch {
	case s.Low == s.High:
		return s.Low
	case s.Log:
		return s.Low * math.Pow(s.High/s.Low, severity)
	}
	return s.Low + severity*(s.High-s.Low)
}

// Fault finds a fault by its id. An unknown id is an error with the nearest known one.
func (p *Pack) Fault(id string) (int, error) {
	return lookUp("fault", id, len(p.Faults), func(i int) string { return p.Faults[i].ID })
}

// Condition finds a condition by its id. An unknown id is an error with the nearest known one.
func (p *Pack) Condition(id string) (int, error) {
	return lookUp("condition", id, len(p.Conditions), func(i int) string { return p.Conditions[i].ID })
}

// Test finds a test by its id. An unknown id is an error with the nearest known one.
func (p *Pack) Test(id string) (int, error) {
	return lookUp("test", id, len(p.Tests), func(i int) string { return p.Tests[i].ID })
}

func lookUp(what, id string, n int, name func(int) string) (int, error) {
	known := make([]string, n)
	for i := range known {
		known[i] = name(i)
	}
	if i := slices.Index(known, id); i >= 0 {
		return i, nil
	}
	return -1, fmt.Errorf("there is no %s %q in the pack; %s", what, id, spelling.Suggest(id, known))
}

// Proof is what a pack changes about the checks that follow from a repair's parts, wiring and simulation: it adds one,
// or takes some away and says why.
type Proof struct {
	What    string // of Whats
	Part    int    // index into Parts; -1: the part of the fault when it adds, all of them when it takes away
	Tests   []int  // any one of them makes the check
	Because string // why it is not owed; "" for a check that is added
	Line    int
}

// Whats are the kinds of checks. A part is bad when its feed, ground, reference voltage and inputs are good and its
// output or its own test is not; a path when one end is good and a reading on it is not; nothing is wrong when the
// results that the customer misses are there.
var Whats = []string{"feed", "ground", "reference voltage", "input", "output", "own test", "end", "path", "result"}
