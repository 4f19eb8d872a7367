package cases

import (
	"math"
	"slices"

	"nospark/scenarios/draw"
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// walks is how many walks from a state are averaged. Marks of two walks have a standard deviation of some eight points,
// so that of the mean is about a point. More walks would cost seconds and change no choice that matters.
const walks = 40

// slip is the share of verdicts on a walk that are wrong.
const slip = 1.0 / 8

// walk makes the walks of a state whose V is known. They are always the same: how hard a state is does not depend on a
// term's key.
func (s *search) walk(set isolation.Set, reference float64) Walk {
	w := newWalker(s, reference)
	all := slices.Collect(set.All())
	w.learn(all)
	for range walks {
		w.from(all, reference, progress{point: w.stream.Intn(len(w.at))})
	}
	out := Walk{Low: math.Inf(1), High: math.Inf(-1), Marks: map[int]float64{}}
	var total float64
	for _, h := range all {
		if w.gap(h) {
			continue
		}
		mark := w.sum[h] / walks
		out.Marks[h] = mark
		out.Low, out.High = min(out.Low, mark), max(out.High, mark)
		out.Mean += mark * float64(w.problem.Weight[h])
		total += float64(w.problem.Weight[h])
	}
	out.Mean /= total
	return out
}

// walker makes walks from one state, to all its rows at once.
type walker struct {
	lab       *lab.Lab
	world     *lab.World
	solver    *isolation.Solver
	problem   *isolation.Problem
	reference float64
	at        [][]int // tests by point, the last those outside the grid
	right     [][]int // repairs that are right for each row: those of all that read alike
	label     []int   // of each suspect: the same for the same right repairs
	others    []int64 // weight of those that another repair is right for
	needed    []int   // steps of best play
	stream    *draw.Stream
	sum       []float64 // marks of all walks to a row
	search    *search
	rest      map[ending]int
}

// ending is where a walk to a row ends.
type ending struct {
	suspects isolation.Set
	row      int
}

// progress is how far a walk has come.
type progress struct {
	point, steps int
	told         int     // steps that told something
	asked        int     // of these, the ones that want a verdict
	judged       int     // verdicts, of all steps
	lost         float64 // against best play, tenths
}

func newWalker(s *search, reference float64) *walker {
	n := len(s.found.World.Problem.Weight)
	w := &walker{lab: s.lab, world: s.found.World, solver: s.found.Solver, problem: &s.found.World.Problem,
		reference: reference,
		at:        make([][]int, len(s.lab.Points)+1), right: make([][]int, n), label: make([]int, n),
		others: make([]int64, n), needed: make([]int, n),
		stream: draw.New([]byte("walks"), s.lab.Pack.Name), sum: make([]float64, n),
		search: s, rest: map[ending]int{}}
	for t, test := range s.lab.Tests {
		if !w.world.Open(t) {
			continue
		}
		point := test.Point
		if point < 0 {
			point = len(s.lab.Points)
		}
		w.at[point] = append(w.at[point], t)
	}
	return w
}

// gap tells whether a suspect is a gap: nobody is given one.
func (w *walker) gap(h int) bool { _, is := w.world.Gap(h); return is }

// learn fills in what the mark needs to know about each suspect.
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
		if !w.gap(h) {
			w.others[h] = w.otherwise(all, h)
			w.needed[h] = w.missing(all, h)
		}
	}
}

// otherwise is the weight of the suspects that another repair is right for.
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
	return w.search.remember(isolation.SetOf(suspects...))
}

// from walks on with suspects that have answered alike so far, all of them at once. value is theirs.
func (w *walker) from(suspects []int, value float64, s progress) {
	if !slices.ContainsFunc(suspects, func(h int) bool { return !w.gap(h) }) {
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
	s.point, s.steps, s.lost = (s.point+1)%len(w.at), s.steps+1, s.lost+lost
	for i, part := range parts {
		band := w.problem.Band[t][part[0]]
		silent := int(band) < len(w.lab.Tests[t].Bands) && w.lab.Tests[t].Bands[band].Silent
		w.from(part, values[i], s.read(lost < minutes-1e-9, silent))
	}
}

// read counts a reading, which told something or not and wants a verdict unless it is silent.
func (s progress) read(told, silent bool) progress {
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
func (w *walker) end(suspects []int, s progress) {
	for _, h := range suspects {
		if !w.gap(h) {
			w.sum[h] += w.mark(suspects, h, s)
		}
	}
}

// mark is the mean mark of a walk that ends with some suspects, row h among them. Any of their repairs is written. What
// the instructor judges counts in full.
func (w *walker) mark(left []int, h int, s progress) float64 {
	o := lab.Outcome{Reference: w.reference, Lost: s.lost, Settled: w.proven(left), Right: true, Evidence: 1}
	if w.others[h] > 0 {
		o.Evidence = 1 - float64(w.otherwise(left, h))/float64(w.others[h])
	} else if !o.Settled {
		o.Evidence = 0
	}
	o.Verdicts = w.interpretation(left, h, s)
	r := w.lab.Rubric
	instructor := float64(r.Reasoning) + float64(r.Safety)
	if o.Settled {
		return r.Parts(o).Sum() + instructor
	}
	share := func(repairs []int) float64 {
		sum := 0.0
		for _, l := range left {
			if slices.Contains(repairs, w.problem.Repair[l]) {
				sum += float64(w.problem.Weight[l])
			}
		}
		return sum / w.weight(left)
	}
	o.Share = share(w.right[h])
	repairs := slices.DeleteFunc(w.solver.Repairs(isolation.SetOf(left...)),
		func(r int) bool { return r == w.lab.NotListed() })
	sum := 0.0
	for _, repair := range repairs {
		guess := o
		if guess.Right = slices.Contains(w.right[h], repair); !guess.Right {
			guess.Wrong = share([]int{repair})
			guess.Lost += float64(w.lab.Repairs[repair].Minutes)
		}
		sum += r.Parts(guess).Sum()
	}
	return sum/float64(len(repairs)) + instructor
}

// interpretation is the mean share of right verdicts, times the share of best play's steps that are done.
func (w *walker) interpretation(left []int, h int, s progress) float64 {
	needed := w.needed[h]
	switch {
	case needed == 0:
		return 1
	case s.told == 0:
		return 0
	}
	missing := min(w.missing(left, h), needed)
	return rightly(s.judged, min(s.asked, needed)) * float64(needed-missing) / float64(needed)
}

// rightly is the mean share of right verdicts where only some of the verdicts count, but of the wrong ones, which are
// binomially distributed, all do.
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

// missing is the number of steps that best play would still make to h. Walks end in the same few places again and
// again.
func (w *walker) missing(suspects []int, h int) int {
	if w.proven(suspects) {
		return 0
	}
	end := ending{isolation.SetOf(suspects...), h}
	steps, known := w.rest[end]
	if known {
		return steps
	}
	t := w.search.first(end.suspects)
	if t < 0 {
		return 0
	}
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
