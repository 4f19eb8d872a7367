package build

import (
	"strconv"

	"nospark/scenarios/pack/spec"
	"nospark/scenarios/vehicle"
	"nospark/scenarios/vehicle/meter"
)

// A vehicle is drawn again until every reading lies in the bands of its row. Of a row of which one draw in two hundred
// does, this many fail once in 10^10 sheets.
const attempts = 5000

// tries is how many vehicles of a row are drawn to see whether it can be built at all.
const tries = 60

// tally counts why draws were refused.
type tally struct {
	draws     int
	band      map[[2]int]int // test of the lab and band that the row does not have: what tolerances and meters do
	complaint int            // the customer would report something else
}

func newTally() *tally { return &tally{band: map[[2]int]int{}} }

// vehicle draws vehicles of a row until one fits: every reading that the meters show, errors included, lies in the
// row's bands, and the customer would report its complaint. The row stays the same whatever happens, or what a sheet
// hides would depend on how easily it is built. ok is false when none of the given number fits.
func (d *drawer) vehicle(s streams, row, most int, t *tally) (drawn, bool) {
	for n := range most {
		v, severity := d.assemble(s, row, n)
		t.draws++
		if dr, ok := d.judge(v, d.meter(s, n), row, t); ok {
			dr.severity = severity
			return dr, true
		}
	}
	return drawn{}, false
}

// assemble draws the part values of attempt n and hides the row's fault.
func (d *drawer) assemble(s streams, row, n int) (*vehicle.Vehicle, float64) {
	v := d.healthy.Clone()
	values := s("tolerances", strconv.Itoa(n))
	spread := make([]float64, len(d.p.Parts))
	for i := range spread {
		spread[i] = values.Range(-1, 1)
	}
	v.Spread(func(part int) float64 { return spread[part] })
	src := d.sources[row]
	if src.fault < 0 {
		return v, 0
	}
	severity := 0.5
	if d.p.Faults[src.fault].Ranged() {
		// anywhere around one of the severities that the matrix has tried
		by := s("severity", strconv.Itoa(n))
		const step = 1.0 / (vehicle.Grid - 1)
		severity = src.severities[by.Intn(len(src.severities))] + step*(by.Float64()-0.5)
		severity = min(1, max(0, severity))
	}
	v.Apply(d.p.Faults[src.fault], severity)
	return v, severity
}

// meter gives the errors of attempt n by test of the pack. One meter has one gain error, whatever it measures, so that
// the differences which students form between its readings stay sound; only the last digits differ from reading to
// reading.
func (d *drawer) meter(s streams, n int) []meter.Error {
	gain := map[string]float64{}
	last := s("last digits", strconv.Itoa(n))
	errors := make([]meter.Error, len(d.p.Tests))
	for i := range d.p.Tests {
		unit := d.p.Tests[i].Instrument.Unit
		if _, known := gain[unit]; !known {
			gain[unit] = s("meter", unit, strconv.Itoa(n)).Range(-1, 1)
		}
		errors[i] = meter.Error{Gain: gain[unit], Offset: last.Range(-1, 1)}
	}
	return errors
}

// judge reads the allowed tests and stops at the first band that the row does not have.
func (d *drawer) judge(v *vehicle.Vehicle, errs []meter.Error, row int, t *tally) (drawn, bool) {
	seen := make([]meter.Shown, len(d.p.Tests))
	have := make([]bool, len(d.p.Tests))
	show := func(i int) meter.Shown {
		if !have[i] {
			seen[i], have[i] = meter.Show(d.p.Tests[i].Instrument, v.Read(i), errs[i]), true
		}
		return seen[i]
	}
	h := d.lab.Hypotheses[row]
	dr := drawn{readings: make([]reading, len(d.tests))}
	for i, test := range d.tests {
		pt := &d.p.Tests[test]
		shown, beside := show(test), meter.Shown{}
		r := reading{text: shown.Text}
		if pt.Compare >= 0 {
			beside = show(pt.Compare)
			if shown.Phrase == "" { // "engine does not run" needs no comparison
				r.beside = spec.Beside(*pt, d.p) + " " + beside.Text
			}
		}
		r.band = meter.BandOf(pt, shown, beside)
		dr.readings[i] = r
		if r.band != h.Band(i) {
			t.band[[2]int{i, int(r.band)}]++
			return drawn{}, false
		}
	}
	if _, complaint, err := v.Bands(); err != nil || complaint != h.Complaint {
		t.complaint++
		return drawn{}, false
	}
	if d.lab.Scope {
		var err error
		if dr.traces, err = d.traces(v); err != nil {
			return drawn{}, false
		}
	}
	return dr, true
}
