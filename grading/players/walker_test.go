package players_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"nospark/grading/players"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// TestWalkersFareAsBuilt: what the build works out from the matrix alone, before anybody has played, is what the marks of walkers come to.
// The two share no formula. 1,000 walkers work on each hypothesis that a sheet hides; the lowest and the highest of their means lie where
// the build says.
func TestWalkersFareAsBuilt(t *testing.T) {
	n := 1000
	labs := []struct{ pack, lines string }{
		{"lamp", ""},
		{"reluctor", `complaint = "no-start"`},
		{"reluctor", "complaint = \"no-start\"\nrows = 4"},
		{"reluctor", `complaints = ["no-start", "load-miss"]`},
		{"reluctor", "complaint = \"catches\"\nnothing_found = true"},
		{"reluctor", "complaint = \"no-start\"\nforbid = [\"ohmmeter\"]"},
		{"reluctor", "complaint = \"no-start\"\n[rubric]\nevidence = 10\ndiagnosis = 30\nefficiency = 20\ninterpretation = 10\nreasoning = 20\nsafety = 10"},
		{"double-ended", `complaints = ["no-start", "rough"]`},
		{"coil-per-plug", `complaint = "rough"`},
	}
	if testing.Short() {
		n, labs = 100, labs[:3]
	}
	for _, c := range labs {
		t.Run(c.pack+" "+c.lines, func(t *testing.T) {
			in, _ := shop(t, c.pack)
			lab, report, err := builtLab(t, in, c.lines+"\n")
			if err != nil {
				t.Fatal(err)
			}
			low, high := walkersOn(t, lab, n)
			t.Logf("walkers %.1f (+- %.1f) to %.1f (+- %.1f), the build says %.1f to %.1f", low.mean, low.sampled, high.mean, high.sampled, report.WalkMarks[0], report.WalkMarks[1])
			for i, m := range []sample{low, high} {
				// Four standard errors of the sample, and a point for the extreme of several means, which lies further out than each.
				if math.Abs(m.mean-report.WalkMarks[i]) > 4*m.sampled+1 {
					t.Errorf("walkers average %.2f with a standard error of %.2f, the build says %.2f", m.mean, m.sampled, report.WalkMarks[i])
				}
			}
		})
	}
}

// sample is the mean of some marks and its standard error.
type sample struct{ mean, sampled float64 }

// walkersOn lets n walkers work on each hypothesis that the lab hides, with full marks for what the instructor judges, and gives the lowest and the highest mean.
func walkersOn(t *testing.T, lab *lab.Lab, n int) (low, high sample) {
	t.Helper()
	big := *lab
	big.Sheets = nil
	type hidden struct{ complaint, truth int }
	seen := map[hidden]bool{}
	for _, s := range lab.Sheets {
		if seen[hidden{s.Complaint, s.Truth}] {
			continue
		}
		seen[hidden{s.Complaint, s.Truth}] = true
		for k := range n {
			s.Code = fmt.Sprintf("H%d-%d-%d", s.Complaint, s.Truth, k)
			s.Student = "student " + s.Code
			big.Sheets = append(big.Sheets, s)
		}
	}
	c := class(t, &big)
	var rows []submission.Row
	for i := range big.Sheets {
		row := c.Play(i, players.Walker, rand.New(rand.NewPCG(3, uint64(i))).IntN)
		row.Reasoning, row.Safe = 4, 1
		rows = append(rows, row)
	}
	all := graded(t, &big, rows)
	for from := 0; from < len(all); from += n {
		now := sample{mean: meanMark(all[from : from+n])}
		for _, one := range all[from : from+n] {
			now.sampled += (one.Mark - now.mean) * (one.Mark - now.mean)
		}
		now.sampled = math.Sqrt(now.sampled) / float64(n)
		if from == 0 || now.mean < low.mean {
			low = now
		}
		if from == 0 || now.mean > high.mean {
			high = now
		}
	}
	return low, high
}
