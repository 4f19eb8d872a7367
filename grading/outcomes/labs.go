package outcomes

import (
	"math"
	"slices"

	"nospark/grading/competency"
	"nospark/grading/evidence"
)

// Lab is one lab of the term over all sections that had it.
type Lab struct {
	Term, Name, Title string
	Date              string // of its first section
	Met, Of           []int  // opportunities met and had, by competency
	N                 int    // sheets with a final mark that were worked on
	Mean              float64
	Steps             []StepShare
}

// StepShare tells how many sheets of a lab met what every sheet asks for, whatever fault it hides. The steps contain
// one another, so that no coefficient of agreement is made of them.
type StepShare struct {
	Title string
	Met   int
	Share float64 // NaN below LeastN
}

// commonSteps are the steps that every sheet has.
var commonSteps = []struct {
	title string
	met   func(e *evidence.Entry) bool
}{
	{"every verdict agrees", func(e *evidence.Entry) bool { return e.Asked > 0 && e.Agreed == e.Asked }},
	{"little time lost", func(e *evidence.Entry) bool { return metOn(e, evidence.Economy) }},
	{"the right repair", func(e *evidence.Entry) bool { return e.Right }},
	{"proven before concluding", func(e *evidence.Entry) bool { return e.Proven }},
}

// metOn tells that a competency was met on the sheet.
func metOn(e *evidence.Entry, competency string) bool {
	return slices.ContainsFunc(e.Evidence, func(x evidence.Item) bool { return x.Competency == competency && x.Met })
}

// LabsOf lists the labs of the present cohort by date. A lab is known by its term and name: two labs called week01 of
// two terms are two, and the sections of a term that had one on different days had the same.
func LabsOf(t *competency.Term) []Lab {
	place := map[string]int{}
	for i, c := range t.Competencies {
		place[c.ID] = i
	}
	var labs []Lab
	at := map[[2]string]int{}     // by term and name
	for _, r := range t.Records { // oldest first
		if !t.Present(r) {
			continue
		}
		key := [2]string{r.Term, r.Lab}
		k, known := at[key]
		if !known {
			k = len(labs)
			at[key] = k
			l := Lab{Term: r.Term, Name: r.Lab, Title: r.Title, Date: r.Date, Met: make([]int, len(place)),
				Of: make([]int, len(place))}
			for _, step := range commonSteps {
				l.Steps = append(l.Steps, StepShare{Title: step.title})
			}
			labs = append(labs, l)
		}
		for i := range r.Students {
			labs[k].count(&r.Students[i], place)
		}
	}
	for k := range labs {
		labs[k].finish()
	}
	return labs
}

// count adds one sheet.
func (l *Lab) count(e *evidence.Entry, place map[string]int) {
	for _, x := range e.Evidence {
		if c, counts := place[x.Competency]; counts {
			l.Of[c]++
			if x.Met {
				l.Met[c]++
			}
		}
	}
	if !competency.Finished(e) {
		return
	}
	l.N++
	l.Mean += e.Mark
	for i, step := range commonSteps {
		if step.met(e) {
			l.Steps[i].Met++
		}
	}
}

// finish works out the shares and the mean; of fewer than LeastN sheets there are none.
func (l *Lab) finish() {
	n := float64(l.N)
	if l.N < LeastN {
		n = math.NaN()
	}
	l.Mean /= n
	for i := range l.Steps {
		l.Steps[i].Share = float64(l.Steps[i].Met) / n
	}
}
