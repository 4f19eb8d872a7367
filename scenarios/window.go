package scenarios

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// A class wants this many different faults and repairs among its sheets, as far as it has sheets and the pack has faults. Four versions
// suffice on a grid with eight neighbours (the corners of a square take one each); more faults make luck and talk worth less.
const (
	wantFaults  = 6
	wantRepairs = 4
)

// alike is how far apart in difficulty sheets may be and still count as equally hard: nobody on a shop floor notices a seventh. Going
// for the very least spread instead would mostly pick the easiest faults, whose minutes lie close together because they are few.
const alike = 1.15

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
	spread    float64 // high / low; 1 for all that count as equally hard
	off       float64 // of the middle from the reference, tenths
}

// narrowest picks the candidates of the least relative spread in difficulty that still offer enough variety for a class of the given size.
// Among equally fair windows it takes the one nearest to the reference, the time of an average fault, then the one with more faults,
// then the easier one. With fewer faults than wanted all have to do.
func narrowest(list []candidate, class int, reference float64) []candidate {
	faults, repairs := variety(list)
	faults, repairs = min(faults, wantFaults, max(class, 1)), min(repairs, wantRepairs, max(class, 1))
	ends := make([]int64, 0, len(list))
	for _, c := range list {
		ends = append(ends, c.minutes)
	}
	slices.Sort(ends)
	ends = slices.Compact(ends)
	var best *window
	for i, low := range ends {
		for _, high := range ends[i:] {
			w := &window{low: low, high: high, kept: within(list, low, high), off: math.Abs(float64(low+high)/2 - reference)}
			var r int
			if w.faults, r = variety(w.kept); w.faults < faults || r < repairs {
				continue
			}
			if w.spread = float64(high) / float64(max(low, 1)); w.spread <= alike {
				w.spread = 1
			}
			if best == nil || w.before(best) {
				best = w
			}
			if w.spread > alike {
				break // a wider window from the same end is only worse
			}
		}
	}
	if best == nil {
		return nil
	}
	return best.kept
}

// before tells whether w is the better choice. The easier of two equal ones comes first anyway.
func (w *window) before(o *window) bool {
	return cmp.Or(cmp.Compare(w.spread, o.spread), cmp.Compare(w.off, o.off), cmp.Compare(o.faults, w.faults)) < 0
}

// tooNarrow explains a window that holds nothing, with what the pack offers around it.
func (l *Lab) tooNarrow(plan *Plan, list []candidate) error {
	all := slices.Clone(list)
	slices.SortStableFunc(all, func(a, b candidate) int { return cmp.Compare(a.minutes, b.minutes) })
	var offers []string
	for _, c := range all {
		text := fmt.Sprintf("%s %s", l.Faults[c.fault].ID, minutesText(c.minutes))
		if !slices.Contains(offers, text) {
			offers = append(offers, text)
		}
	}
	if len(offers) > 40 {
		offers = append(offers[:40], "...")
	}
	return fmt.Errorf("%s: difficulty = [%s, %s]: best play takes no fault that may be hidden between these minutes; it takes: %s",
		plan.place("difficulty"), minutesText(plan.Difficulty[0]), minutesText(plan.Difficulty[1]), strings.Join(offers, ", "))
}

// minutesText writes tenths of a minute as minutes.
func minutesText(tenths int64) string {
	return fmt.Sprintf("%d.%d", tenths/10, tenths%10)
}
