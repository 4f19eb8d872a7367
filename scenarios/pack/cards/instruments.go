package cards

import "strings"

// Instrument is a meter of the shop as the readings see it.
type Instrument struct {
	ID, Label string
	Unit      string   // as displayed; "" for phrases
	SI        string   // unit of the true value in the matrix
	Scale     float64  // true value in SI units of one displayed unit
	Phrases   []string // what an instrument without numbers shows, also its bands in this order; nil for numbers
	Percent   float64  // accuracy: percent of reading
	Counts    float64  // accuracy: counts of the last digit
	Ranges    []Range  // ascending; a value above the last is "OL"
	Leads     Leads
	Note      string // what it is, for students
}

// Leads tells how an instrument is connected.
type Leads uint8

// The ways to connect: red and black lead; one lead or probe at a point; clamped on or held to a part; plugged into
// the vehicle.
const (
	TwoLeads Leads = iota
	OnePoint
	OnPart
	NoLeads
)

// Range is one range of a meter: readings below Full are shown with Digits decimals.
type Range struct {
	Full   float64 // displayed units
	Digits int
}

// OverRange is the reading of a meter whose ranges all end below the value.
const OverRange = "OL"

// What the scan tool says of misfires beside the names of cylinders: those that stand alone in a four or a six, and
// the pairs that share a coil there.
const (
	NoMisfire    = "no misfire"
	OtherMisfire = "other cylinders"
	AllMisfire   = "all cylinders"
)

// What an inspection finds.
const (
	NothingSeen = "nothing to see"
	DamageSeen  = "damage to see"
)

// What the scan tool says of trouble codes: number, input, and of the crank signal the freeze frame, the state of the
// engine in which the code was set. Numbers of SAE J2012, from memory.
const (
	NoCode        = "no code"
	CrankCranking = "P0335 CKP, cranking"
	CrankIdle     = "P0335 CKP, idle, warm"
	CrankHot      = "P0335 CKP, idle, hot"
	CrankUneven   = "P0336 CKP, uneven"
	CoolantLow    = "P0117 ECT low"
	CoolantHigh   = "P0118 ECT high"
	AirLow        = "P0112 IAT low"
	AirHigh       = "P0113 IAT high"
)

// The oscilloscope, by what it is put on: the current of a coil, the voltage at its negative terminal, the secondary
// voltage of one cylinder, a switched crank signal, the wave of an inductive sensor.
const (
	ScopeCurrent   = "scope-current"
	ScopePrimary   = "scope-primary"
	ScopeSecondary = "scope-secondary"
	ScopeSignal    = "scope-signal"
	ScopeWave      = "scope-wave"
)

// What the pictures show.
const (
	CleanRamp  = "clean ramp"
	SteepStart = "steep start"
	LowPeak    = "low peak"
	CutShort   = "cut short"
	NoCurrent  = "no current"
	NeverOff   = "never off"

	NormalTrace = "normal trace"
	LimitsEarly = "limits early"
	RaisedFloor = "raised floor"
	NoSparkLine = "no spark line"
	StaysUp     = "stays up"
	StaysDown   = "stays down"

	NormalLine   = "normal line"
	HighAndShort = "high and short"
	LowAndLong   = "low and long"
	ShortLine    = "short line"
	HighNoLine   = "high, no line"
	LowNoLine    = "low, no line"

	EvenSwing     = "even"
	WeakSwing     = "weak swing"
	RaisedLow     = "raised low"
	MissingPulses = "missing pulses"

	Nothing = "nothing"
)

var cylinders = []string{NoMisfire, "cylinder 1", "cylinder 2", "cylinder 3", "cylinder 4", "cylinder 5", "cylinder 6",
	"cylinders 1 and 4", "cylinders 2 and 3", "cylinders 2 and 5", "cylinders 3 and 6", OtherMisfire, AllMisfire}

