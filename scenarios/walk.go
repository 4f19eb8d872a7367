package scenarios

import (
	"math"
	"slices"

	"nospark/grading/isolation"
	"nospark/scenarios/draw"
)

// walks is how many walks are averaged. The marks of two differ by some eight points, so the mean is known to a seventh of a point.
const walks = 4000

// slip is the share of verdicts on a walk that are wrong.
const slip = 1.0 / 8

// How many points of the mark may lie between sheets on a walk that still count as equally hard for those who do not play best. Less than
// four would leave most labs without a choice of faults; five an instructor should not have to defend, and a class is a sample.
const (
	evenMarks  = 4.0
	looseMarks = 4.5
)

// walkTo is what a walk to a hypothesis takes and brings.
type walkTo struct {
	minutes float64 // mean, tenths
	mark    float64 // mean
}

// walker estimates how somebody fares who does not choose: from any point round the diagram, at each a test that could still show something,
// any of them, until the repair is proven or the record table is full. Best play may be as long to one fault as to another while one of
// them betrays itself in every second reading and the other in a single one; that difference is what a walk finds.
type walker struct {
	solver    *isolation.Solver
	problem   isolation.Problem
	reference float64 // of the lab, tenths
	rubric    Rubric
	rows      int     // lines of the record table
	at        [][]int // tests by point, the last those outside the grid
	repairs   []Repair
	right     [][]int        // repairs that are right for each hypothesis: those of all that read alike
	label     []int          // of each hypothesis: the same for the same right repairs
	others    []int64        // prior weight of those with another label
	needed    []int          // steps of best play
	rest      map[ending]int // steps of best play from there
	stream    *draw.Stream
	sum       []walkTo // of all walks to a hypothesis
}

// ending is where a walk to a hypothesis ends.
type ending struct {
	suspects isolation.Set
	truth    int
}

// stretch is how far a walk has come.
type stretch struct {
	point, steps int
	spent        int64   // tenths
	lost         float64 // against best play, tenths
}

// walk tells for each hypothesis of a complaint what a walk to it takes and brings. The walks are always the same: how hard a fault is does
// not depend on a term's key.
func (l *Lab) walk(solver *isolation.Solver, problem isolation.Problem, start isolation.Set) []walkTo {
	n := len(l.Hypotheses)
	w := walker{solver: solver, problem: problem, rubric: l.Rubric, rows: l.Rows, at: make([][]int, len(l.Points)+1), repairs: l.Repairs,
		right: make([][]int, n), label: make([]int, n), others: make([]int64, n), needed: make([]int, n), rest: map[ending]int{}, stream: draw.New([]byte("walks"), l.Pack.Name), sum: make([]walkTo, n)}
	all := slices.Collect(start.All())
	w.learn(start)
	w.reference = w.value(all)
	for t, test := range l.Tests {
		point := test.Point
		if point < 0 {
			point = len(l.Points)
		}
		w.at[point] = append(w.at[point], t)
	}
	for range walks {
		w.from(all, w.reference, stretch{point: w.stream.Intn(len(w.at))})
	}
	for h := range w.sum {
		w.sum[h].minutes /= walks
		w.sum[h].mark /= walks
	}
	return w.sum
}

// learn fills in what the mark needs to know about each hypothesis.
func (w *walker) learn(start isolation.Set) {
	var known [][]int
	for h := range start.All() {
		_, w.needed[h], _ = follow(w.solver, w.problem, start, h)
		w.right[h] = w.solver.Repairs(w.solver.Group(start, h))
		w.label[h] = slices.IndexFunc(known, func(k []int) bool { return slices.Equal(k, w.right[h]) })
		if w.label[h] < 0 {
			w.label[h] = len(known)
			known = append(known, w.right[h])
		}
	}
	for h := range start.All() {
		w.others[h] = w.otherwise(slices.Collect(start.All()), h)
	}
}

// otherwise is the prior weight of the suspects with another label than h.
func (w *walker) otherwise(suspects []int, h int) int64 {
	var weight int64
	for _, o := range suspects {
		if w.label[o] != w.label[h] {
			weight += w.problem.Weight[o]
		}
	}
	return weight
}

// value is V of some suspects, tenths.
func (w *walker) value(suspects []int) float64 {
	if w.proven(suspects) {
		return 0
	}
	set := isolation.SetOf(suspects...)
	return 10 * perWeight(w.solver, set, w.solver.Value(set).Low)
}

