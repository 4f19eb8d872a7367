// Package outcomes sums up a term: its labs, faults, sections and cohorts, what its marks are worth, and the answers to
// a program coordinator's questions. Start at AnswersOf. Who can do what is decided in package competency, the
// arithmetic is that of package statistics.
package outcomes

import (
	"fmt"
	"math"
	"slices"
	"strings"

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

// TaskGroupOf rolls a task of the program's own list up over all students. The mean counts nothing there.
func TaskGroupOf(t *competency.Term, task int) Group {
	g := &Group{All: true, Mean: math.NaN()}
	for i := range t.Students {
		g.Students++
		g.Count[t.Verdict(&t.Students[i], task).Status]++
	}
	g.HandsOn = g.Count[competency.HandsOn] > 0
	return g.done()
}

// TaskWords says in words what the records tell of a task.
func TaskWords(t *competency.Term, task int) string {
	if gap := t.Gaps[task]; gap != "" {
		return "gap: " + gap
	}
	g := TaskGroupOf(t, task)
	switch {
	case g.Hidden:
		return fmt.Sprintf("evidence of fewer than %d students", LeastGroup)
	case g.HandsOn:
		return fmt.Sprintf("%d seen on paper, to be signed at the vehicle; %d not yet", g.Count[competency.HandsOn],
			g.Count[competency.NotYet])
	case g.Judged == 0:
		return "evidence, but nobody has enough of it yet"
	}
	return fmt.Sprintf("%d competent of %d judged", g.Count[competency.Competent], g.Judged)
}

// gaps tells how much of the program's own list has evidence, and what has none.
func gaps(t *competency.Term) Answer {
	var names []string
	n := 0
	for k := range t.Tasks {
		if len(t.Tasks[k].Below) > 0 {
			continue
		}
		n++
		if t.Gaps[k] != "" {
			names = append(names, t.Tasks[k].Name())
		}
	}
	a := Answer{Text: "None.", N: n, Of: "tasks"}
	if len(names) > 0 {
		const most = 12
		a.Text = fmt.Sprintf("%d of %d: %s", len(names), n, strings.Join(names[:min(most, len(names))], ", "))
		if len(names) > most {
			a.Text += fmt.Sprintf(" and %d more; the sheet Tasks has all", len(names)-most)
		}
	}
	return a
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
