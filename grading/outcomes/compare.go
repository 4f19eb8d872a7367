package outcomes

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"nospark/grading/competency"
	"nospark/grading/evidence"
	"nospark/grading/statistics"
)

// LeastSections is how many sections a comparison needs on each side: what differs between sections is not only the
// students, so the section is the unit.
const LeastSections = 5

// recurring tells labs that ask the same from each other: the same lab of one pack, in whatever term. Only those are
// compared over sections and years.
type recurring struct {
	lab, title, pack string
	version          int
}

func recurringOf(r *evidence.Record) recurring { return recurring{r.Lab, r.Title, r.Pack, r.Version} }

// SectionMark is how a section does against all sections on the same labs.
type SectionMark struct {
	Section  string
	Students int
	Sheets   int
	Against  float64               // mean of its sheets' marks minus the lab's mean over all sections, points
	Others   statistics.Difference // from the other sections; NaN below LeastSections of them
}

// Behind tells that the section does worse than one more section of the others' kind would in 39 of 40 cases.
func (s SectionMark) Behind() bool { return s.Others.High < 0 }

// SectionMarksOf lists the sections by name. Small ones are left out of the others.
func SectionMarksOf(t *competency.Term) []SectionMark {
	mean := labMeans(t, t.Present)
	section := map[string]string{} // by student
	of := map[string]*SectionMark{}
	for i := range t.Students {
		s := &t.Students[i]
		section[s.ID] = s.Section
		if of[s.Section] == nil {
			of[s.Section] = &SectionMark{Section: s.Section}
		}
		of[s.Section].Students++
	}
	t.Marked(func(r *evidence.Record, e *evidence.Entry) {
		label, here := section[e.Student]
		if !here || !t.Present(r) {
			return
		}
		x := of[label]
		x.Sheets++
		x.Against += e.Mark - mean[recurringOf(r)]
	})
	var list []SectionMark
	for _, name := range slices.Sorted(maps.Keys(of)) {
		x := of[name]
		x.Against /= float64(x.Sheets)
		list = append(list, *x)
	}
	for i := range list {
		var others []float64
		for k := range list {
			if k != i && list[k].Students >= LeastGroup && list[k].Sheets > 0 {
				others = append(others, list[k].Against)
			}
		}
		list[i].Others = statistics.Difference{Mean: math.NaN(), Low: math.NaN(), High: math.NaN()}
		if len(others) >= LeastSections && list[i].Students >= LeastGroup && list[i].Sheets > 0 {
			list[i].Others = statistics.OneAgainst(list[i].Against, others)
		}
	}
	return list
}

// Growth compares two cohorts on the labs that both had.
type Growth struct {
	Earlier, Later                 string // names of the cohorts
	Labs                           int    // that recur
	SectionsLater, SectionsEarlier int
	Points                         statistics.Difference
}

// GrowthOf compares the latest cohort with the one before it, by the dates of their records. ok is false where there
// are not two; the difference is NaN where no lab recurs or a side has fewer than LeastSections sections.
func GrowthOf(t *competency.Term) (g Growth, ok bool) {
	last := map[string]string{} // latest date by cohort
	for _, r := range t.Records {
		if r.Cohort != "" {
			last[r.Cohort] = max(last[r.Cohort], r.Date)
		}
	}
	cohorts := slices.SortedFunc(maps.Keys(last), func(a, b string) int {
		return cmp.Or(cmp.Compare(last[b], last[a]),
			cmp.Compare(a, b))
	})
	if len(cohorts) < 2 {
		return g, false
	}
	g.Later, g.Earlier = cohorts[0], cohorts[1]
	had := map[recurring][2]bool{}
	side := func(r *evidence.Record) int { return slices.Index([]string{g.Later, g.Earlier}, r.Cohort) }
	for _, r := range t.Records {
		if k := side(r); k >= 0 {
			x := had[recurringOf(r)]
			x[k] = true
			had[recurringOf(r)] = x
		}
	}
	both := func(r *evidence.Record) bool { return side(r) >= 0 && had[recurringOf(r)] == [2]bool{true, true} }
	mean := labMeans(t, both)
	g.Labs = len(mean)
	type sum struct{ points, n float64 }
	of := [2]map[competency.SectionID]*sum{{}, {}}
	t.Marked(func(r *evidence.Record, e *evidence.Entry) {
		if !both(r) {
			return
		}
		sections, id := of[side(r)], competency.SectionOf(r)
		if sections[id] == nil {
			sections[id] = new(sum)
		}
		sections[id].points += e.Mark - mean[recurringOf(r)]
		sections[id].n++
	})
	var marks [2][]float64
	for k := range of {
		for _, x := range of[k] {
			marks[k] = append(marks[k], x.points/x.n)
		}
		slices.Sort(marks[k]) // so that sums do not depend on the order of a map
	}
	g.SectionsLater, g.SectionsEarlier = len(marks[0]), len(marks[1])
	g.Points = statistics.Difference{Mean: math.NaN(), Low: math.NaN(), High: math.NaN()}
	if min(g.SectionsLater, g.SectionsEarlier) >= LeastSections {
		g.Points = statistics.Welch(marks[0], marks[1])
	}
	return g, true
}

// labMeans are the mean marks of the labs over all records that count.
func labMeans(t *competency.Term, counts func(*evidence.Record) bool) map[recurring]float64 {
	sum, n := map[recurring]float64{}, map[recurring]float64{}
	t.Marked(func(r *evidence.Record, e *evidence.Entry) {
		if counts(r) {
			sum[recurringOf(r)] += e.Mark
			n[recurringOf(r)]++
		}
	})
	for key := range sum {
		sum[key] /= n[key]
	}
	return sum
}
