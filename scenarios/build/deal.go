package build

import (
	"slices"
	"strconv"

	"nospark/scenarios/cases"
	"nospark/scenarios/chances"
	"nospark/scenarios/draw"
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

// dealer decides what each sheet hides: it gives sheets their cases and rows.
//
// First the case: neighbors begin differently as far as there are cases, and cases with repairs that a student has not
// met come more often. Then the row, from the case's suspects by their weights and by nothing else. Cases stand on the
// worksheets, so everybody may know them; whoever knows everything about all other sheets knows no more about what a
// sheet hides than its own case says.
type dealer struct {
	lab     *lab.Lab
	key     term.Key
	history term.History
	sets    []isolation.Set // of each case of the lab its rows
	rows    [][]chances.Row // of each case, those that may be hidden
	asked   []string        // kinds of test that the plan wants opportunities for
	hide    []bool          // by fault of the lab
}

// job is one sheet to make.
type job struct {
	who     person
	vehicle int // of the person's, from 1; 0 where there is but one
	begin   int // index of its case in the lab
	row     int // that it hides
	drawn   drawn
	ok      bool
	tally   *tally
}

// sheetStreams name the random streams of a person's sheet.
func sheetStreams(key term.Key, lab string, who person, vehicle int) streams {
	return func(purpose ...string) *draw.Stream {
		more := purpose[1:]
		if vehicle > 1 { // the first vehicle has the streams of a student with one
			more = append([]string{"vehicle", strconv.Itoa(vehicle)}, more...)
		}
		return draw.New(key[:], who.labels(lab, purpose[0], more...)...)
	}
}

// deal gives each open place, in their order, a case and a row. begins holds the cases of each person's sheets, also of
// those that are there already; near lists whose sheets shall begin differently.
func (d *dealer) deal(jobs []job, persons []int, begins [][]int, near [][]int) {
	for i := range jobs {
		j, who := &jobs[i], persons[i]
		s := sheetStreams(d.key, d.lab.Name, j.who, j.vehicle)
		taken := slices.Clone(begins[who])
		for _, n := range near[who] {
			taken = append(taken, begins[n]...)
		}
		j.begin = d.choose(s("case"), j.who, begins[who], taken)
		begins[who] = append(begins[who], j.begin)
		j.row = d.row(s("row"), j.begin)
	}
}

// offering lists the cases that something may be hidden behind: all of a new lab, perhaps not all of one that grows
// under a plan that excludes more faults by now.
func (d *dealer) offering() []int {
	var list []int
	for c := range d.lab.Cases {
		if len(d.rows[c]) > 0 {
			list = append(list, c)
		}
	}
	return list
}

// choose draws a case that is not taken, or any where all are; own are those of the person's other vehicles. There must
// be one that offers something.
func (d *dealer) choose(s *draw.Stream, who person, own, taken []int) int {
	var others [][]chances.Row
	for _, c := range own {
		others = append(others, d.rows[c])
	}
	offering := d.bringing(others)
	free := slices.DeleteFunc(slices.Clone(offering), func(c int) bool { return slices.Contains(taken, c) })
	if len(free) == 0 {
		free = offering
	}
	had := d.history[who.id]
	met := func(repair string) bool {
		return !who.spare && slices.ContainsFunc(had, func(x term.Had) bool {
			return x.Pack == d.lab.Pack.Name &&
				x.Repair == repair
		})
	}
	weights := make([]int64, len(free))
	for i, c := range free {
		weights[i] = chances.Weight(d.rows[c], met, d.asked, others)
	}
	return free[pick(s, weights)]
}

// bringing lists the cases that offer something, without those that bring less than half of what the best one does of
// what the plan asks for: opportunities come before neighbors' beginning differently, which gives nothing away either.
func (d *dealer) bringing(others [][]chances.Row) []int {
	list := d.offering()
	most := 0.0
	for _, c := range list {
		most = max(most, chances.Gain(d.rows[c], d.asked, others))
	}
	return slices.DeleteFunc(list, func(c int) bool { return 2*chances.Gain(d.rows[c], d.asked, others) < most })
}

// row draws what a sheet hides from the rows of its case by their weights.
func (d *dealer) row(s *draw.Stream, c int) int {
	var rows []int
	var weights []int64
	for h := range d.sets[c].All() {
		if d.hide[d.lab.Hypotheses[h].Fault] {
			rows, weights = append(rows, h), append(weights, d.lab.Hypotheses[h].Weight)
		}
	}
	return rows[pick(s, weights)]
}

// pick draws an index by weights.
func pick(s *draw.Stream, weights []int64) int {
	var sum int64
	for _, w := range weights {
		sum += w
	}
	at := int64(s.Intn(int(sum)))
	for i, w := range weights {
		if at < w {
			return i
		}
		at -= w
	}
	panic("build: weights that do not add up")
}

// mileage draws what the odometer shows. It is drawn with the case, before the row, so it tells nothing about it.
func mileage(s streams) int {
	const least, most, step = 38_000, 164_000, 100
	return least + step*s("mileage").Intn((most-least)/step)
}

// rowsOf gives the rows of each case of a lab, and the worlds of its complaints.
func rowsOf(l *lab.Lab) ([]isolation.Set, map[int]*lab.World, error) {
	worlds := map[int]*lab.World{}
	sets := make([]isolation.Set, len(l.Cases))
	for i, c := range l.Cases {
		if worlds[c.Complaint] == nil {
			w, err := l.World(c.Complaint, nil, nil)
			if err != nil {
				return nil, nil, err
			}
			worlds[c.Complaint] = w
		}
		sets[i] = worlds[c.Complaint].Rows(worlds[c.Complaint].Start(c.Known))
	}
	return sets, worlds, nil
}

// freeze puts the cases that were found into the lab.
func freeze(l *lab.Lab, found []*cases.Found) {
	l.Cases = nil
	for _, f := range found {
		for _, c := range f.Cases {
			l.Cases = append(l.Cases, c.Case)
		}
	}
}
