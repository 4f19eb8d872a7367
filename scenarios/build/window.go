package build

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"nospark/scenarios/draw"
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

// A class wants this many different faults and repairs among its sheets, as far as it has sheets and the pack has faults. Four versions
// suffice on a grid with eight neighbours (the corners of a square take one each); more faults make luck and talk worth less, but equal
// difficulty is worth more.
const (
	wantFaults   = 6
	leastFaults  = 4
	wantRepairs  = 4
	leastRepairs = 3
	rowFaults    = 3 // for neighbours in a row
)

// alike is how far apart in difficulty sheets may be, in parts of the mean, and still count as equally hard: nobody on a shop floor notices a seventh. Going
// for the very least spread instead would mostly pick the easiest faults, whose minutes lie close together because they are few.
const alike = 0.15

// typical is how far from the reference, as a share of it, a window may lie and still stand for an average fault.
const typical = 0.4

// variety is the number of different faults and repairs among candidates.
func variety(list []candidate) (faults, repairs int) {
	seenFault, seenRepair := map[int]bool{}, map[int]bool{}
	for _, c := range list {
		seenFault[c.fault], seenRepair[c.repair] = true, true
	}
	return len(seenFault), len(seenRepair)
}

// within keeps the candidates of difficulty low to high, tenths.
func within(list []candidate, low, high int64) []candidate {
	var kept []candidate
	for _, c := range list {
		if low <= c.minutes && c.minutes <= high {
			kept = append(kept, c)
		}
	}
	return kept
}

// window is a range of difficulty and what lies in it.
type window struct {
	low, high int64 // tenths
	kept      []candidate
	faults    int     // different ones
	off       float64 // of the middle from the reference, tenths
}

// spread is how far apart the ends are, in parts of their mean.
func (w window) spread() float64 { return spread(w.low, w.high) }

func spread(low, high int64) float64 { return float64(high-low) / max(float64(low+high)/2, 1) }

// crowd is the people that a lab is for.
type crowd struct {
	size   int
	seated bool // with neighbours all around, not only before and after
}

// fairest picks candidates of nearly equal difficulty that offer enough variety for a class. Of several windows of equally
// hard candidates near the reference, the time of an average fault, the term's key picks one: a rule would tell everybody who has this
// program which few faults a class can have. Without such a window it is the least spread, and with fewer faults than wanted all have to do.
func fairest(list []candidate, class crowd, reference float64, s *draw.Stream) []candidate {
	if len(list) == 0 {
		return nil
	}
	equal := equallyHard(list, class, reference)
	if len(equal) == 0 {
		windows := windowsOf(list, needed(list, class, leastFaults, wantRepairs), reference)
		best := slices.MinFunc(windows, func(a, b window) int {
			return cmp.Or(cmp.Compare(a.spread(), b.spread()), cmp.Compare(a.off, b.off), cmp.Compare(b.faults, a.faults))
		})
		return best.kept
	}
	near := slices.DeleteFunc(slices.Clone(equal), func(w window) bool { return w.off > typical*reference })
	if len(near) == 0 {
		near = []window{slices.MinFunc(equal, func(a, b window) int { return cmp.Compare(a.off, b.off) })}
	}
	return near[s.Intn(len(near))].kept
}

// wish is what a class would like to have: so many faults and repairs, with marks so near together on a walk.
type wish struct {
	faults, repairs int
	marks           float64
}

// wishes are tried in this order. Fewer faults that are equally hard on a walk too come before more that are so for best play only.
// Neighbours in a row can do with three; with two repairs among the faults half of the class has the same thing to say, so that comes last
// of what is even. What no fault of the pack allows is given up step by step.
var wishes = []wish{
	{wantFaults, wantRepairs, evenMarks}, {wantFaults - 1, wantRepairs, evenMarks}, {leastFaults, wantRepairs, evenMarks},
	{leastFaults, leastRepairs, evenMarks}, {leastFaults, leastRepairs, looseMarks},
	{rowFaults, leastRepairs, evenMarks}, {rowFaults, leastRepairs, looseMarks}, {leastFaults, leastRepairs - 1, looseMarks},
	{leastFaults, leastRepairs, 1.5 * looseMarks}, {leastFaults, leastRepairs, 2 * looseMarks},
	{wantFaults, wantRepairs, math.Inf(1)}, {wantFaults - 1, wantRepairs, math.Inf(1)}, {leastFaults, wantRepairs, math.Inf(1)},
	{leastFaults, leastRepairs, math.Inf(1)},
}

// equallyHard lists windows of candidates that are equally hard for best play, as many wishes fulfilled as can be; none if there are none.
func equallyHard(list []candidate, class crowd, reference float64) []window {
	for _, w := range wishes {
		if class.seated && w.faults < leastFaults {
			continue
		}
		need := needed(list, class, w.faults, w.repairs)
		equal := slices.DeleteFunc(windowsOf(list, need, reference), func(w window) bool { return w.spread() > alike })
		if equal = evened(equal, need, w.marks); len(equal) > 0 {
			return equal
		}
	}
	return nil
}

