package handouts

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"nospark/printouts/wording"
	"nospark/scenarios/handout"
)

// NotToday names the checks that cannot be made with what the lab allows, part by part as the booklet does: "coil 1-4
// command wire (end 14-17 and 26-29, path)". Where there are lines at such a point all the same, it says what they are
// not good for: a voltmeter reads 0 V at the ground end of a wire that carries nothing, whether it is connected or not.
func NotToday(h handout.Handout) string {
	if len(h.NotToday) == 0 {
		return ""
	}
	text := "Cannot be checked today and need not be: " + strings.Join(waivedParts(h.NotToday), "; ") + "."
	var read []int
	for _, w := range h.NotToday {
		if w.Read {
			read = append(read, w.Point)
		}
	}
	if len(read) > 0 {
		text += " There are lines at " + numbersOf(read) +
			", but they show other things: they read the same whether what is named here is good or bad."
	}
	return text
}

// waivedPart are the checks of one part, or of parts that differ in their number alone.
type waivedPart struct {
	before, after string // of the number
	numbers       []int  // of the parts; empty for a part without one
	whats         []string
	points        map[string][]int // by what
}

// waivedParts puts checks together: first those of each part, then the parts of which the same is said.
func waivedParts(checks []handout.Waived) []string {
	var labels []string
	parts := map[string]*waivedPart{}
	for _, c := range checks {
		p := parts[c.Label]
		if p == nil {
			p = newWaivedPart(c.Label)
			parts[c.Label] = p
			labels = append(labels, c.Label)
		}
		if !slices.Contains(p.whats, c.What) {
			p.whats = append(p.whats, c.What)
		}
		if c.Point > 0 {
			p.points[c.What] = append(p.points[c.What], c.Point)
		}
	}
	var all []*waivedPart
	for _, label := range labels {
		p := parts[label]
		if i := slices.IndexFunc(all, p.like); i >= 0 {
			all[i].join(p)
		} else {
			all = append(all, p)
		}
	}
	var texts []string
	for _, p := range all {
		texts = append(texts, p.String())
	}
	return texts
}

func newWaivedPart(label string) *waivedPart {
	p := &waivedPart{before: label, points: map[string][]int{}}
	if before, number, after, found := cutNumber(label); found {
		n, _ := strconv.Atoi(number) // a digit
		p.before, p.after, p.numbers = before, after, []int{n}
	}
	return p
}

// like tells whether the same is said of another part: the same kinds of checks, each at as many points.
func (p *waivedPart) like(other *waivedPart) bool {
	return len(p.numbers) > 0 && len(other.numbers) > 0 && p.before == other.before && p.after == other.after &&
		slices.EqualFunc(p.whats, other.whats, func(a, b string) bool {
			return a == b && len(p.points[a])*len(other.numbers) == len(other.points[a])*len(p.numbers)
		})
}

func (p *waivedPart) join(other *waivedPart) {
	p.numbers = append(p.numbers, other.numbers...)
	for what, points := range other.points {
		p.points[what] = append(p.points[what], points...)
	}
}

func (p *waivedPart) String() string {
	var told []string
	for _, what := range p.whats {
		if points := p.points[what]; len(points) > 0 {
			what += " " + numbersOf(points)
		}
		told = append(told, what)
	}
	return p.before + numbersOf(p.numbers) + p.after + " (" + strings.Join(told, ", ") + ")"
}

// numbersOf writes numbers in their order, runs of three and more shortened: "2, 14-17 and 26-29".
func numbersOf(numbers []int) string {
	numbers = slices.Clone(numbers)
	slices.Sort(numbers)
	numbers = slices.Compact(numbers)
	var parts []string
	for i := 0; i < len(numbers); {
		k := i
		for k+1 < len(numbers) && numbers[k+1] == numbers[k]+1 {
			k++
		}
		if k > i+1 {
			parts = append(parts, fmt.Sprintf("%d-%d", numbers[i], numbers[k]))
			i = k + 1
		} else {
			parts = append(parts, fmt.Sprint(numbers[i]))
			i++
		}
	}
	return wording.List(parts)
}

// PointsWithout says of the points that have no row in the grid where their tests stand, or that there are none.
func PointsWithout(points, untested []int) string {
	var elsewhere, nowhere []int
	for _, p := range points {
		if slices.Contains(untested, p) {
			nowhere = append(nowhere, p)
		} else {
			elsewhere = append(elsewhere, p)
		}
	}
	text := "Points without a row: "
	if len(elsewhere) > 0 {
		text += "for " + numbersOf(elsewhere) + " see other tests"
	}
	if len(elsewhere) > 0 && len(nowhere) > 0 {
		text += "; "
	}
	if len(nowhere) > 0 {
		text += "there is no test at " + numbersOf(nowhere) + " today"
	}
	return text + "."
}
