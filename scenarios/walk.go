package scenarios

import (
	"slices"

	"nospark/grading/isolation"
	"nospark/scenarios/draw"
)

// walks is how many walks are averaged. One walk differs from the next by less than half of its minutes, so the mean is known to about three
// parts in a hundred.
const walks = 200

// How far apart on a walk sheets may be and still count as equally hard for those who do not play best: in minutes, as a factor, because
// two fifths more cost such a student some three points of a mark; and in the share of walks that end with a full record table and no proof,
// because that costs forty points. Up to a factor of two is still better than anything.
const (
	evenWalks  = 1.4
	looseWalks = 2
	evenOdds   = 0.1
)

// walkTo is what a walk to a hypothesis takes.
type walkTo struct {
	minutes float64 // mean, tenths
	outrun  float64 // share of walks that take more lines than the record table has
}

// covers tells whether another walk is no easier than w, and harder by no more than a factor in minutes.
func (w walkTo) covers(o walkTo, factor float64) bool {
	return w.minutes <= o.minutes && o.minutes <= factor*w.minutes && w.outrun <= o.outrun && o.outrun <= w.outrun+evenOdds
}

// walker estimates how long somebody takes who does not choose: from any point round the diagram, at each a test that could still show
// something, any of them, until the repair is proven. Best play may be as long to one fault as to another while one of them betrays itself in
// every second reading and the other in a single one; that difference is what a walk finds.
type walker struct {
	problem isolation.Problem
	label   []int   // of each hypothesis: what is to be concluded from the ones that read alike
	at      [][]int // tests by point, the last those outside the grid
	stream  *draw.Stream
	rows    int     // lines of the record table
	spent   []int64 // tenths of a minute, of all walks to a hypothesis
	outrun  []int   // walks to it that the record table does not hold
}

// walk tells for each hypothesis of a complaint what a walk to it takes. The walks are always the same: how hard a fault is does not depend
// on a term's key.
func (l *Lab) walk(solver *isolation.Solver, problem isolation.Problem, start isolation.Set) []walkTo {
	n := len(l.Hypotheses)
	w := walker{problem: problem, label: make([]int, n), at: make([][]int, len(l.Points)+1), stream: draw.New([]byte("walks"), l.Pack.Name),
		rows: l.Rows, spent: make([]int64, n), outrun: make([]int, n)}
	var all []int
	var known [][]int
	for h := range start.All() {
		all = append(all, h)
		repairs := solver.Repairs(solver.Group(start, h))
		w.label[h] = slices.IndexFunc(known, func(k []int) bool { return slices.Equal(k, repairs) })
		if w.label[h] < 0 {
			w.label[h] = len(known)
			known = append(known, repairs)
		}
	}
	for t, test := range l.Tests {
		point := test.Point
		if point < 0 {
			point = len(l.Points)
		}
		w.at[point] = append(w.at[point], t)
	}
	for range walks {
		w.from(all, w.stream.Intn(len(w.at)), 0, 0)
	}
	mean := make([]walkTo, n)
	for h := range mean {
		mean[h] = walkTo{float64(w.spent[h]) / walks, float64(w.outrun[h]) / walks}
	}
	return mean
}

// from walks on from a point, after some steps, with suspects that have answered alike so far, all of them at once.
func (w *walker) from(suspects []int, point, steps int, spent int64) {
	if !slices.ContainsFunc(suspects, func(h int) bool { return w.label[h] != w.label[suspects[0]] }) {
		for _, h := range suspects {
			w.spent[h] += spent
			if steps > w.rows {
				w.outrun[h]++
			}
		}
		return
	}
	tests := w.showing(suspects, point)
	for len(tests) == 0 { // suspects with other conclusions differ in some test
		point = (point + 1) % len(w.at)
		tests = w.showing(suspects, point)
	}
	t := tests[w.stream.Intn(len(tests))]
	band := w.problem.Band[t]
	next, spent := (point+1)%len(w.at), spent+w.problem.Minutes[t]
	for rest := suspects; len(rest) > 0; {
		var same, other []int
		for _, h := range rest {
			if band[h] == band[rest[0]] {
				same = append(same, h)
			} else {
				other = append(other, h)
			}
		}
		w.from(same, next, steps+1, spent)
		rest = other
	}
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
