package build

import (
	"fmt"

	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// These bound the proof of best play, in states compared and in memory. A lab whose optimum is not proven within them is refused: marks
// never rest on an estimate. The built-in packs need far less; a pack that needs more would keep an instructor waiting for minutes.
const (
	mostNodes = 3_000_000
	mostBytes = 2 << 30
)

// candidate is a hypothesis that a sheet may hide.
type candidate struct {
	hypothesis int
	fault      int
	repair     int
	complaint  int   // that the sheet shows; for the vehicle with nothing wrong the one it borrows
	minutes    int64 // difficulty: tenths of a minute of best play down to it
	walk       walkTo
}

// ground is one complaint of a lab, solved.
type solvedComplaint struct {
	complaint  int
	reference  float64     // V of all suspects: expected minutes of best play, tenths
	suspects   int         // number of hypotheses
	candidates []candidate // in the order of the hypotheses
	walks      []walkTo    // to each hypothesis, see Lab.walkAll
	unsure     []int       // faults left out because no allowed test separates their repair from another
}

// survey solves one complaint: how long best play takes on average and to each hypothesis that may be hidden. A fault whose repair cannot
// be proven is no fair thing to hide, so it is left out unless the plan names its faults.
func survey(l *lab.Lab, solver *isolation.Solver, problem isolation.Problem, req request, complaint int) (solvedComplaint, error) {
	g := solvedComplaint{complaint: complaint}
	start := l.Suspects(complaint)
	g.suspects = start.Len()
	label := l.Complaints[complaint].ID
	if start.Empty() {
		return g, fmt.Errorf("complaint %q: no fault of pack %q gives it", label, l.Pack.Name)
	}
	value := solver.Value(start)
	if !value.Proven() {
		return g, fmt.Errorf("complaint %q: best play among %d suspects and %d tests could not be proven (between %.2f and %.2f minutes);"+
			" allow fewer instruments or conditions", label, g.suspects, len(l.Tests), perWeight(solver, start, value.Low), perWeight(solver, start, value.High))
	}
	if solver.Done(start) {
		return g, fmt.Errorf("complaint %q: nothing needs testing, the allowed tests cannot narrow down its %d suspects; allow more instruments or conditions",
			label, g.suspects)
	}
	g.reference = perWeight(solver, start, value.Low) * 10
	for h := range start.All() {
		fault := l.Hypotheses[h].Fault
		if !req.hide[fault] || !req.named && freak(l, h) {
			continue
		}
		minutes, _, rest := follow(solver, problem, start, h)
		if len(solver.Repairs(rest)) > 1 && !req.named {
			g.unsure = append(g.unsure, fault)
			continue
		}
		g.candidates = append(g.candidates, candidate{hypothesis: h, fault: fault, repair: l.Faults[fault].Repair, complaint: complaint, minutes: minutes})
	}
	return g, nil
}

// freak tells whether a hypothesis is what its fault does at a hardly ever met severity, less than a tenth of the range: waiting for such
// a vehicle to be drawn would take long.
func freak(l *lab.Lab, h int) bool {
	var all int64
	for _, o := range l.Hypotheses {
		if o.Fault == l.Hypotheses[h].Fault && o.Complaint == l.Hypotheses[h].Complaint {
			all += o.Weight
		}
	}
	return 10*l.Hypotheses[h].Weight < all
}

// perWeight turns the solver's scale, tenths times weight, into minutes.
func perWeight(s *isolation.Solver, set isolation.Set, w int64) float64 {
	return float64(w) / float64(s.Weight(set)) / 10
}

// follow plays best play when h is the truth and gives the tenths and the steps it takes and the hypotheses that remain.
func follow(solver *isolation.Solver, problem isolation.Problem, start isolation.Set, h int) (tenths int64, steps int, rest isolation.Set) {
	set := start
	for {
		t, more := solver.Best(set)
		if !more {
			return tenths, steps, set
		}
		tenths, steps = tenths+problem.Minutes[t], steps+1
		set = solver.After(set, t, problem.Band[t][h])
	}
}