// need is the variety that a window has to offer.
type need struct{ faults, repairs int }

// needed cuts a wish down to what there is and what a class can use.
func needed(list []candidate, class crowd, faults, repairs int) need {
	f, r := variety(list)
	return need{min(f, faults, max(class.size, 1)), min(r, repairs, max(class.size, 1))}
}

// metBy tells whether candidates have the variety that is needed.
func (n need) metBy(list []candidate) bool {
	faults, repairs := variety(list)
	return faults >= n.faults && repairs >= n.repairs
}

// evened narrows windows down to candidates that are equally hard on a walk too: all choices that are as wide as possible.
func evened(windows []window, n need, marks float64) []window {
	var all []window
	for _, w := range windows {
		for _, least := range w.kept {
			choice := slices.DeleteFunc(slices.Clone(w.kept), func(c candidate) bool {
				return c.walk.mark < least.walk.mark || c.walk.mark > least.walk.mark+marks
			})
			if n.metBy(choice) {
				all = append(all, windowOn(choice, w.off))
			}
		}
	}
	slices.SortStableFunc(all, func(a, b window) int { return cmp.Compare(len(b.kept), len(a.kept)) })
	var widest []window
	for _, w := range all {
		if !slices.ContainsFunc(widest, func(o window) bool { return contains(o.kept, w.kept) }) {
			widest = append(widest, w)
		}
	}
	return widest
}

// windowOn is the window of some candidates.
func windowOn(list []candidate, off float64) window {
	byMinutes := func(a, b candidate) int { return cmp.Compare(a.minutes, b.minutes) }
	w := window{low: slices.MinFunc(list, byMinutes).minutes, high: slices.MaxFunc(list, byMinutes).minutes, kept: list, off: off}
	w.faults, _ = variety(list)
	return w
}

// contains tells whether all of some candidates are among others.
func contains(all, some []candidate) bool {
	return !slices.ContainsFunc(some, func(c candidate) bool { return !slices.Contains(all, c) })
}

// windowsOf lists, by their lower end, the windows with the variety needed: for each end the widest whose candidates are equally hard, and
// the narrowest where even that is wider. A window within another is left out.
func windowsOf(list []candidate, n need, reference float64) []window {
	ends := make([]int64, 0, len(list))
	for _, c := range list {
		ends = append(ends, c.minutes)
	}
	slices.Sort(ends)
	ends = slices.Compact(ends)
	var windows []window
	for i, low := range ends {
		var found *window
		for _, high := range ends[i:] {
			w := window{low: low, high: high, kept: within(list, low, high), off: math.Abs(float64(low+high)/2 - reference)}
			if w.faults, _ = variety(w.kept); !n.metBy(w.kept) {
				continue
			}
			if found == nil || w.spread() <= alike {
				found = &w
			}
			if w.spread() > alike {
				break
			}
		}
		if found == nil {
			continue
		}
		inside := len(windows) > 0 && windows[len(windows)-1].high >= found.high && windows[len(windows)-1].spread() <= alike
		if !inside {
			windows = append(windows, *found)
		}
	}
	return windows
}

// tooNarrow explains a window that holds nothing: what the pack offers, and a window for a class of that size.
func tooNarrow(l *lab.Lab, plan *term.Plan, list []candidate, class crowd, reference float64) error {
	byMinutes := func(a, b candidate) int { return cmp.Compare(a.minutes, b.minutes) }
	low, high := slices.MinFunc(list, byMinutes).minutes, slices.MaxFunc(list, byMinutes).minutes
	takes := minutesText(low) + " to " + minutesText(high)
	if low == high {
		takes = minutesText(low)
	}
	text := fmt.Sprintf("%s: difficulty = %s holds no fault: best play takes %s minutes", plan.Place("difficulty"),
		rangeText(plan.Difficulty[0], plan.Difficulty[1]), takes)
	if equal := equallyHard(list, class, reference); len(equal) > 0 {
		best := slices.MinFunc(equal, func(a, b window) int {
			return cmp.Compare(a.distance(plan.Difficulty), b.distance(plan.Difficulty))
		})
		low, high = best.low, best.high
	}
	offered := "1 fault"
	if faults, _ := variety(within(list, low, high)); faults > 1 {
		offered = fmt.Sprintf("%d faults", faults)
	}
	return fmt.Errorf("%s; write for example difficulty = %s (%s)", text, rangeText(low, high), offered)
}

// rangeText writes a window as a plan does.
func rangeText(low, high int64) string {
	return fmt.Sprintf("[%s, %s]", minutesText(low), minutesText(high))
}

// distance is how far a window lies from another one, tenths.
func (w window) distance(o [2]int64) int64 { return max(0, w.low-o[1], o[0]-w.high) }

// minutesText writes tenths of a minute as minutes.
func minutesText(tenths int64) string {
	return fmt.Sprintf("%d.%d", tenths/10, tenths%10)
}
