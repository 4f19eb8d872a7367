package build

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"

	"nospark/scenarios/chances"
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// finish deals out cases and rows, draws vehicles, seals the lab and reports.
func (m *maker) finish(ctx context.Context, r *Report) (*lab.Lab, *Report, error) {
	sets, worlds, err := rowsOf(m.lab)
	if err != nil {
		return nil, nil, err
	}
	jobs, err := m.jobs(sets)
	if err != nil {
		return nil, nil, err
	}
	if err := m.drawAll(ctx, jobs); err != nil {
		return nil, nil, err
	}
	for _, j := range jobs {
		if !j.ok {
			return nil, nil, m.hopeless(j)
		}
	}
	taken := map[string]bool{}
	for _, s := range m.lab.Sheets {
		taken[s.Code] = true
	}
	ways, err := waysTo(m.lab, worlds)
	if err != nil {
		return nil, nil, err
	}
	kept := len(m.lab.Sheets)
	for _, j := range jobs {
		s := m.sheet(j, ways)
		s.Code = m.code(j, taken)
		m.lab.Sheets = append(m.lab.Sheets, s)
	}
	partner(m.lab, kept, m.in.Seating)
	m.lab.Seal = m.lab.SealUnder(m.in.Key[:])
	r.fill(m, sets, jobs)
	r.Kept, r.Added = kept, len(jobs)
	r.Notes = append(r.Notes, m.remarks(r)...)
	return m.lab, r, nil
}

// jobs lists the sheets to make, dealt.
func (m *maker) jobs(sets []isolation.Set) ([]job, error) {
	var jobs []job
	var persons []int
	begins := make([][]int, len(m.people))
	for i, who := range m.people {
		if i < len(m.old) {
			for _, at := range m.old[i] {
				begins[i] = append(begins[i], m.lab.Sheets[at].Case)
			}
		}
		vehicles := max(1, m.lab.Vehicles)
		for v := len(begins[i]) + 1; v <= vehicles; v++ {
			j := job{who: who, tally: newTally()}
			if vehicles > 1 {
				j.vehicle = v
			}
			jobs, persons = append(jobs, j), append(persons, i)
		}
	}
	d := dealer{lab: m.lab, key: m.in.Key, history: m.in.History, sets: sets, hide: m.hide, asked: m.in.Plan.Competency}
	var err error
	if d.rows, err = chances.Of(m.lab, func(fault int) bool { return m.hide[fault] }, len(d.asked) > 0); err != nil {
		return nil, err
	}
	if len(jobs) > 0 && len(d.offering()) == 0 {
		key := "exclude"
		if m.in.Plan.Has("faults") {
			key = "faults"
		}
		return nil, fmt.Errorf("%s: none of the faults that may be hidden fits where the sheets of lab %q begin; "+
			"allow more",
			m.in.Plan.Place(key), m.lab.Name)
	}
	d.deal(jobs, persons, begins, neighbors(m.people, m.in.Seating))
	return jobs, nil
}

// drawAll draws the vehicles of all jobs on all cores. Each job has streams of its own, so who draws it makes no
// difference.
func (m *maker) drawAll(ctx context.Context, jobs []job) error {
	return onAllCores(ctx, len(jobs), m.in.Progress, func(i int) {
		j := &jobs[i]
		j.drawn, j.ok = m.drawer.vehicle(sheetStreams(m.in.Key, m.lab.Name, j.who, j.vehicle), j.row, attempts, j.tally)
	})
}

