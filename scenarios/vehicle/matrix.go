package vehicle

import (
	"fmt"
	"slices"
	"strconv"

	"nospark/scenarios/pack"
)

// Row is a hypothesis: one distinct pair of bands and complaint that a fault gives over its severities.
type Row struct {
	Fault      int       // index into the pack's Faults; -1 for the vehicle with nothing wrong
	Complaint  int       // index into the pack's Complaints; -1 for none
	Weight     int64     // the fault's weight times its share of the grid of severities; Grid for each fault in all
	Severities []float64 // all severities of the grid that give this row, ascending
	Severity   float64   // a severity of the grid that gives this row (the middle one)
	Bands      []uint8   // one per test of the pack
}

// Grid is the number of severities tried of a fault with a range; a fault without one weighs the same.
const Grid = 12

// Matrix is the table of hypotheses by tests at nominal part values, the D-matrix of the literature.
type Matrix struct{ Rows []Row }

// NewMatrix computes the matrix of a pack: the vehicle with nothing wrong first when the pack offers it, then the
// faults in order, each with its distinct rows from mild to severe. The error names the fault whose circuit cannot be
// solved.
func NewMatrix(p *pack.Pack) (*Matrix, error) {
	m, healthy := &Matrix{}, Healthy(p)
	// Faults that leave all but the high-tension side as it is, as long as nothing provokes them, have a vehicle of
	// their own: what it has settled stays from one to the next.
	scratch, calm := healthy.Clone(), healthy.Clone()
	scratch.pool, calm.pool = healthy.pool, healthy.pool
	if p.Nothing != nil {
		bands, _, err := healthy.Bands()
		if err != nil {
			return nil, fmt.Errorf("the healthy vehicle: %w", err)
		}
		m.Rows = append(m.Rows, Row{Fault: -1, Complaint: -1, Weight: p.Nothing.Weight * Grid, Bands: bands})
	}
	for i, f := range p.Faults {
		v := scratch
		if !healthy.l.disturbs(f) {
			v = calm
		}
		rows, err := faultRows(healthy, v, i, f)
		if err != nil {
			return nil, fmt.Errorf("fault %q: %w", f.ID, err)
		}
		m.Rows = append(m.Rows, rows...)
	}
	return m, nil
}

// ReadMatrix is NewMatrix for the text of a pack.
func ReadMatrix(file string, text []byte) (*pack.Pack, *Matrix, error) {
	p, err := pack.Parse(file, text)
	if err != nil {
		return nil, nil, err
	}
	m, err := NewMatrix(p)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", file, err)
	}
	return p, m, nil
}

// faultRows walks a fault over the grid of severities.
func faultRows(healthy, v *Vehicle, i int, f pack.Fault) ([]Row, error) {
	w := walk{healthy: healthy, v: v, fault: f, seen: make([]*seen, Grid)}
	if !f.Ranged() {
		w.seen = w.seen[:1]
	}
	if err := w.all(); err != nil {
		return nil, err
	}
	var rows []Row
	steps := len(w.seen)
	at := map[string]int{} // rows by what is seen
	for k, s := range w.seen {
		r, known := at[s.key]
		if !known {
			r = len(rows)
			at[s.key] = r
			rows = append(rows, Row{Fault: i, Complaint: s.complaint, Bands: s.bands})
		}
		rows[r].Weight += f.Weight * int64(Grid/steps)
		rows[r].Severities = append(rows[r].Severities, severityOf(k, steps))
	}
	for r := range rows {
		rows[r].Severity = rows[r].Severities[len(rows[r].Severities)/2]
	}
	return rows, nil
}

// walk is a fault over its grid of severities.
type walk struct {
	healthy, v *Vehicle
	fault      pack.Fault
	seen       []*seen // by severity; nil where nobody looked yet
}

// seen is what a fault shows at a severity.
type seen struct {
	bands     []uint8
	complaint int
	key       string // of both
}

// all looks at both ends and in between.
func (w *walk) all() error {
	last := len(w.seen) - 1
	if err := w.look(0); err != nil {
		return err
	}
	if err := w.look(last); err != nil {
		return err
	}
	return w.between(0, last)
}

// between looks at the severities between two that are known. Readings move one way as a fault grows, so where both
// ends and the middle show the same, all in between is taken to show it too.
func (w *walk) between(a, b int) error {
	if b-a < 2 {
		return nil
	}
	middle := (a + b) / 2
	if err := w.look(middle); err != nil {
		return err
	}
	if x, y, z := w.seen[a], w.seen[middle], w.seen[b]; x.key == y.key && y.key == z.key {
		for k := a + 1; k < b; k++ {
			w.seen[k] = y
		}
		return nil
	}
	if err := w.between(a, middle); err != nil {
		return err
	}
	return w.between(middle, b)
}

func (w *walk) look(k int) error {
	if w.seen[k] != nil {
		return nil
	}
	w.v.become(w.healthy, w.fault, severityOf(k, len(w.seen)))
	bands, complaint, err := w.v.Bands()
	w.seen[k] = &seen{bands: bands, complaint: complaint, key: strconv.Itoa(complaint) + string(bands)}
	return err
}

// severityOf is severity k of a grid of so many; a fault without a range has one severity.
func severityOf(k, steps int) float64 {
	if steps == 1 {
		return 0.5
	}
	return float64(k) / float64(steps-1)
}

// become turns the vehicle into a copy of another of the same pack with a fault.
func (v *Vehicle) become(other *Vehicle, f pack.Fault, severity float64) {
	v.passing = v.passing[:0]
	for _, s := range f.Set {
		if s.Only != "" {
			v.passing = append(v.passing, passing{s.Part, s.Param, s.At(severity), s.Only})
		}
	}
	v.take(func(part int) []float64 {
		row := other.values[part]
		for _, s := range f.Set {
			if s.Part == part && s.Only == "" {
				if &row[0] == &other.values[part][0] {
					row = append(v.row[:0], row...)
					v.row = row
				}
				row[s.Param] = s.At(severity)
			}
		}
		return row
	})
}

// disturbs reports whether a fault that nothing provokes changes more than the high-tension side.
func (l *layout) disturbs(f pack.Fault) bool {
	return slices.ContainsFunc(f.Set, func(s pack.Setting) bool { return s.Only == "" && !l.highTension[s.Part][s.Param] })
}
