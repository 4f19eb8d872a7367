package build

import (
	"testing"

	"nospark/scenarios/draw"
)

func TestFairest(t *testing.T) {
	// one candidate per fault and repair with the given minutes, tenths
	list := func(minutes ...int64) []candidate {
		var all []candidate
		for i, m := range minutes {
			all = append(all, candidate{hypothesis: i, fault: i, repair: i, minutes: m})
		}
		return all
	}
	// Every key must give one of the windows, and each must come.
	check := func(name string, all []candidate, class int, reference float64, windows ...[2]int64) {
		t.Helper()
		seen := map[[2]int64]bool{}
		for key := range 40 {
			got := fairest(all, crowd{size: class}, reference, draw.New([]byte{byte(key)}, "test"))
			least, most := got[0].minutes, got[0].minutes
			for _, c := range got {
				least, most = min(least, c.minutes), max(most, c.minutes)
			}
			if len(got) != len(within(all, least, most)) {
				t.Errorf("%s: %d of %d candidates from %d to %d", name, len(got), len(within(all, least, most)), least, most)
			}
			seen[[2]int64{least, most}] = true
		}
		for _, w := range windows {
			if !seen[w] {
				t.Errorf("%s: %v never comes", name, w)
			}
			delete(seen, w)
		}
		for w := range seen {
			t.Errorf("%s: %v comes, want %v", name, w, windows)
		}
	}
	check("all have to do", list(20, 20, 40, 40), 24, 30, [2]int64{20, 40})
	check("one student", list(10, 20, 30, 40), 1, 30, [2]int64{20, 20}, [2]int64{30, 30}, [2]int64{40, 40})
	check("fewer faults rather than unequal ones", list(10, 20, 30, 60, 62, 64, 66, 75, 78, 100), 24, 66, [2]int64{60, 66})
	check("least ratio when none are equal", list(10, 20, 30, 60, 70, 80, 90, 150), 24, 66, [2]int64{60, 90})
	check("the easy ones are far from the reference", list(30, 30, 30, 30, 30, 30, 50, 50, 52, 52, 54, 54), 24, 55, [2]int64{50, 54})
	check("nothing near the reference", list(30, 30, 30, 30, 30, 30, 40, 40, 40, 40, 40, 40), 24, 100, [2]int64{40, 40})
	check("either", list(50, 50, 50, 50, 50, 50, 60, 60, 60, 60, 60, 60), 24, 55, [2]int64{50, 50}, [2]int64{60, 60})
	check("as wide as is equally hard", list(50, 51, 52, 53, 54, 55, 56, 57), 24, 55, [2]int64{50, 57})
	// Six faults with two repairs do while the others are not equally hard.
	few := list(50, 50, 50, 50, 50, 50, 70, 70)
	for i := range few {
		few[i].repair = i % 2
	}
	few[6].repair, few[7].repair = 2, 3
	check("two repairs", few, 24, 50, [2]int64{50, 50})
	few[6].minutes, few[7].minutes = 55, 55
	check("different repairs", few, 24, 50, [2]int64{50, 55})
	if fairest(nil, crowd{size: 5}, 10, draw.New([]byte{1}, "test")) != nil {
		t.Error("a window of nothing")
	}
}
