package competency

import (
	"cmp"
	"math"
	"slices"

	"nospark/grading"
)

// Bounds below which a figure would say too much about single students, or nothing about the question.
const (
	LeastGroup = 5  // students of a group whose shares are shown
	LeastN     = 10 // sheets for statistics of a lab, an item or a fault
)

// Group counts the standings of one competency in a section, or in all.
type Group struct {
	Section    string
	All        bool // every section together
	Students   int
	Judged     int      // students with enough opportunities for the rule to say anything
	Count      [4]int   // by Status
	Competent  Interval // of those judged; NaN where nobody is
	Hidden     bool     // fewer than LeastGroup students: the counts and the interval are empty
	Mean       float64
	Directions [4]int // by Direction, of students who are not yet competent
}

// Groups rolls one competency up: all students first, then the sections in ascending order.
func (t *Term) Groups(competency int) []Group {
	all := &Group{All: true}
	of := map[string]*Group{}
	var sections []string
	for i := range t.Students {
		s := &t.Students[i]
		if of[s.Section] == nil {
			of[s.Section] = &Group{Section: s.Section}
			sections = append(sections, s.Section)
		}
		for _, g := range []*Group{all, of[s.Section]} {
			standing := &s.Standings[competency]
			g.Students++
			g.Count[standing.Status]++
			g.Mean += float64(len(standing.Opportunities))
			if standing.Status != Competent {
				g.Directions[standing.Direction]++
			}
		}
	}
	slices.Sort(sections)
	list := []Group{all.done()}
	for _, name := range sections {
		list = append(list, of[name].done())
	}
	return list
}

// done works out the shares, or empties the group when it is so small that they would speak of single students.
func (g *Group) done() Group {
	if g.Students < LeastGroup {
		return Group{Section: g.Section, All: g.All, Students: g.Students, Hidden: true, Competent: Wilson(0, 0), Mean: math.NaN()}
	}
	g.Judged = g.Students - g.Count[TooLittle]
	g.Competent = Wilson(g.Count[Competent], g.Judged)
	g.Mean /= float64(g.Students)
	return *g
}

// Lab is one lab of the term over all sections that had it.
type Lab struct {
	Name, Title, Date string
	Met, Of           []int // opportunities met and had, by competency
	MetOpen, OfOpen   []int // the same of students who are not competent as of now
	Trend             []float64
	Statistics        Statistics
}

// Statistics describe a lab over the rubric steps that all its sheets have in common, since students with different faults do not
// answer the same questions. A prompt to look at the question, not a verdict.
type Statistics struct {
	N     int       // sheets with a final mark that were worked on
	KR20  float64   // NaN below LeastN, or where nothing varies
	Steps []ItemFit // the common steps
}

// ItemFit is one step.
type ItemFit struct {
	Title string
	Met   int
	Share float64 // NaN below LeastN, as is the next
	Fit   float64 // correlation with the other steps
}

// commonSteps are the steps that every sheet has, whatever fault it hides.
var commonSteps = []struct {
	title string
	met   func(e *Entry) bool
}{
	{"the repair fits the complaint", func(e *Entry) bool { return e.has(Complaint) }},
	{"every verdict agrees", func(e *Entry) bool { return e.Asked > 0 && e.Agreed == e.Asked }},
	{"little time lost", func(e *Entry) bool { return e.has(Economy) }},
	{"the right repair", func(e *Entry) bool { return e.Right }},
	{"proven before concluding", func(e *Entry) bool { return e.Proven }},
}

// has tells that a competency was met on the sheet.
func (e *Entry) has(competency string) bool {
	return slices.ContainsFunc(e.Evidence, func(x Evidence) bool { return x.Competency == competency && x.Met })
}

// Labs lists the labs by date. Sections that had a lab of the same name on the same day count as one; on different days each has its own, since a
// trend is over time.
func (t *Term) Labs() []Lab {
	open := map[string][]bool{} // by student: not competent, by competency
	for i := range t.Students {
		list := make([]bool, len(t.Competencies))
		for c := range list {
			list[c] = t.Students[i].Standings[c].Status != Competent
		}
		open[t.Students[i].ID] = list
	}
	place := map[string]int{}
	for i, c := range t.Competencies {
		place[c.ID] = i
	}
	var labs []Lab
	var answers Items
	end := func() {
		if len(labs) > 0 {
			labs[len(labs)-1].Statistics = statistics(answers)
		}
		answers = nil
	}
	for n, r := range t.Records { // by date and lab
		if t.newLab(n) {
			end()
			zero := func() []int { return make([]int, len(t.Competencies)) }
			labs = append(labs, Lab{Name: r.Lab, Title: r.Title, Date: r.Date, Met: zero(), Of: zero(), MetOpen: zero(), OfOpen: zero()})
		}
		lab := &labs[len(labs)-1]
		for i := range r.Students {
			lab.count(&r.Students[i], place, open)
			answers = append(answers, r.Students[i].answers()...)
		}
	}
	end()
	drawTrends(labs, len(t.Competencies))
	return labs
}