// onAllCores does n pieces of work, until ctx ends. Progress is told from one goroutine.
func onAllCores(ctx context.Context, n int, progress func(done, total int), work func(i int)) error {
	next, done := make(chan int), make(chan struct{})
	var workers sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), max(n, 1)) {
		workers.Go(func() {
			for i := range next {
				work(i)
				done <- struct{}{}
			}
		})
	}
	go func() {
		defer close(next)
		for i := range n {
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
	made := 0
	// progress is told from here alone, so that the caller's function need not be safe for several goroutines
	for range done {
		made++
		if progress != nil {
			progress(made, n)
		}
	}
	return ctx.Err()
}

// hopeless says why no vehicle fits.
func (m *maker) hopeless(j job) error {
	why := "the customer would report something else"
	most := j.tally.complaint
	for i, test := range m.lab.Tests {
		for b, band := range test.Bands {
			if n := j.tally.band[[2]int{i, b}]; n > most {
				most = n
				why = fmt.Sprintf("%d times test %q read %q", n, test.ID, band.Name)
			}
		}
	}
	return fmt.Errorf("pack %q: none of %d vehicles drawn with fault %q fits its bands (%s);"+
		" the bands are too tight for the tolerances: see nospark pack check", m.lab.Pack.Name, j.tally.draws,
		m.lab.Faults[m.lab.Hypotheses[j.row].Fault].ID, why)
}

// remarks puts into words what the numbers of the report mean for the class.
func (m *maker) remarks(r *Report) []string {
	var notes []string
	for _, f := range r.Faults {
		if f.Draws >= 20 && f.Tight*4 > f.Draws {
			notes = append(notes, fmt.Sprintf("fault %q: in %d of %d drawn vehicles a reading left its band; the "+
				"bands are tight for the pack's tolerances",
				f.ID, f.Tight, f.Draws))
		}
	}
	if m.in.Seating != nil {
		notes = append(notes, seatNotes(cmp.Or(m.in.Plan.Seating, "the seating plan"), m.people, m.in.Seating)...)
	}
	return notes
}

// waysTo gives a function for the minutes of best play from a case to a row, tenths.
func waysTo(l *lab.Lab, worlds map[int]*lab.World) (func(way) int64, error) {
	solvers := map[int]*isolation.Solver{}
	for c, w := range worlds {
		s, err := isolation.New(w.Problem, isolation.Limits{})
		if err != nil {
			return nil, err
		}
		solvers[c] = s
	}
	known := map[way]int64{}
	return func(to way) int64 {
		if minutes, ok := known[to]; ok {
			return minutes
		}
		c := l.Cases[to.begin]
		w, s := worlds[c.Complaint], solvers[c.Complaint]
		var minutes int64
		for _, t := range s.Path(w.Start(c.Known), to.row) {
			minutes += w.Problem.Minutes[t]
		}
		known[to] = minutes
		return minutes
	}, nil
}

// buildable drops the hypotheses of which no vehicle could be drawn, whatever the term: it is decided with streams of
// the pack's own, so it tells nothing about any sheet. It gives the ids of the faults that lost rows, each once.
func buildable(ctx context.Context, l *lab.Lab, d *drawer) ([]source, []string, error) {
	ok := make([]bool, len(l.Hypotheses))
	err := onAllCores(ctx, len(ok), nil, func(i int) {
		h := l.Hypotheses[i]
		_, ok[i] = d.vehicle(packStreams(l.Pack.Name, l.Faults[h.Fault].ID, h.Bands), i, tries, newTally())
	})
	if err != nil {
		return nil, nil, err
	}
	var rows []lab.Hypothesis
	var sources []source
	var lost []string
	for i, h := range l.Hypotheses {
		if ok[i] {
			rows, sources = append(rows, h), append(sources, d.sources[i])
		} else if id := l.Faults[h.Fault].ID; !slices.Contains(lost, id) {
			lost = append(lost, id)
		}
	}
	l.Hypotheses = rows
	return sources, lost, nil
}

// fill describes the sheets of a lab.
func (r *Report) fill(m *maker, sets []isolation.Set, jobs []job) {
	l := m.lab
	sheets := make([]int, len(l.Faults))
	r.Low, r.High = math.Inf(1), math.Inf(-1)
	for _, s := range l.Sheets {
		v := l.Cases[s.Case].Reference
		r.Low, r.High, r.Mean = min(r.Low, v), max(r.High, v), r.Mean+v/float64(len(l.Sheets))
		sheets[l.Hypotheses[s.Truth].Fault]++
	}
	share := r.learn(l, sets, m.hide)
	for f, hide := range m.hide {
		if hide && share[f] > 0 || sheets[f] > 0 {
			r.Faults = append(r.Faults, FaultReport{ID: l.Faults[f].ID, Label: l.Faults[f].Label, Share: share[f],
				Sheets: sheets[f]})
		}
	}
	r.count(l, jobs)
	r.Same = alike(l, m)
}
