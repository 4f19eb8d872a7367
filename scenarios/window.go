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

// narrowest picks the candidates of the least spread in difficulty that still offer enough variety for a class of the given size. Among
// equally narrow windows it takes the one with more faults, then the one nearer to the reference, then the easier one. With fewer
// faults than wanted all have to do.
func narrowest(list []candidate, class int, reference float64) []candidate {
	faults, repairs := variety(list)
	faults, repairs = min(faults, wantFaults, max(class, 1)), min(repairs, wantRepairs, max(class, 1))
	ends := make([]int64, 0, len(list))
	for _, c := range list {
		ends = append(ends, c.minutes)
	}
	slices.Sort(ends)
	ends = slices.Compact(ends)
	type window struct {
		low, high int64
		kept      []candidate
		faults    int
	}
	var best *window
	for i, low := range ends {
		for _, high := range ends[i:] {
			kept := within(list, low, high)
			f, r := variety(kept)
			if f < faults || r < repairs {
				continue
			}
			w := &window{low, high, kept, f}
			off := func(w *window) float64 { return math.Abs(float64(w.low+w.high)/2 - reference) }
			if best == nil || cmp.Or(cmp.Compare(w.high-w.low, best.high-best.low), cmp.Compare(best.faults, w.faults),
				cmp.Compare(off(w), off(best))) < 0 {
				best = w
			}
			break // a wider window from the same end is only worse
		}
	}
	if best == nil {
		return nil
	}
	return best.kept
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
