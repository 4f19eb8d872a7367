package lab

import "slices"

// owed lists the checks of a row that a diagnosis of the complaint can make and has to, as indexes into Checks: those
// with an open test, not waived, without those that another one of them makes in any case. An abnormal reading at the
// dead end of a wire proves that end, so the wire owes it and its good end, no more.
func (l *Lab) owed(h Hypothesis, complaint int, waived []int, open func(test int) bool) []int {
	var list []int
	tests := map[int][]int{} // the open ones
	for _, c := range h.Checks {
		if !l.Checks[c].owedUnder(complaint) || slices.Contains(waived, c) {
			continue
		}
		for _, t := range l.Checks[c].Tests {
			if open(t) {
				tests[c] = append(tests[c], t)
			}
		}
		if len(tests[c]) > 0 {
			list = append(list, c)
		}
	}
	return slices.DeleteFunc(slices.Clone(list), func(c int) bool {
		return slices.ContainsFunc(list, func(o int) bool {
			n := len(tests[o])
			return o != c && within(tests[o], tests[c]) && (n < len(tests[c]) || o < c)
		})
	})
}

// owedUnder tells whether the check belongs to the proof of a repair when this is the complaint.
func (c Check) owedUnder(complaint int) bool {
	return len(c.Under) == 0 || slices.Contains(c.Under, complaint)
}

// within tells whether all of some tests are among others.
func within(some, all []int) bool {
	return !slices.ContainsFunc(some, func(t int) bool { return !slices.Contains(all, t) })
}