// from walks on with suspects that have answered alike so far, all of them at once. value is theirs.
func (w *walker) from(suspects []int, value float64, s stretch) {
	if w.proven(suspects) || s.steps == w.rows {
		s.lost += value
		w.end(suspects, s)
		return
	}
	tests := w.showing(suspects, s.point)
	for len(tests) == 0 { // suspects with other labels differ in some test
		s.point = (s.point + 1) % len(w.at)
		tests = w.showing(suspects, s.point)
	}
	t := tests[w.stream.Intn(len(tests))]
	parts := w.parts(suspects, t)
	values := make([]float64, len(parts))
	s.lost += float64(w.problem.Minutes[t]) - value
	for i, part := range parts {
		values[i] = w.value(part)
		s.lost += values[i] * w.weight(part) / w.weight(suspects)
	}
	s = stretch{(s.point + 1) % len(w.at), s.steps + 1, s.spent + w.problem.Minutes[t], s.lost}
	for i, part := range parts {
		w.from(part, values[i], s)
	}
}

// end adds a walk up.
func (w *walker) end(suspects []int, s stretch) {
	for _, h := range suspects {
		w.sum[h].minutes += float64(s.spent)
		w.sum[h].mark += w.mark(suspects, h, s)
	}
}

// mark is the mean mark of a walk that ends with some suspects, the truth h among them. Any of their repairs is written; a wrong one fits
// all readings. Package grading has the formulas.
func (w *walker) mark(suspects []int, h int, s stretch) float64 {
	evidence, diagnosis, efficiency, interpretation := 1.0, 1.0, 1.0, 1.0
	if w.others[h] > 0 {
		evidence = 1 - float64(w.otherwise(suspects, h))/float64(w.others[h])
	}
	if !w.proven(suspects) {
		diagnosis, efficiency = w.guess(suspects, h, evidence, s.lost)
	} else if w.reference > 0 {
		efficiency = w.reference / (w.reference + s.lost)
	}
	if n := w.needed[h]; n > 0 {
		interpretation = judged(s.steps, n) * float64(n-min(w.missing(suspects, h), n)) / float64(n)
	}
	r := w.rubric
	return float64(r.Evidence)*evidence + float64(r.Diagnosis)*diagnosis + float64(r.Efficiency)*efficiency + float64(r.Interpretation)*interpretation
}

// guess gives the mean shares for diagnosis and efficiency when any repair of the suspects is written.
func (w *walker) guess(suspects []int, h int, evidence, lost float64) (diagnosis, efficiency float64) {
	repairs := w.solver.Repairs(isolation.SetOf(suspects...))
	for _, r := range repairs {
		right, after := evidence/2, lost+float64(w.repairs[r].Minutes)
		if slices.Contains(w.right[h], r) {
			right, after = 1, lost
		}
		diagnosis += right / float64(len(repairs))
		efficiency += evidence * w.reference / (w.reference + after) / float64(len(repairs))
	}
	return diagnosis, efficiency
}

// missing is the number of steps that best play would still make to h. Walks end in the same few places again and again.
func (w *walker) missing(suspects []int, h int) int {
	if w.proven(suspects) {
		return 0
	}
	end := ending{isolation.SetOf(suspects...), h}
	steps, known := w.rest[end]
	if !known {
		_, steps, _ = follow(w.solver, w.problem, end.suspects, h)
		w.rest[end] = steps
	}
	return steps
}

// judged is the mean share of right verdicts after so many steps where best play needs some: no more than those count, but of the wrong
// verdicts, which are binomially distributed, all do.
func judged(steps, needed int) float64 {
	counted := min(steps, needed)
	if counted == 0 {
		return 1
	}
	share := 0.0
	odds := math.Pow(1-slip, float64(steps)) // of no wrong verdict, then of one, of two
	for wrong := range counted {
		share += odds * float64(counted-wrong) / float64(counted)
		odds *= float64(steps-wrong) / float64(wrong+1) * slip / (1 - slip)
	}
	return share
}

// proven tells whether there is but one thing to conclude.
func (w *walker) proven(suspects []int) bool {
	return !slices.ContainsFunc(suspects, func(h int) bool { return w.label[h] != w.label[suspects[0]] })
}

// weight is the prior weight of suspects.
func (w *walker) weight(suspects []int) float64 {
	return float64(w.solver.Weight(isolation.SetOf(suspects...)))
}

// parts divides suspects by their reading of a test.
func (w *walker) parts(suspects []int, test int) [][]int {
	band := w.problem.Band[test]
	var parts [][]int
	for rest := suspects; len(rest) > 0; {
		var same, other []int
		for _, h := range rest {
			if band[h] == band[rest[0]] {
				same = append(same, h)
			} else {
				other = append(other, h)
			}
		}
		parts, rest = append(parts, same), other
	}
	return parts
}

// showing lists the tests at a point that the suspects do not all answer alike.
func (w *walker) showing(suspects []int, point int) []int {
	var tests []int
	for _, t := range w.at[point] {
		band := w.problem.Band[t]
		if slices.ContainsFunc(suspects, func(h int) bool { return band[h] != band[suspects[0]] }) {
			tests = append(tests, t)
		}
	}
	return tests
}
