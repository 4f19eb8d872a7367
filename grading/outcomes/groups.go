// Package outcomes sums up a term: its labs, faults, sections and cohorts, what its marks are worth, and the answers to
// a program coordinator's questions. Start at AnswersOf. Who can do what is decided in package competency, the
// arithmetic is that of package statistics.
package outcomes

import (
	"math"
	"slices"

	"nospark/grading/competency"
	"nospark/grading/statistics"
)

// Bounds below which a figure would say too much about single students, or nothing about the question.
const (
	LeastGroup = 5 // students of a group whose shares are shown
	LeastN     = 5 // sheets for a share of a lab or a fault
)

// Group counts the standings of one competency in a section, or in all.
type Group struct {
	Section   string
	All       bool // every section together
	Students  int
	Judged    int                      // students with enough opportunities for the rule to say anything
	Count     [competency.Statuses]int // by Status
	Competent statistics.Interval      // of those judged; NaN where nobody is
	Hidden    bool                     // fewer than LeastGroup students: the counts and the interval are empty
	HandsOn   bool                     // signed elsewhere: there is no share of competent students
	Mean      float64                  // opportunities of a student
}

// GroupsOf rolls one competency up: all students first, then the sections in ascending order.
func GroupsOf(t *competency.Term, competency int) []Group {
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
		}
	}
	slices.Sort(sections)
	all.HandsOn = t.Competencies[competency].HandsOn
	list := []Group{all.done()}
	for _, name := range sections {
		of[name].HandsOn = all.HandsOn
		list = append(list, of[name].done())
	}
	return list
}

// done works out the shares, or empties the group when it is so small that they would speak of single students.
func (g *Group) done() Group {
	if g.Students < LeastGroup {
		return Group{Section: g.Section, All: g.All, Students: g.Students, Hidden: true,
			Competent: statistics.Wilson(0, 0),
			Mean:      math.NaN()}
	}
	g.Judged = g.Students - g.Count[competency.TooLittle] - g.Count[competency.AtRisk] - g.Count[competency.HandsOn]
	g.Competent = statistics.Wilson(g.Count[competency.Competent], g.Judged)
	if g.HandsOn {
		g.Competent = statistics.Wilson(0, 0)
	}
	g.Mean /= float64(g.Students)
	return *g
}
