package competency

import (
	"math"
	"slices"

	"nospark/grading"
	"nospark/grading/evidence"
	"nospark/grading/statistics"
)

// Lab is one lab of the term over all sections that had it.
type Lab struct {
	Term, Name, Title string
	Date              string // of its first section
	Met, Of           []int  // opportunities met and had, by competency
	MetOpen, OfOpen   []int  // the same of students who are not competent as of now
	Trend             []float64
	Statistics        Statistics
}

// Statistics describe a lab over the rubric steps that all its sheets have in common, since students with different
// faults do not answer the same questions. A prompt to look at the question, not a verdict.
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
	met   func(e *evidence.Entry) bool
}{
	{"the repair fits the complaint", func(e *evidence.Entry) bool { return metOn(e, evidence.Complaint) }},
	{"every verdict agrees", func(e *evidence.Entry) bool { return e.Asked > 0 && e.Agreed == e.Asked }},
	{"little time lost", func(e *evidence.Entry) bool { return metOn(e, evidence.Economy) }},
	{"the right repair", func(e *evidence.Entry) bool { return e.Right }},
	{"proven before concluding", func(e *evidence.Entry) bool { return e.Proven }},
}

// metOn tells that a competency was met on the sheet.
func metOn(e *evidence.Entry, competency string) bool {
	return slices.ContainsFunc(e.Evidence, func(x evidence.Item) bool { return x.Competency == competency && x.Met })
}

// Labs lists the labs by date. A lab is known by its term and name: two labs called week01 of two terms are two, and the
// sections of a term that had one on different days had the same.
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
	var answers []statistics.Items
	at := map[[2]string]int{}     // by term and name
	for _, r := range t.Records { // oldest first
		key := [2]string{r.Term, r.Lab}
		k, known := at[key]
		if !known {
			k = len(labs)
			at[key] = k
			zero := func() []int { return make([]int, len(t.Competencies)) }
			labs = append(labs, Lab{Term: r.Term, Name: r.Lab, Title: r.Title, Date: r.Date, Met: zero(), Of: zero(),
				MetOpen: zero(), OfOpen: zero()})
			answers = append(answers, nil)
		}
		for i := range r.Students {
			labs[k].count(&r.Students[i], place, open)
			answers[k] = append(answers[k], answersOf(&r.Students[i])...)
		}
	}
	for k := range labs {
		labs[k].Statistics = describe(answers[k])
	}
	drawTrends(labs, len(t.Competencies))
	return labs
}

// count adds the evidence of one sheet. Those who are not competent are the same students in every lab, so that their
// line shows them and not who has left the group.
func (l *Lab) count(e *evidence.Entry, place map[string]int, open map[string][]bool) {
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
			labs[i].Trend[c] = statistics.Decaying(shares)
		}
	}
}

// answersOf is the row of a sheet for the statistics, or none.
func answersOf(e *evidence.Entry) statistics.Items {
	if e.Status != grading.Graded || !e.Worked {
		return nil
	}
	row := make([]float64, len(commonSteps))
	for i, step := range commonSteps {
		if step.met(e) {
			row[i] = 1
		}
	}
	return statistics.Items{row}
}

// describe describes a lab from the answers of its sheets. A figure of fewer than LeastN is NaN.
func describe(x statistics.Items) Statistics {
	s := Statistics{N: len(x), KR20: math.NaN()}
	enough := s.N >= LeastN
	if enough {
		s.KR20 = statistics.Alpha(x)
	}
	for i, step := range commonSteps {
		f := ItemFit{Title: step.title, Share: math.NaN(), Fit: math.NaN()}
		if enough {
			for _, row := range x {
				f.Met += int(row[i])
			}
			f.Share, f.Fit = float64(f.Met)/float64(s.N), statistics.PointBiserial(x, i)
		}
		s.Steps = append(s.Steps, f)
	}
	return s
}

// Marks is how well the marks of a term's labs agree about the students: alpha over labs, of the students who have a
// mark in each.
func (t *Term) Marks() (alpha float64, labs, n int) {
	return t.marksAlpha(t.Labs())
}

func (t *Term) marksAlpha(list []Lab) (alpha float64, labs, n int) {
	marks := map[string][]float64{}
	var order []string
	place := map[[2]string]int{}
	for i := range list {
		place[[2]string{list[i].Term, list[i].Name}] = i
	}
	for _, r := range t.Records {
		at := place[[2]string{r.Term, r.Lab}]
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
	var x statistics.Items
	for _, student := range order {
		if !slices.ContainsFunc(marks[student], math.IsNaN) {
			x = append(x, marks[student])
		}
	}
	if len(x) < LeastN {
		return math.NaN(), len(list), len(x)
	}
	return statistics.Alpha(x), len(list), len(x)
}
