package build

import (
	"cmp"
	"context"
	"fmt"
	"runtime"
	"slices"
	"sync"

	"nospark/scenarios/draw"
	"nospark/scenarios/lab"
)

// work is the making of a lab's new sheets.
type work struct {
	lab    *lab.Lab
	in     *Input
	drawer *drawer
	chosen []candidate
	people []person // everybody who shall have a sheet, also those who have one
	old    []int    // of each person the sheet there is already, -1 for none; nil: nobody has one
}

// job is one sheet to make.
type job struct {
	who   person
	index int // into people
	fault int
	cand  candidate
	drawn drawn
	ok    bool
	tally *tally
}

// finish deals out faults, draws vehicles, seals the lab and reports.
func (w *work) finish(ctx context.Context, grounds []solvedComplaint, notes []string) (*lab.Lab, *Report, error) {
	chart, faults := w.seat()
	var jobs []job
	for i, who := range w.people {
		if w.old == nil || w.old[i] < 0 {
			jobs = append(jobs, job{who: who, index: i, fault: faults[chart.fault[i]], tally: newTally()})
		}
	}
	if err := w.drawAll(ctx, jobs); err != nil {
		return nil, nil, err
	}
	// Second choices depend on what the neighbours have by then, so they are made one after the other.
	tallies := make([]*tally, len(w.lab.Faults))
	for i := range jobs {
		if err := w.again(&jobs[i], chart, faults, tallies); err != nil {
			return nil, nil, err
		}
	}
	taken := map[string]bool{}
	for _, s := range w.lab.Sheets {
		taken[s.Code] = true
	}
	kept := len(w.lab.Sheets)
	for _, j := range jobs {
		s := w.drawer.sheet(j.who, j.cand, j.drawn)
		s.Code = w.drawer.code(j.who, taken)
		w.lab.Sheets = append(w.lab.Sheets, s)
	}
	partner(w.lab, kept, w.in.Seating)
	w.lab.Seal = w.lab.SealUnder(w.in.Key[:])
	if len(grounds) > 1 { // only now is it known how many sheets have which complaint
		if err := walkAll(w.lab, grounds); err != nil {
			return nil, nil, err
		}
	}
	r := newReport(w.lab, grounds, w.chosen)
	r.count(w.lab, tallies)
	r.Kept, r.Added, r.Clashes = kept, len(jobs), chart.clashes()
	r.Notes = append(notes, w.remarks(r)...)
	return w.lab, r, nil
}

// seat deals out the faults. It returns the chart and the fault of each of its choices.
func (w *work) seat() (*seatingChart, []int) {
	var faults []int
	for _, c := range w.chosen {
		if !slices.Contains(faults, c.fault) {
			faults = append(faults, c.fault)
		}
	}
	kept := len(faults)
	chart := &seatingChart{near: neighbours(w.people, w.in.Seating), fault: make([]int, len(w.people))}
	for i := range w.people {
		chart.fault[i] = -1
		if w.old == nil || w.old[i] < 0 {
			continue
		}
		// A printed sheet may hide a fault that is no longer on offer.
		fault := w.lab.Hypotheses[w.lab.Sheets[w.old[i]].Truth].Fault
		at := slices.Index(faults, fault)
		if at < 0 {
			at = len(faults)
			faults = append(faults, fault)
		}
		chart.fault[i] = at
	}
	for _, f := range faults {
		chart.repair = append(chart.repair, w.lab.Faults[f].Repair)
	}
	chart.offered = kept
	chart.count = make([]int, len(faults))
	chart.again = again(w.in.History, w.lab, w.people, faults)
	// Each build has a stream of its own: a second one that repeated the first's draws would give newcomers the faults of the first row.
	chart.fill(draw.New(w.in.Key[:], "lab", w.lab.Name, "faults", fmt.Sprint(len(w.lab.Sheets))))
	return chart, faults
}

// drawAll draws the vehicles of all jobs on all cores. Each job has streams of its own, so who draws it makes no difference.
func (w *work) drawAll(ctx context.Context, jobs []job) error {
	next, done := make(chan int), make(chan struct{})
	var workers sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), max(len(jobs), 1)) {
		workers.Go(func() {
			for i := range next {
				w.try(&jobs[i], jobs[i].fault)
				done <- struct{}{}
			}
		})
	}
	go func() {
		defer close(next)
		for i := range jobs {
			select {
			case next <- i:
			case <-ctx.Done():
				return
			}
		}
	}()
	go func() {
		workers.Wait()
		close(done)
	}()
	n := 0
	for range done { // progress is told from here alone, so that the caller's function need not be safe for several goroutines
		n++
		if w.in.Progress != nil {
			w.in.Progress(n, len(jobs))
		}
	}
	return ctx.Err()
}

