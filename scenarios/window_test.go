package scenarios

import "testing"

func TestNarrowest(t *testing.T) {
	// one candidate per fault and repair with the given minutes, tenths
	list := func(minutes ...int64) []candidate {
		var all []candidate
		for i, m := range minutes {
			all = append(all, candidate{hypothesis: i, fault: i, repair: i, minutes: m})
		}
		return all
	}
	check := func(name string, all []candidate, class int, reference float64, low, high int64, n int) {
		t.Helper()
		got := narrowest(all, class, reference)
		if len(got) != n {
			t.Errorf("%s: %d candidates, want %d", name, len(got), n)
			return
		}
		least, most := got[0].minutes, got[0].minutes
		for _, c := range got {
			least, most = min(least, c.minutes), max(most, c.minutes)
		}
		if least != low || most != high {
			t.Errorf("%s: %d to %d, want %d to %d", name, least, most, low, high)
		}
	}
	check("all have to do", list(20, 20, 40, 40), 24, 30, 20, 40, 4)
	check("one student", list(20, 30, 40), 1, 30, 30, 30, 1)
	check("least ratio", list(10, 20, 30, 60, 62, 64, 66, 75, 78, 100), 24, 66, 60, 78, 6)
	check("nearest of equally fair ones", list(30, 30, 30, 30, 30, 30, 50, 50, 52, 52, 54, 54), 24, 55, 50, 54, 6)
	check("within a seventh the nearest, not the least", list(30, 30, 30, 30, 30, 30, 50, 51, 52, 53, 54, 55), 24, 60, 50, 55, 6)
	// Six faults with two repairs do not do while others with more repairs are near.
	few := list(50, 50, 50, 50, 50, 50, 60, 60)
	for i := range few {
		few[i].repair = min(i%2, 1)
	}
	few[6].repair, few[7].repair = 2, 3
	check("different repairs", few, 24, 50, 50, 60, 8)
	if narrowest(nil, 5, 10) != nil {
		t.Error("a window of nothing")
	}
}
