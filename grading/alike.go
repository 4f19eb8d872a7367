package grading

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nospark/scenarios/lab"
)

// alike looks for errors that two students share and hardly anybody else makes. Every sheet has other lines and
// letters, and neighbors have other faults, so right answers cannot be copied; wrong ones can, and what remains of
// copying is a shared way of going wrong.
//
// An error is a wrong repair, or a wrong verdict on a test. It is rare when at most two students, or at most one in ten
// of those who had the chance (concluded anything; read the test), made it. Two sheets are put side by side for a
// person to look at when they share
//
//   - three rare errors, or
//   - a rare wrong repair and two rare wrong verdicts whose tests were read in the same order.
//
// If errors are independent, somebody shares three given errors of one in ten by accident once in a thousand; in a
// class of 24 such a pair is not impossible, among 2,000 a few are to be expected. It is a reason to look, never a
// verdict.
func alike(lab *lab.Lab, students []StudentResult) []Alike {
	made := map[mistake][]int{} // students, ascending
	chances := map[mistake]int{}
	for i, s := range students {
		if !s.Status.HasMark() {
			continue
		}
		mistakes, read := mistakesOf(s)
		for _, m := range mistakes {
			made[m] = append(made[m], i)
		}
		for _, m := range read {
			chances[m]++
		}
	}
	shared := map[[2]int][]mistake{}
	for _, m := range sorted(made) {
		who := made[m]
		if len(who) > max(2, chances[m.chance()]/10) {
			continue
		}
		for a := range who {
			for b := a + 1; b < len(who); b++ {
				pair := [2]int{who[a], who[b]}
				shared[pair] = append(shared[pair], m)
			}
		}
	}
	var found []Alike
	var pairs [][2]int
	for pair := range shared {
		pairs = append(pairs, pair)
	}
	slices.SortFunc(pairs, func(a, b [2]int) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	for _, pair := range pairs {
		a, b := students[pair[0]], students[pair[1]]
		if a.Student == b.Student { // two vehicles of one student
			continue
		}
		if why := improbable(lab, a, b, shared[pair]); why != "" {
			found = append(found, Alike{Sheets: [2]string{a.Sheet, b.Sheet}, Why: why})
		}
	}
	return found
}

// mistake is a wrong repair (test -1) or a wrong verdict on a test.
type mistake struct {
	test   int
	judged string
	repair int
}

// chance is what somebody must have done to be able to make the mistake.
func (m mistake) chance() mistake { return mistake{test: m.test, repair: -1} }

// sorted lists mistakes in a fixed order, since that of a map changes from run to run.
func sorted(made map[mistake][]int) []mistake {
	var all []mistake
	for m := range made {
		all = append(all, m)
	}
	slices.SortFunc(all, func(a, b mistake) int {
		return cmp.Or(cmp.Compare(a.test, b.test), cmp.Compare(a.judged, b.judged), cmp.Compare(a.repair, b.repair))
	})
	return all
}

// mistakesOf lists the mistakes of a student, and the chances to make one, each once.
func mistakesOf(s StudentResult) (mistakes, chances []mistake) {
	seen := map[int]bool{}
	for _, step := range s.Steps {
		if step.State != Counted || seen[step.Test] || step.Silent {
			continue
		}
		seen[step.Test] = true
		chances = append(chances, mistake{test: step.Test, repair: -1})
		if !step.Agrees && step.Judged != "" {
			mistakes = append(mistakes, mistake{test: step.Test, judged: step.Judged, repair: -1})
		}
	}
	if s.Repair >= 0 {
		chances = append(chances, mistake{test: -1, repair: -1})
		if !s.Right {
			mistakes = append(mistakes, mistake{test: -1, repair: s.Repair})
		}
	}
	return mistakes, chances
}

// improbable words what two students share if it is enough to look at, else it returns "".
func improbable(lab *lab.Lab, a, b StudentResult, shared []mistake) string {
	var tests []int
	var names []string
	repair := false
	for _, m := range shared {
		if m.test < 0 {
			repair = true
			names = append(names, fmt.Sprintf("the wrong repair '%s'", lab.Repairs[m.repair].Label))
			continue
		}
		tests = append(tests, m.test)
		names = append(names, fmt.Sprintf("the wrong verdict %s on '%s'", m.judged, lab.Tests[m.test].Label))
	}
	if len(shared) < 3 || repair && len(shared) == 3 && !slices.Equal(orderOf(a, tests), orderOf(b, tests)) {
		return ""
	}
	return "please look: both have " + strings.Join(names, ", ") + ", which hardly anybody else has"
}

// orderOf lists the given tests in the order in which a student read them first.
func orderOf(s StudentResult, tests []int) []int {
	var order []int
	for _, step := range s.Steps {
		if slices.Contains(tests, step.Test) && !slices.Contains(order, step.Test) {
			order = append(order, step.Test)
		}
	}
	return order
}
