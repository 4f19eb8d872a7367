package bench

// Row is a hypothesis: one distinct pair of bands and complaint that a fault gives over its severities.
type Row struct {
	Fault     int     // index into the pack's Faults; -1 for the vehicle with nothing wrong
	Complaint int     // index into the pack's Complaints; -1 for none
	Weight    int64   // the fault's weight times its share of the grid of severities; Grid for each fault in all
	Severity  float64 // a severity of the grid that gives this row (the middle one)
	Bands     []uint8 // one per test of the pack
}

// Grid is the number of severities tried of a fault with a range; a fault without one weighs the same.
const Grid = 12

// Matrix is the table of hypotheses by tests at nominal part values, the D-matrix of the literature.
type Matrix struct{ Rows []Row }