// try draws a vehicle with the given fault for a job.
func (w *work) try(j *job, fault int) {
	j.fault = fault
	if j.drawn, j.ok = w.drawer.vehicle(j.who, fault, j.tally); j.ok {
		j.cand = w.candidateOf(j.who, j.drawn.hypothesis)
	}
}

// candidateOf finds the candidate of a drawn hypothesis. The vehicle with nothing wrong is one under several complaints: the person's
// stream picks which one it borrows.
func (w *work) candidateOf(who person, hypothesis int) candidate {
	var fits []candidate
	for _, c := range w.chosen {
		if c.hypothesis == hypothesis {
			fits = append(fits, c)
		}
	}
	return fits[draw.New(w.in.Key[:], who.labels(w.lab.Name, "complaint")...).Intn(len(fits))]
}

// again gives a job whose fault could not be drawn another one: first those that no neighbour has, the rarest first. It counts
// the draws of all jobs.
func (w *work) again(j *job, chart *seatingChart, faults []int, tallies []*tally) error {
	count := func() {
		if tallies[j.fault] == nil {
			tallies[j.fault] = newTally()
		}
		tallies[j.fault].add(j.tally)
	}
	count()
	if j.ok {
		return nil
	}
	first, worst := j.fault, j.tally
	order := make([]int, chart.offered)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return chart.friction(j.index, a) - chart.friction(j.index, b) + chart.count[a] - chart.count[b]
	})
	for _, c := range order {
		if faults[c] == first {
			continue
		}
		j.tally = newTally()
		w.try(j, faults[c])
		count()
		if j.ok {
			chart.count[chart.fault[j.index]]--
			chart.count[c]++
			chart.fault[j.index] = c
			return nil
		}
	}
	return w.hopeless(first, worst)
}

// hopeless says why no vehicle fits.
func (w *work) hopeless(fault int, t *tally) error {
	why := "the complaint or the difficulty did not fit"
	most := 0
	for i, test := range w.lab.Tests {
		for b, band := range test.Bands {
			if n := t.band[[2]int{i, b}]; n > most {
				most = n
				why = fmt.Sprintf("%d times test %q read %q", n, test.ID, band.Name)
			}
		}
	}
	return fmt.Errorf("pack %q: none of %d vehicles drawn with fault %q fits it (%s), and no other fault could take its place;"+
		" the bands are too tight for the tolerances: see nospark pack check", w.lab.Pack.Name, t.draws, w.lab.Faults[fault].ID, why)
}

// remarks puts into words what the numbers of the report mean for the class.
func (w *work) remarks(r *Report) []string {
	var notes []string
	if !r.Fair {
		notes = append(notes, fmt.Sprintf("not equally hard: best play takes %s minutes on the easiest sheet and %s on the hardest; set difficulty, or allow more faults",
			minutesText(r.Low), minutesText(r.High)))
	}
	switch {
	case !r.Fair || r.Even:
	case r.WalkMarks[1] == 0:
		notes = append(notes, "how students fare who test point after point could not be worked out, there are too many suspects: equally hard for best play only")
	default:
		notes = append(notes, fmt.Sprintf("about equally hard for best play (%s to %s minutes), less so for students who test point after point: their marks average from %.0f to %.0f",
			minutesText(r.Low), minutesText(r.High), r.WalkMarks[0], r.WalkMarks[1]))
	}
	if r.Clashes > 0 {
		notes = append(notes, fmt.Sprintf("%d pairs of neighbours have the same fault: too few faults to hide, or sheets that were there before", r.Clashes))
	}
	for _, f := range r.Faults {
		if f.Draws >= 20 && f.Tight*4 > f.Draws {
			notes = append(notes, fmt.Sprintf("fault %q: in %d of %d drawn vehicles a reading left its band; the bands are tight for the pack's tolerances",
				f.ID, f.Tight, f.Draws))
		}
	}
	if w.in.Seating != nil {
		notes = append(notes, seatNotes(cmp.Or(w.in.Plan.Seating, "the seating plan"), w.people, w.in.Seating)...)
	}
	return notes
}