// Instruments is the table of all meters. Accuracy of voltmeter, ohmmeter and counter: a 6,000-count meter's manual (dc
// 0.5 % + 2, ohms 0.9 % + 1, frequency 0.1 % + 2); of the others: common practice, no source.
var Instruments = []Instrument{
	{ID: "voltmeter", Label: "voltmeter", Unit: "V", SI: "V", Scale: 1, Percent: 0.5, Counts: 2,
		Ranges: []Range{{6, 3}, {60, 2}, {600, 1}},
		Note: "dc volts, 10 MΩ; shows the average of what changes quickly; two readings of one voltage may differ by " +
			"four in the last digit"},
	{ID: "max-hold", Label: "voltmeter, max hold", Unit: "V", SI: "V", Scale: 1, Percent: 0.5, Counts: 2,
		Ranges: []Range{{6, 3}, {60, 2}, {600, 1}},
		Note: "keeps the highest dc voltage that lasted a millisecond or longer; started once the engine turns " +
			"steadily"},
	{ID: "min-hold", Label: "voltmeter, min hold", Unit: "V", SI: "V", Scale: 1, Percent: 0.5, Counts: 2,
		Ranges: []Range{{6, 3}, {60, 2}, {600, 1}},
		Note: "keeps the lowest dc voltage that lasted a millisecond or longer; started once the engine turns " +
			"steadily"},
	{ID: "ac-voltmeter", Label: "ac voltmeter", Unit: "V", SI: "V", Scale: 1, Percent: 1, Counts: 3,
		Ranges: []Range{{6, 3}, {60, 2}, {600, 1}},
		Note:   "effective ac volts, dc is blocked"},
	{ID: "frequency", Label: "meter on Hz", Unit: "Hz", SI: "Hz", Scale: 1, Percent: 0.1, Counts: 2,
		Ranges: []Range{{99.99, 2}, {999.9, 1}, {9999, 0}},
		Note:   "counts pulses that swing by 1 V or more"},
	{ID: "duty", Label: "meter on duty", Unit: "%", SI: "1", Scale: 0.01, Percent: 0.5, Counts: 2,
		Ranges: []Range{{100.1, 1}},
		Note:   "share of the time that the signal is high"},
	{ID: "ohmmeter", Label: "ohmmeter", Unit: "ohm", SI: "ohm", Scale: 1, Percent: 0.9, Counts: 1,
		Ranges: []Range{{600, 1}, {6e3, 0}, {60e3, 0}, {600e3, 0}, {6e6, 0}, {40e6, 0}},
		Note: "needs a dead circuit; shows OL (over limit: open, or above its range) and \"live circuit\" where " +
			"there is voltage"},
	{ID: "test-lamp", Label: "small lamp", Phrases: []string{"bright", "dim", "very dim", "dark"},
		Note: "tungsten lamp of 1.2 W, loads the circuit with 0.1 A. Beside the same lamp across the battery it is " +
			"bright with three quarters of its light or more, dim with three tenths, very dim below, dark below 3 %"},
	{ID: "load-lamp", Label: "21 W lamp", Phrases: []string{"bright", "dim", "very dim", "dark"},
		Note: "tungsten lamp that loads the circuit with 1.9 A; bright, dim, very dim and dark as for the small " +
			"lamp: 1 Ω in its circuit makes it dim, 3 Ω very dim"},
	{ID: "loaded-drop", Label: "volts across, 21 W lamp loading", Unit: "V", SI: "V", Scale: 1, Percent: 0.5, Counts: 2,
		Ranges: []Range{{6, 3}, {60, 2}, {600, 1}},
		Note: "voltage drop of a path that carries the current of the 21 W lamp: the lamp goes from the far end of " +
			"the path to the other battery post"},
	{ID: "ammeter", Label: "clamp ammeter, peak", Unit: "A", SI: "A", Scale: 1, Percent: 2, Counts: 5,
		Ranges: []Range{{60, 2}, {600, 1}}, Leads: OnPart,
		Note: "highest current in the wire or winding it is clamped on"},
	{ID: "spark-tester", Label: "spark tester", Phrases: []string{"strong spark", "weak spark", "no spark"},
		Leads: OnePoint,
		Note:  "gap in open air between the lead's end and ground: needs 25 kV for a strong spark, 8 kV for a weak one"},
	{ID: "kv-available", Label: "kV probe, lead lifted", Unit: "kV", SI: "V", Scale: 1000, Percent: 3, Counts: 2,
		Ranges: []Range{{60, 1}}, Leads: OnePoint,
		Note: "available voltage (ISO 6518-1): what the system offers with the lead held off"},
	{ID: "kv-required", Label: "kV probe, running", Unit: "kV", SI: "V", Scale: 1000, Percent: 3, Counts: 2,
		Ranges: []Range{{60, 1}}, Leads: OnePoint,
		Note: "required voltage (ISO 6518-1): the peak at which the spark jumps, with everything connected"},
	{ID: "gap-gauge", Label: "gap gauge", Unit: "mm", SI: "m", Scale: 0.001, Counts: 3,
		Ranges: []Range{{20, 2}}, Leads: OnPart,
		Note: "feeler gauge; for a plug's gap the plug is removed"},
	{ID: "inspection", Label: "visual inspection", Phrases: []string{NothingSeen, DamageSeen}, Leads: OnPart,
		Note: "looking at the part, opened or removed; it tells only what can be seen: burnt, corroded or pushed-out " +
			"terminals, carbon tracks, a loose wheel, worn, sooted or wet electrodes, a wet plug well, a molten fuse, in the " +
			"dark the arc at a cap or lead"},
	{ID: "cylinder-balance", Label: "cylinder balance", Leads: NoLeads, Phrases: cylinders,
		Note: "shorts out one cylinder after the other: the cylinders whose loss does not slow the engine"},
	{ID: ScopeCurrent, Label: "scope, coil current", Leads: OnPart,
		Phrases: []string{CleanRamp, SteepStart, LowPeak, CutShort, NoCurrent, NeverOff},
		Note: "current clamp on the coil's feed; against a good vehicle's: steep start, it rises half as fast " +
			"again; low peak, below 85 %; cut short, that and the dwell below 80 %; never off, it always flows"},
	{ID: ScopePrimary, Label: "scope, primary", Leads: OnPart,
		Phrases: []string{NormalTrace, LimitsEarly, RaisedFloor, CutShort, NoSparkLine, ShortLine, StaysUp, StaysDown,
			Nothing},
		Note: "volts at the coil's negative terminal; against a good vehicle's: limits early, up 4 V within 2 ms; " +
			"raised floor, 1 V higher; cut short, the dwell below 80 %; no spark line, it rings at once; short line, below " +
			"75 %; stays up or down, nothing switches"},
	{ID: ScopeSecondary, Label: "scope, secondary", Leads: OnePoint,
		Phrases: []string{NormalLine, HighAndShort, LowAndLong, ShortLine, HighNoLine, LowNoLine, Nothing},
		Note: "pickup on the high-tension side, one cylinder; against a good vehicle's: high, the firing line " +
			"is 20 % higher or more; low, below 75 %; short, the spark line lasts below 75 % of its time; no line, " +
			"no spark follows, and high is 50 % more; nothing, it stays below 1 kV"},
	{ID: ScopeSignal, Label: "scope, signal",
		Phrases: []string{EvenSwing, WeakSwing, RaisedLow, MissingPulses, Nothing},
		Note: "dc volts over time; against a good vehicle's: weak swing, below 60 %; nothing, below 5 %; " +
			"raised low, the low level lies above 0.6 V; missing pulses, at times it stays up"},
	{ID: ScopeWave, Label: "scope, wave", Phrases: []string{EvenSwing, WeakSwing, MissingPulses, Nothing},
		Note: "volts of an inductive sensor over time; against a good vehicle's: weak swing, below 60 %; " +
			"nothing, below 5 %; missing pulses, at times a wave is left out"},
	{ID: "timing-light", Label: "timing light", Unit: "° before TDC", SI: "deg", Scale: 1, Counts: 0.5,
		Ranges: []Range{{90, 0}}, Leads: NoLeads,
		Note: "clipped on the lead of cylinder 1, or on an extension lead between coil and plug; TDC: top dead center"},
	{ID: "scan-speed", Label: "scan tool, engine speed", Unit: "rpm", SI: "1/min", Scale: 1, Percent: 0.5, Counts: 1,
		Ranges: []Range{{open, 0}}, Leads: NoLeads,
		Note: "engine speed as the PCM sees it"},
	{ID: "scan-ect", Label: "scan tool, coolant", Unit: "°C", SI: "degC", Scale: 1, Counts: 1,
		Ranges: []Range{{open, 0}}, Leads: NoLeads,
		Note: "coolant temperature as the PCM sees it"},
	{ID: "scan-iat", Label: "scan tool, intake air", Unit: "°C", SI: "degC", Scale: 1, Counts: 1,
		Ranges: []Range{{open, 0}}, Leads: NoLeads,
		Note: "intake air temperature as the PCM sees it"},
	{ID: "scan-misfire", Label: "scan tool, misfires", Leads: NoLeads,
		Phrases: cylinders,
		Note:    "cylinders in which the PCM counts misfires, seen from the unevenness of the crankshaft"},
	{ID: "scan-codes", Label: "scan tool, codes", Leads: NoLeads,
		Phrases: []string{NoCode, CrankCranking, CrankIdle, CrankHot, CrankUneven, CoolantLow, CoolantHigh, AirLow,
			AirHigh},
		Note: "first stored code of a sensor circuit, of a lost crank signal with the state it was lost in (freeze " +
			"frame); what came and went leaves one. Misfires count apart"},
}

// InstrumentIDs gives the ids of all meters in the order of the table.
func InstrumentIDs() []string {
	list := make([]string, len(Instruments))
	for i := range Instruments {
		list[i] = Instruments[i].ID
	}
	return list
}

// Scan tells whether the instrument talks to a controller.
func (in *Instrument) Scan() bool { return strings.HasPrefix(in.ID, "scan-") }

// Scope tells whether the instrument is an oscilloscope, which shows a picture.
func (in *Instrument) Scope() bool { return IsScope(in.ID) }

// IsScope tells whether an instrument's id is that of an oscilloscope.
func IsScope(id string) bool { return strings.HasPrefix(id, "scope-") }

// InstrumentByID finds a meter; nil when there is none.
func InstrumentByID(id string) *Instrument {
	for i := range Instruments {
		if Instruments[i].ID == id {
			return &Instruments[i]
		}
	}
	return nil
}
