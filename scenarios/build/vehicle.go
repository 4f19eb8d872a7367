package build

import (
	"slices"
	"strconv"

	"nospark/scenarios/draw"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/term"
	"nospark/scenarios/vehicle"
)

// attempts is how often a vehicle is drawn for a sheet before another fault is tried. A fault of which one draw in fifty is accepted
// still fails only once in 24,000 sheets.
const attempts = 500

// drawer draws vehicles for the sheets of a lab. It is used by several goroutines at once and changes nothing of its own.
type drawer struct {
	lab     *lab.Lab
	p       *pack.Pack
	key     term.Key
	healthy *vehicle.Vehicle
	tests   []int   // of each test of the lab its index in the pack
	rows    [][]int // of each fault of the lab its hypotheses
	wanted  []bool  // by hypothesis: inside the window of difficulty
}

func newDrawer(l *lab.Lab, p *pack.Pack, key term.Key, tests []int, chosen []candidate) *drawer {
	d := &drawer{lab: l, p: p, key: key, healthy: vehicle.Healthy(p), tests: tests, rows: make([][]int, len(l.Faults)),
		wanted: make([]bool, len(l.Hypotheses))}
	for h := range l.Hypotheses {
		f := l.Hypotheses[h].Fault
		d.rows[f] = append(d.rows[f], h)
	}
	for _, c := range chosen {
		d.wanted[c.hypothesis] = true
	}
	return d
}

// drawn is a vehicle that fits its fault, as the meters show it.
type drawn struct {
	hypothesis int
	severity   float64
	readings   []reading // by test of the lab
	traces     []lab.Trace
}

type reading struct {
	text, beside string
	band         uint8
}

// tally counts why draws were refused.
type tally struct {
	draws     int
	band      map[[2]int]int // test of the lab and band that no row of the fault has: what tolerances and meters do
	complaint int            // the customer would report something else: a severity that is not for this lab
	elsewhere int            // a row outside the window of difficulty
}

func newTally() *tally { return &tally{band: map[[2]int]int{}} }

// vehicle draws vehicles with a fault until one fits: every reading that the meters show, errors included, lies in the bands of one
// hypothesis of the fault inside the window, and the customer would report its complaint. ok is false when none did.
func (d *drawer) vehicle(who person, fault int, t *tally) (drawn, bool) {
	for n := range attempts {
		v, severity := d.assemble(who, fault, n)
		t.draws++
		m := d.meter(who, n)
		if dr, ok := d.judge(v, m, fault, t); ok {
			dr.severity = severity
			return dr, true
		}
	}
	return drawn{}, false
}

// assemble draws the part values of attempt n and hides the fault.
func (d *drawer) assemble(who person, fault, n int) (*vehicle.Vehicle, float64) {
	v := d.healthy.Clone()
	s := draw.New(d.key[:], who.labels(d.lab.Name, "tolerances", strconv.Itoa(n))...)
	spread := make([]float64, len(d.p.Parts))
	for i := range spread {
		spread[i] = s.Range(-1, 1)
	}
	v.Spread(func(part int) float64 { return spread[part] })
	if fault >= len(d.p.Faults) {
		return v, 0
	}
	severity := 0.5
	if d.p.Faults[fault].Ranged() {
		severity = draw.New(d.key[:], who.labels(d.lab.Name, "severity", strconv.Itoa(n))...).Float64()
	}
	v.Apply(d.p.Faults[fault], severity)
	return v, severity
}

// meter gives the errors of attempt n by test of the pack. One meter has one gain error, whatever it measures, so that the differences
// which students form between its readings stay sound; only the last digits differ from reading to reading.
func (d *drawer) meter(who person, n int) []vehicle.Error {
	gain := map[string]float64{}
	last := draw.New(d.key[:], who.labels(d.lab.Name, "last digits", strconv.Itoa(n))...)
	errors := make([]vehicle.Error, len(d.p.Tests))
	for i := range d.p.Tests {
		unit := d.p.Tests[i].Instrument.Unit
		if _, known := gain[unit]; !known {
			gain[unit] = draw.New(d.key[:], who.labels(d.lab.Name, "meter", unit, strconv.Itoa(n))...).Range(-1, 1)
		}
		errors[i] = vehicle.Error{Gain: gain[unit], Offset: last.Range(-1, 1)}
	}
	return errors
}

// judge reads the allowed tests and stops at the first band that no row of the fault has.
func (d *drawer) judge(v *vehicle.Vehicle, meter []vehicle.Error, fault int, t *tally) (drawn, bool) {
	seen := make([]vehicle.Shown, len(d.p.Tests))
	have := make([]bool, len(d.p.Tests))
	show := func(i int) vehicle.Shown {
		if !have[i] {
			seen[i], have[i] = vehicle.Show(d.p.Tests[i].Instrument, v.Read(i), meter[i]), true
		}
		return seen[i]
	}
	alive := append([]int(nil), d.rows[fault]...)
	dr := drawn{readings: make([]reading, len(d.tests))}
	for i, test := range d.tests {
		pt := &d.p.Tests[test]
		shown, beside := show(test), vehicle.Shown{}
		r := reading{text: shown.Text}
		if pt.Compare >= 0 {
			beside = show(pt.Compare)
			if shown.Phrase == "" { // "engine does not run" needs no comparison
				r.beside = d.p.Beside(*pt) + " " + beside.Text
			}
		}
		r.band = vehicle.BandOf(pt, shown, beside)
		dr.readings[i] = r
		if alive = d.still(alive, i, r.band); len(alive) == 0 {
			if _, complaint, _ := v.Bands(); d.reports(fault, complaint) {
				t.band[[2]int{i, int(r.band)}]++
			} else {
				t.complaint++
			}
			return drawn{}, false
		}
	}
	_, complaint, err := v.Bands()
	for _, h := range alive {
		if err != nil || d.lab.Hypotheses[h].Complaint != complaint {
			continue
		}
		if !d.wanted[h] {
			t.elsewhere++
			return drawn{}, false
		}
		dr.hypothesis = h
		if d.lab.Scope {
			dr.traces = d.traces(v)
		}
		return dr, true
	}
	t.complaint++
	return drawn{}, false
}

// reports tells whether some hypothesis of the fault gives the complaint.
func (d *drawer) reports(fault, complaint int) bool {
	return slices.ContainsFunc(d.rows[fault], func(h int) bool { return d.lab.Hypotheses[h].Complaint == complaint })
}

// still keeps the hypotheses under which a test shows the band.
func (d *drawer) still(alive []int, test int, band uint8) []int {
	kept := alive[:0]
	for _, h := range alive {
		if d.lab.Hypotheses[h].Band(test) == band {
			kept = append(kept, h)
		}
	}
	return kept
}
