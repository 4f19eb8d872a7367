package bestplay

import (
	"cmp"
	"slices"

	"nospark/scenarios/lab"
)

// Key is what an answer key tells about a lab. Indexes lead into the lab; minutes are tenths.
type Key struct {
	Reference  int64 // as in Result: of labs before format 3 the reference of everybody
	Spread     Spread
	Complaints []KeyComplaint // those of the sheets
	Faults     []KeyFault     // those that are hidden, most sheets first
	Sheets     []KeySheet     // in the order of the lab
}

// Spread describes the minutes of best play over the class, tenths.
type Spread struct {
	Low  int64   `json:"low"`
	High int64   `json:"high"`
	Mean float64 `json:"mean"`
}

// KeyComplaint is a complaint of the lab, as somebody meets it who knows nothing else.
type KeyComplaint struct {
	Complaint int
	Sheets    int
	Suspects  int
	Value     float64 // expected minutes of best play, tenths
}

// KeyFault is a hidden fault.
type KeyFault struct {
	Fault     int
	Sheets    int
	Low, High int64 // minutes of best play
}

// KeySheet is what an instructor wants to know of one sheet.
type KeySheet struct {
	Fault     int
	Repair    int
	Also      []int       // further repairs that count as right, because no allowed test tells them from the right one
	Known     []lab.Known // readings that the work order gives
	Suspects  int         // that fit them
	Reference int64       // tenths that best play takes on average from there
	Checks    []int       // that the repair owes before it is proven, indexes into Lab.Checks
	Minutes   int64       // difficulty: best play to this fault
	Path      []PathStep
	Abnormal  []int // tests that read abnormal, ascending
	Traps     []Trap
}

// Trap is a test that looks as if it had to catch the fault and reads normal all the same. Such are the tests that
//
//   - examine the faulty part itself, or
//   - examine no part on its own and are made at a point of the faulty part where another such test reads abnormal: an
//     unloaded voltmeter at a bad ground.
//
// Tests that read normal for every suspect of the complaint, that ask for no verdict, or whose instrument the plan
// forbids are no traps.
type Trap struct {
	Test  int
	Shows int // the cheapest test of the part or at its points that does read abnormal; -1: none does
}

// NewKey works out the answer key of a lab. It fails where the solver refuses the lab, and when the text of the pack
// that the lab keeps cannot be read.
func NewKey(lab *lab.Lab) (*Key, error) {
	if err := Sound(lab); err != nil {
		return nil, err
	}
	detail, err := lab.Detail()
	if err != nil {
		return nil, err
	}
	k, known := &Key{}, map[int]*Suspects{} // by complaint
	total := 0.0
	for i := range lab.Sheets {
		sheet := &lab.Sheets[i]
		s := known[sheet.Complaint]
		if s == nil {
			if s, err = NewSuspects(lab, sheet.Complaint, nil, nil); err != nil {
				return nil, err
			}
			known[sheet.Complaint] = s
		}
		k.Sheets = append(k.Sheets, s.keySheet(sheet, detail))
		k.count(s, lab, i)
		total += s.Value(s.Start(sheet))
	}
	k.Reference = WholeTenths(total / float64(max(1, len(lab.Sheets))))
	slices.SortStableFunc(k.Faults, func(a, b KeyFault) int { return -cmp.Compare(a.Sheets, b.Sheets) })
	return k, nil
}

// count adds a sheet to the figures of the class.
func (k *Key) count(s *Suspects, lab *lab.Lab, i int) {
	sheet := lab.Sheets[i]
	m := k.Sheets[i].Minutes
	if i == 0 {
		k.Spread.Low = m
	}
	k.Spread.Low, k.Spread.High = min(k.Spread.Low, m), max(k.Spread.High, m)
	k.Spread.Mean += float64(m) / float64(len(lab.Sheets))

	at := slices.IndexFunc(k.Faults, func(f KeyFault) bool { return f.Fault == k.Sheets[i].Fault })
	if at < 0 {
		at = len(k.Faults)
		k.Faults = append(k.Faults, KeyFault{Fault: k.Sheets[i].Fault, Low: m, High: m})
	}
	f := &k.Faults[at]
	f.Sheets++
	f.Low, f.High = min(f.Low, m), max(f.High, m)

	at = slices.IndexFunc(k.Complaints, func(c KeyComplaint) bool { return c.Complaint == sheet.Complaint })
	if at < 0 {
		at = len(k.Complaints)
		k.Complaints = append(k.Complaints,
			KeyComplaint{Complaint: sheet.Complaint, Suspects: s.Count(s.All()), Value: s.Value(s.All())})
	}
	k.Complaints[at].Sheets++
}

func (s *Suspects) keySheet(sheet *lab.Sheet, detail lab.Detail) KeySheet {
	start := s.Start(sheet)
	k := KeySheet{
		Fault: s.lab.Hypotheses[sheet.Truth].Fault, Repair: RepairOf(s.lab, sheet.Truth), Known: Known(s.lab, sheet),
		Suspects: s.Count(start), Reference: s.Reference(start), Path: s.Path(sheet, start),
	}
	for _, r := range s.Repairs(s.Inseparable(start, sheet.Truth)) {
		if r != k.Repair {
			k.Also = append(k.Also, r)
		}
	}
	for _, c := range s.lab.Hypotheses[sheet.Truth].Checks {
		if slices.Contains(s.Owed(start), c) {
			k.Checks = append(k.Checks, c)
		}
	}
	for _, p := range k.Path {
		k.Minutes += p.Minutes
	}
	for t := range s.lab.Tests {
		if Abnormal(s.lab, t, sheet.Truth) {
			k.Abnormal = append(k.Abnormal, t)
		}
	}
	k.Traps = s.traps(sheet, k, detail)
	return k
}

// traps finds the traps of a sheet, cheap ones first.
func (s *Suspects) traps(sheet *lab.Sheet, k KeySheet, detail lab.Detail) []Trap {
	lab := s.lab
	var pins []int // of the faulty parts
	for _, part := range lab.Faults[k.Fault].Parts {
		pins = append(pins, detail.Parts[part]...)
	}
	var traps []Trap
	for t, test := range lab.Tests {
		own := slices.Contains(lab.Faults[k.Fault].Parts, test.Part)
		if !test.Bands[sheet.Lines[t].Band].Normal || !s.Open(t) || test.Part != "" && !own || !s.canCatch(t) {
			continue
		}
		shows := -1
		for _, other := range k.Abnormal {
			there := own && slices.Contains(lab.Faults[k.Fault].Parts, lab.Tests[other].Part)
			if lab.Tests[other].Part == "" {
				there = slices.ContainsFunc(detail.Leads[other], func(p int) bool {
					return slices.Contains(pins, p) && (own || slices.Contains(detail.Leads[t], p))
				})
			}
			if there && s.Open(other) && (shows < 0 || lab.Tests[other].Minutes < lab.Tests[shows].Minutes) {
				shows = other
			}
		}
		if own || shows >= 0 {
			traps = append(traps, Trap{t, shows})
		}
	}
	slices.SortStableFunc(traps, func(a, b Trap) int {
		return cmp.Compare(lab.Tests[a.Test].Minutes, lab.Tests[b.Test].Minutes)
	})
	return traps
}

// canCatch tells whether a test reads abnormal for some suspect of a complaint.
func (s *Suspects) canCatch(test int) bool {
	for h := range s.Rows(s.All()).All() {
		if Abnormal(s.lab, test, h) {
			return true
		}
	}
	return false
}