// newLab tells that record i is the first of its lab.
func (t *Term) newLab(i int) bool {
	return i == 0 || t.Records[i].Lab != t.Records[i-1].Lab || t.Records[i].Date != t.Records[i-1].Date
}

// count adds the evidence of one sheet. Those who are not competent are the same students in every lab, so that their line shows them and not who
// has left the group.
func (l *Lab) count(e *Entry, place map[string]int, open map[string][]bool) {
	for _, x := range e.Evidence {
		c := place[x.Competency]
		met := 0
		if x.Met {
			met = 1
		}
		l.Met[c] += met
		l.Of[c]++
		if open[e.Student][c] {
			l.MetOpen[c] += met
			l.OfOpen[c]++
		}
	}
}

// drawTrends fills in the decaying average of the shares; a lab without an opportunity leaves it where it was.
func drawTrends(labs []Lab, competencies int) {
	for i := range labs {
		labs[i].Trend = make([]float64, competencies)
	}
	for c := range competencies {
		var shares []float64
		for i := range labs {
			if labs[i].Of[c] > 0 {
				shares = append(shares, float64(labs[i].Met[c])/float64(labs[i].Of[c]))
			}
			labs[i].Trend[c] = Decaying(shares)
		}
	}
}

// answers is the row of a sheet for the statistics, or none.
func (e *Entry) answers() Items {
	if e.Status != grading.Graded || !e.Worked {
		return nil
	}
	row := make([]float64, len(commonSteps))
	for i, step := range commonSteps {
		if step.met(e) {
			row[i] = 1
		}
	}
	return Items{row}
}

// statistics describes a lab from the answers of its sheets. A figure of fewer than LeastN is NaN.
func statistics(x Items) Statistics {
	s := Statistics{N: len(x), KR20: math.NaN()}
	enough := s.N >= LeastN
	if enough {
		s.KR20 = Alpha(x)
	}
	for i, step := range commonSteps {
		f := ItemFit{Title: step.title, Share: math.NaN(), Fit: math.NaN()}
		if enough {
			for _, row := range x {
				f.Met += int(row[i])
			}
			f.Share, f.Fit = float64(f.Met)/float64(s.N), PointBiserial(x, i)
		}
		s.Steps = append(s.Steps, f)
	}
	return s
}

// FaultFit tells how often a hidden fault was found, over all labs and sections: a fault that nobody finds is a question to the pack, not to the
// students.
type FaultFit struct {
	Pack, Fault string
	N           int
	Found       Interval // NaN below LeastN
}

// Faults lists the faults that were worked on, by pack and id.
func (t *Term) Faults() []FaultFit {
	type count struct{ found, n int }
	of := map[[2]string]*count{}
	var keys [][2]string
	t.worked(func(r *Record, e *Entry) {
		key := [2]string{r.Pack, e.Fault}
		if of[key] == nil {
			of[key] = new(count)
			keys = append(keys, key)
		}
		of[key].n++
		if e.Right {
			of[key].found++
		}
	})
	slices.SortFunc(keys, func(a, b [2]string) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	var list []FaultFit
	for _, key := range keys {
		f := FaultFit{Pack: key[0], Fault: key[1], N: of[key].n, Found: Wilson(0, 0)}
		if f.N >= LeastN {
			f.Found = Wilson(of[key].found, f.N)
		}
		list = append(list, f)
	}
	return list
}

// Marks is how well the marks of a term's labs agree about the students: alpha over labs, of the students who have a mark in each.
func (t *Term) Marks() (alpha float64, labs, n int) {
	return t.marksAlpha(t.Labs())
}

func (t *Term) marksAlpha(list []Lab) (alpha float64, labs, n int) {
	marks := map[string][]float64{}
	var order []string
	at := -1
	for i, r := range t.Records {
		if t.newLab(i) {
			at++
		}
		for k := range r.Students {
			e := &r.Students[k]
			if e.Status != grading.Graded {
				continue
			}
			if marks[e.Student] == nil {
				marks[e.Student] = slices.Repeat([]float64{math.NaN()}, len(list))
				order = append(order, e.Student)
			}
			marks[e.Student][at] = e.Mark
		}
	}
	var x Items
	for _, student := range order {
		if !slices.ContainsFunc(marks[student], math.IsNaN) {
			x = append(x, marks[student])
		}
	}
	if len(x) < LeastN {
		return math.NaN(), len(list), len(x)
	}
	return Alpha(x), len(list), len(x)
}
