package outcomes

import (
	"math"
	"slices"

	"nospark/grading"
	"nospark/grading/competency"
	"nospark/grading/evidence"
	"nospark/grading/statistics"
)

// Bounds of what is said of marks. Practice of this project, no source, but for the first: its effect is a test.
const (
	LeastDF       = 150  // residual degrees of freedom for a standard error
	LeastForTrend = 6    // labs of a student
	FalseTrends   = 0.05 // how many of 100 terms report a trend although nobody changes
)

// Marks say how far the labs of a term measure the same thing, and what each student's term mark is.
type Marks struct {
	statistics.Components      // persons by labs; meaningless unless OK
	OK                    bool // there are components
	Levels                []Level
	Students              []TermMark // in the order of the term's students
	Tried                 int        // students with enough labs for a trend
}

// Level is a range of term marks with its own standard error of a single lab, since those in the middle vary more than
// those at the top.
type Level struct {
	From, To float64 // term marks, From included
	DF       float64 // residual degrees of freedom that fall to it
	Error    float64 // of one lab, points; NaN below LeastDF
}

// TermMark is the mean of a student's final marks.
type TermMark struct {
	Labs  int
	Mean  float64 // NaN without a lab
	Error float64 // standard error of the mean on the same labs, points; NaN where there are too few data
	Trend Trend   // against the class on the same labs
}

// Trend tells whether a student moves against the class.
type Trend int8

// Most students show none.
const (
	Falling Trend = iota - 1
	NoTrend
	Rising
)

// String gives the words for people.
func (t Trend) String() string {
	switch t {
	case Rising:
		return "rising"
	case Falling:
		return "falling"
	}
	return ""
}

// MarksOf works on the final marks of sheets that were worked on; a missing sheet is no zero. A lab counts as one task,
// whatever its sections, a student as one person; of several vehicles in a lab the mean is the mark, once
// all of them have one.
func MarksOf(t *competency.Term) Marks {
	var m Marks
	person, task := map[string]int{}, map[[2]string]int{}
	var cells []statistics.Cell
	of := map[[2]int]int{} // cells by person and task
	sheets := []float64{}  // of each cell
	for _, r := range t.Records {
		if !t.Present(r) {
			continue
		}
		open := unfinished(r)
		for i := range r.Students {
			e := &r.Students[i]
			if !competency.Finished(e) || open[e.Student] {
				continue
			}
			p, known := person[e.Student]
			if !known {
				p = len(person)
				person[e.Student] = p
			}
			key := [2]string{r.Term, r.Lab}
			k, known := task[key]
			if !known {
				k = len(task)
				task[key] = k
			}
			c, known := of[[2]int{p, k}]
			if !known {
				c = len(cells)
				of[[2]int{p, k}] = c
				cells, sheets = append(cells, statistics.Cell{Person: p, Task: k}), append(sheets, 0)
			}
			cells[c].Value += e.Mark
			sheets[c]++
		}
	}
	for c := range cells {
		cells[c].Value /= sheets[c]
	}
	m.Components, m.OK = statistics.VarianceComponents(cells)
	all := termMarks(cells, len(person))
	if m.OK {
		m.Levels = levels(cells, m.Components, all)
		m.addErrors(all)
	}
	m.findTrends(cells, all, len(task))
	for i := range t.Students {
		one := TermMark{Mean: math.NaN(), Error: math.NaN()}
		if p, has := person[t.Students[i].ID]; has {
			one = all[p]
		}
		m.Students = append(m.Students, one)
	}
	return m
}

// unfinished tells who has a vehicle in a record that is missing or provisional: the mark of the lab is not final then.
func unfinished(r *evidence.Record) map[string]bool {
	open := map[string]bool{}
	for i := range r.Students {
		if s := r.Students[i].Status; s == grading.Blank || s == grading.Provisional {
			open[r.Students[i].Student] = true
		}
	}
	return open
}

// termMarks are the means by person; without errors and trends.
func termMarks(cells []statistics.Cell, persons int) []TermMark {
	all := make([]TermMark, persons)
	for _, c := range cells {
		all[c.Person].Labs++
		all[c.Person].Mean += c.Value
	}
	for p := range all {
		all[p].Mean /= float64(all[p].Labs)
		all[p].Error = math.NaN()
	}
	return all
}

// levels shares the residual out: a cell stands for DF/n degrees of freedom, and the squared residuals of a level's
// cells over its degrees of freedom are its variance.
func levels(cells []statistics.Cell, c statistics.Components, all []TermMark) []Level {
	list := []Level{{From: 0, To: 60}, {From: 60, To: 80}, {From: 80, To: 100}}
	squares := make([]float64, len(list))
	for i, x := range cells {
		k := levelOf(list, all[x.Person].Mean)
		squares[k] += c.Residuals[i] * c.Residuals[i]
		list[k].DF += float64(c.DF) / float64(c.Cells)
	}
	for k := range list {
		list[k].Error = math.NaN()
		if list[k].DF >= LeastDF {
			list[k].Error = math.Sqrt(squares[k] / list[k].DF)
		}
	}
	return list
}

func levelOf(list []Level, mark float64) int {
	k := slices.IndexFunc(list, func(l Level) bool { return mark < l.To })
	if k < 0 {
		return len(list) - 1
	}
	return k
}

// addErrors gives each term mark the error of its level, where that has too few data the one of all.
func (m *Marks) addErrors(all []TermMark) {
	if m.DF < LeastDF {
		return
	}
	for p := range all {
		one := m.Levels[levelOf(m.Levels, all[p].Mean)].Error
		if math.IsNaN(one) {
			one = math.Sqrt(m.Residual)
		}
		all[p].Error = one / math.Sqrt(float64(all[p].Labs))
	}
}

// findTrends compares each student with the class on the same labs, in their order: the differences of the marks from
// the lab's mean, by the test of Mann and Kendall. All students together report a trend in FalseTrends of the terms in
// which nobody changes, so each is tested at that share divided by their number (Bonferroni).
func (m *Marks) findTrends(cells []statistics.Cell, all []TermMark, tasks int) {
	sum, n := make([]float64, tasks), make([]float64, tasks)
	for _, c := range cells {
		sum[c.Task] += c.Value
		n[c.Task]++
	}
	against := make([][]float64, len(all)) // oldest first, as the cells are
	for _, c := range cells {
		if n[c.Task] >= LeastGroup {
			against[c.Person] = append(against[c.Person], c.Value-sum[c.Task]/n[c.Task])
		}
	}
	for _, d := range against {
		if len(d) >= LeastForTrend {
			m.Tried++
		}
	}
	for p, d := range against {
		if len(d) < LeastForTrend {
			continue
		}
		s, chance := statistics.MannKendall(d)
		switch {
		case chance > FalseTrends/float64(m.Tried):
		case s > 0:
			all[p].Trend = Rising
		default:
			all[p].Trend = Falling
		}
	}
}
