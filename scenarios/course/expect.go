package course

import (
	"cmp"
	"fmt"
	"slices"

	"nospark/scenarios/chances"
	"nospark/scenarios/draw"
)

// Lab is a lab as far as a course is about it.
type Lab struct {
	Name, Date, Pack string
	Complaints       []string        // ids, ascending
	Vehicles         int             // a student
	Asked            []string        // kinds of test
	Rows             [][]chances.Row // of each case
}

// Forecast is what can be expected of the labs of a course.
type Forecast struct {
	Kinds   []Kind   // in the order of the kinds asked for
	Repairs float64  // different repairs of a pack that a student meets, on average
	Repeats []string // labs that are like the one before
}

// Kind is what a kind of test gets.
type Kind struct {
	ID     string
	Mean   float64 // opportunities a student
	Enough float64 // share of students with as many as wanted
	Labs   int     // that can give one
	Most   int     // that a student can have at best: a lab can give one a vehicle
}

// Expect deals the labs to students who do not exist, from their cases by the rule of a build and from the rows of a
// case by their weights, and counts: wanted is how many opportunities of a kind are enough. Neighbors are left out.
func Expect(labs []Lab, kinds []string, wanted, students int) Forecast {
	labs = slices.Clone(labs)
	slices.SortStableFunc(labs, func(a, b Lab) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date),
			cmp.Compare(a.Name, b.Name))
	})
	f := Forecast{Kinds: make([]Kind, len(kinds))}
	for k, id := range kinds {
		f.Kinds[k].ID = id
		for _, l := range labs {
			if slices.ContainsFunc(l.Rows, func(rows []chances.Row) bool { return chances.Share(rows, id) > 0 }) {
				f.Kinds[k].Labs++
				f.Kinds[k].Most += max(1, l.Vehicles)
			}
		}
	}
	for i := range students {
		had := map[string]bool{} // pack and repair
		count := make([]int, len(kinds))
		for _, l := range labs {
			l.deal(draw.New([]byte("a course of nobody"), "student", fmt.Sprint(i), l.Name), had, func(r chances.Row) {
				for k, id := range kinds {
					if slices.Contains(r.Kinds, id) {
						count[k]++
					}
				}
			})
		}
		for k, n := range count {
			f.Kinds[k].Mean += float64(n) / float64(students)
			if n >= wanted {
				f.Kinds[k].Enough += 1 / float64(students)
			}
		}
		f.Repairs += float64(len(had)) / float64(students)
	}
	f.Repeats = repeats(labs)
	return f
}

// deal gives a student the vehicles of a lab.
func (l Lab) deal(s *draw.Stream, had map[string]bool, give func(chances.Row)) {
	var own [][]chances.Row
	for range max(1, l.Vehicles) {
		var open [][]chances.Row
		for _, rows := range l.Rows {
			if len(rows) > 0 {
				open = append(open, rows)
			}
		}
		if len(open) == 0 {
			return
		}
		weights := make([]int64, len(open))
		for i, rows := range open {
			weights[i] = chances.Weight(rows, func(repair string) bool { return had[l.Pack+" "+repair] }, l.Asked, own)
		}
		rows := open[pick(s, weights)]
		own = append(own, rows)
		weights = weights[:0]
		for _, r := range rows {
			weights = append(weights, r.Weight)
		}
		r := rows[pick(s, weights)]
		had[l.Pack+" "+r.Repair] = true
		give(r)
	}
}

// pick draws an index by weights, which are above 0.
func pick(s *draw.Stream, weights []int64) int {
	var sum int64
	for _, w := range weights {
		sum += w
	}
	at := int64(s.Float64() * float64(sum))
	for i, w := range weights {
		if at < w {
			return i
		}
		at -= w
	}
	return len(weights) - 1
}

// repeats names the labs that are of the same pack and complaints as the one before.
func repeats(labs []Lab) []string {
	var list []string
	for i := 1; i < len(labs); i++ {
		a, b := labs[i-1], labs[i]
		if a.Pack == b.Pack && slices.Equal(a.Complaints, b.Complaints) {
			list = append(list, fmt.Sprintf("%s is like %s: %s", b.Name, a.Name, b.Pack))
		}
	}
	return list
}
