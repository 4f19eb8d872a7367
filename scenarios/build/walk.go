package build

import (
	"math"
	"slices"

	"nospark/scenarios/draw"
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// walks is how many walks are averaged. Marks of two walks have a standard deviation of some eight points, so that of the mean is an eighth
// of a point.
const walks = 4000.0

// These bound what walking may cost, to a few seconds. The built-in packs need a half of the branches, a tenth of the values and a twentieth of
// the states. A pack with very many suspects has to do with fewer walks, and where not even the least number can be made, nobody can tell
// how a walk fares there.
const (
	leastWalks    = 200
	mostBranches  = 500_000 // of all walks
	mostValues    = 20_000  // different sets of suspects whose best play is asked for
	mostWalkNodes = 200_000 // states compared for all values
	mostNodesEach = 20_000  // and for each
)

// slip is the share of verdicts on a walk that are wrong.
const slip = 1.0 / 8

// How many points of the mark may lie between sheets on a walk that still count as equally hard for those who do not play best. Less than
// four would leave most labs without a choice of faults; five an instructor should not have to defend, and a class is a sample.
const (
	evenMarks  = 4.0
	looseMarks = 4.5
)

// walkTo is what a walk to a hypothesis takes and brings. The zero value stands for walks that could not be made.
type walkTo struct {
	minutes float64 // mean, tenths
	mark    float64 // mean
}

// walker estimates how somebody fares who does not choose: from any point round the diagram, at each a test that could still show something,
// any of them, until the repair is proven or the record table is full. Best play may be as long to one fault as to another while one of
// them betrays itself in every second reading and the other in a single one; that difference is what a walk finds.
type walker struct {
	lab       *lab.Lab
	solver    *isolation.Solver
	problem   isolation.Problem
	reference float64 // of the lab, tenths
	at        [][]int // tests by point, the last those outside the grid
	right     [][]int // repairs that are right for each hypothesis: those of all that read alike
	label     []int   // of each hypothesis: the same for the same right repairs
	others    []int64 // prior weight of those that need another repair
	needed    []int   // steps of best play
	stream    *draw.Stream
	sum       []walkTo // of all walks to a hypothesis

	values   map[isolation.Set]float64 // V, tenths
	rest     map[ending]int            // steps of best play from there
	branches int
	spent    bool // enough was done, or best play from somewhere could not be proven
}

// ending is where a walk to a hypothesis ends.
type ending struct {
	suspects isolation.Set
	truth    int
}

// stretch is how far a walk has come.
type stretch struct {
	point, steps int
	told         int     // steps that told something
	asked        int     // of these, the ones that want a verdict
	judged       int     // verdicts, of all steps
	spent        int64   // tenths
	lost         float64 // against best play, tenths
}

// walkAll fills in what walks to the hypotheses of each complaint take and bring. Efficiency is measured against one reference for all.
func walkAll(l *lab.Lab, grounds []solvedComplaint) error {
	reference := benchmark(l, grounds)
	for i := range grounds {
		g := &grounds[i]
		var err error
		if g.walks, err = walk(l, g.complaint, g.reference, reference); err != nil {
			return err
		}
		for k := range g.candidates {
			g.candidates[k].walk = g.walks[g.candidates[k].hypothesis]
		}
	}
	return nil
}

// benchmark is the mean over the sheets of what best play takes from their complaint, tenths; before there are any, over the complaints.
func benchmark(l *lab.Lab, grounds []solvedComplaint) float64 {
	sum, n := 0.0, 0
	for _, g := range grounds {
		for _, s := range l.Sheets {
			if s.Complaint == g.complaint {
				sum, n = sum+g.reference, n+1
			}
		}
	}
	if n > 0 {
		return sum / float64(n)
	}
	for _, g := range grounds {
		sum += g.reference / float64(len(grounds))
	}
	return sum
}

// walk tells for each hypothesis of a complaint what a walk to it takes and brings. own is the complaint's expected time of best play,
// reference the lab's, tenths.
func walk(l *lab.Lab, complaint int, own, reference float64) ([]walkTo, error) {
	w, err := newWalker(l, reference)
	if err != nil {
		return nil, err
	}
	return w.all(slices.Collect(l.Suspects(complaint).All()), own), nil
}

// newWalker prepares walks. They are always the same: how hard a fault is does not depend on a term's key.
func newWalker(l *lab.Lab, reference float64) (*walker, error) {
	problem := l.Problem()
	solver, err := isolation.New(problem, isolation.Limits{Nodes: mostNodesEach, Bytes: mostBytes / 4})
	if err != nil {
		return nil, err
	}
	n := len(l.Hypotheses)
	w := &walker{lab: l, solver: solver, problem: problem, reference: reference, at: make([][]int, len(l.Points)+1), right: make([][]int, n),
		label: make([]int, n), others: make([]int64, n), needed: make([]int, n), stream: draw.New([]byte("walks"), l.Pack.Name),
		sum: make([]walkTo, n), values: map[isolation.Set]float64{}, rest: map[ending]int{}}
	for t, test := range l.Tests {
		point := test.Point
		if point < 0 {
			point = len(l.Points)
		}
		w.at[point] = append(w.at[point], t)
	}
	return w, nil
}

// all walks to all suspects, whose V is known. It gives nothing for any of them if too few walks can be made.
func (w *walker) all(suspects []int, value float64) []walkTo {
	w.values[isolation.SetOf(suspects...)] = value
	w.learn(suspects)
	mean := make([]walkTo, len(w.sum))
	made := 0.0
	for !w.spent && made < walks {
		w.from(suspects, value, stretch{point: w.stream.Intn(len(w.at))})
		if w.spent {
			break // in the middle of a walk
		}
		made++
		copy(mean, w.sum)
		w.spent = w.branches > mostBranches || len(w.values) > mostValues
	}
	if made < leastWalks {
		return make([]walkTo, len(mean))
	}
	for h := range mean {
		mean[h] = walkTo{mean[h].minutes / made, mean[h].mark / made}
	}
	return mean
}

// learn fills in what the mark needs to know about each hypothesis.
func (w *walker) learn(all []int) {
	start := isolation.SetOf(all...)
	var known [][]int
	for _, h := range all {
		w.right[h] = w.solver.Repairs(w.solver.Group(start, h))
		w.label[h] = slices.IndexFunc(known, func(k []int) bool { return slices.Equal(k, w.right[h]) })
		if w.label[h] < 0 {
			w.label[h] = len(known)
			known = append(known, w.right[h])
		}
	}
	for _, h := range all {
		w.others[h] = w.otherwise(all, h)
		w.needed[h] = w.missing(all, h)
	}
}

// otherwise is the prior weight of the suspects that need another repair than h.
func (w *walker) otherwise(suspects []int, h int) int64 {
	var weight int64
	for _, o := range suspects {
		if !slices.Contains(w.right[h], w.problem.Repair[o]) {
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
	v, known := w.values[set]
	if !known {
		bracket := w.solver.Value(set)
		w.spent = w.spent || !bracket.Proven() || w.solver.Work() > mostWalkNodes
		v = 10 * perWeight(w.solver, set, bracket.Low)
		w.values[set] = v
	}
	return v
}

// from walks on with suspects that have answered alike so far, all of them at once. value is theirs.
func (w *walker) from(suspects []int, value float64, s stretch) {
	w.branches++
	if w.spent {
		return
	}
	if w.proven(suspects) || s.steps == w.lab.Rows {
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
	minutes := float64(w.problem.Minutes[t])
	lost := minutes - value
	for i, part := range parts {
		values[i] = w.value(part)
		lost += values[i] * w.weight(part) / w.weight(suspects)
	}
	s.point, s.steps, s.spent, s.lost = (s.point+1)%len(w.at), s.steps+1, s.spent+w.problem.Minutes[t], s.lost+lost
	for i, part := range parts {
		w.from(part, values[i], s.read(lost < minutes-1e-9, w.lab.Tests[t].Bands[w.problem.Band[t][part[0]]].Silent))
	}
}

// read counts a reading, which told something or not and wants a verdict unless it is silent.
func (s stretch) read(told, silent bool) stretch {
	if told {
		s.told++
	}
	if !silent {
		s.judged++
	}
	if told && !silent {
		s.asked++
	}
	return s
}

// end adds a walk up.
func (w *walker) end(suspects []int, s stretch) {
	for _, h := range suspects {
		w.sum[h].minutes += float64(s.spent)
		w.sum[h].mark += w.mark(suspects, h, s)
	}
}

// mark is the mean mark of a walk that ends with some suspects, the truth h among them. Any of their repairs is written; a wrong one fits
// all readings. What the instructor judges counts in full. Package grading has the formulas.
func (w *walker) mark(suspects []int, h int, s stretch) float64 {
	evidence, diagnosis, efficiency := 0.0, 1.0, 1.0
	switch {
	case w.others[h] > 0:
		evidence = 1 - float64(w.otherwise(suspects, h))/float64(w.others[h])
	case w.proven(suspects):
		evidence = 1
	}
	if !w.proven(suspects) {
		diagnosis, efficiency = w.guess(suspects, h, evidence, s.lost)
	} else if w.reference > 0 {
		efficiency = w.reference / (w.reference + s.lost)
	}
	r := w.lab.Rubric
	return float64(r.Evidence)*evidence + float64(r.Diagnosis)*diagnosis + float64(r.Efficiency)*efficiency +
		float64(r.Interpretation)*w.interpretation(suspects, h, s) + float64(r.Reasoning) + float64(r.Safety)
}

// guess gives the mean shares for diagnosis and efficiency when any repair of the suspects is written.
func (w *walker) guess(suspects []int, h int, evidence, lost float64) (diagnosis, efficiency float64) {
	repairs := w.solver.Repairs(isolation.SetOf(suspects...))
	for _, r := range repairs {
		right, after := evidence/2, lost+float64(w.lab.Repairs[r].Minutes)
		if slices.Contains(w.right[h], r) {
			right, after = 1, lost
		}
		diagnosis += right / float64(len(repairs))
		efficiency += evidence * w.reference / (w.reference + after) / float64(len(repairs))
	}
	return diagnosis, efficiency
}

// interpretation is the mean share of right verdicts, times the share of best play's steps that are done.
func (w *walker) interpretation(suspects []int, h int, s stretch) float64 {
	needed := w.needed[h]
	switch {
	case needed == 0:
		return 1
	case s.told == 0:
		return 0
	}
	missing := min(w.missing(suspects, h), needed)
	return rightly(s.judged, min(s.asked, needed)) * float64(needed-missing) / float64(needed)
}

// rightly is the mean share of right verdicts where only some of the verdicts count, but of the wrong ones, which are binomially
// distributed, all do.
func rightly(verdicts, counted int) float64 {
	if counted == 0 {
		return 1
	}
	share := 0.0
	odds := math.Pow(1-slip, float64(verdicts)) // of no wrong verdict, then of one, of two
	for wrong := range counted {
		share += odds * float64(counted-wrong) / float64(counted)
		odds *= float64(verdicts-wrong) / float64(wrong+1) * slip / (1 - slip)
	}
	return share
}

// missing is the number of steps that best play would still make to h. Walks end in the same few places again and again.
func (w *walker) missing(suspects []int, h int) int {
	if w.proven(suspects) {
		return 0
	}
	end := ending{isolation.SetOf(suspects...), h}
	steps, known := w.rest[end]
	if known {
		return steps
	}
	if w.value(suspects); w.spent {
		return 0
	}
	t, _ := w.solver.Best(end.suspects)
	after := w.solver.After(end.suspects, t, w.problem.Band[t][h])
	w.rest[end] = 1 + w.missing(slices.Collect(after.All()), h)
	return w.rest[end]
}

// proven tells whether there is but one thing to conclude.
func (w *walker) proven(suspects []int) bool {
	return !slices.ContainsFunc(suspects, func(h int) bool { return w.label[h] != w.label[suspects[0]] })
}

// weight is the prior weight of suspects.
func (w *walker) weight(suspects []int) float64 {
	var sum int64
	for _, h := range suspects {
		sum += w.problem.Weight[h]
	}
	return float64(sum)
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
