package lab

import (
	"slices"
	"testing"
)

// Checks of one row by hand: 0 a good end (tests 1 and 2), 1 the dead end (2, 3 and 4), 2 an abnormal reading (3 and
// 4), 3 the same tests under another complaint, 4 no test.
func TestOwed(t *testing.T) {
	l := &Lab{Checks: []Check{{Tests: []int{1, 2}}, {Tests: []int{2, 3, 4}}, {Tests: []int{3, 4}},
		{Tests: []int{3, 4}, Under: []int{7}}, {}}}
	h := Hypothesis{Checks: []int{0, 1, 2, 3, 4}}
	check := func(what string, complaint int, waived, shut []int, want ...int) {
		t.Helper()
		got := l.owed(h, complaint, waived, func(test int) bool { return !slices.Contains(shut, test) })
		if !slices.Equal(got, want) {
			t.Errorf("%s: owed %v, want %v", what, got, want)
		}
	}
	check("the reading makes the dead end", 0, nil, nil, 0, 2)
	check("of two alike one", 7, nil, nil, 0, 2)
	check("the other one where that is waived", 7, []int{2}, nil, 0, 3)
	check("the dead end by itself where the reading is waived", 0, []int{2}, nil, 0, 1)
	check("where all tests of the reading are shut, 2 makes both ends", 0, nil, []int{3, 4}, 1)
	check("nothing open", 0, nil, []int{1, 2, 3, 4})
}
