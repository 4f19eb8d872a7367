package grading_test

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"sort"
	"testing"
	"time"

	"nospark/grading/adjust"
	"nospark/grading/bestplay"
	"nospark/grading/players"
	"nospark/grading/submission"
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
)

// builtins lists every complaint of every built-in pack that leaves something to test, each as a lab for two.
func builtins(b *testing.B, run func(b *testing.B, lab *lab.Lab)) {
	for _, name := range pack.Builtin() {
		p, err := pack.Load(name)
		if err != nil {
			b.Fatal(err)
		}
		for _, c := range p.Complaints {
			if lab := builtLab(b, name, c.ID, 2); lab != nil {
				b.Run(name+"/"+c.ID, func(b *testing.B) { run(b, lab) })
			}
		}
	}
}

// BenchmarkSolve proves best play of every built-in complaint from nothing. Beside time and memory it tells the
// suspects, the states whose tests had to be compared, and by how much a diagnosis by information per minute takes
// longer than best play. Run with -cpu 1 for one core.
func BenchmarkSolve(b *testing.B) {
	builtins(b, func(b *testing.B, lab *lab.Lab) {
		problem, start := lab.Problem(), lab.Suspects(lab.Sheets[0].Complaint)
		solve := func(limits isolation.Limits) (*isolation.Solver, isolation.Bracket) {
			s, err := isolation.New(problem, limits)
			if err != nil {
				b.Fatal(err)
			}
			return s, s.Value(start)
		}
		b.ReportAllocs()
		for b.Loop() {
			solve(isolation.Limits{})
		}
		s, best := solve(isolation.Limits{})
		b.ReportMetric(float64(start.Len()), "suspects")
		b.ReportMetric(100*float64(s.GreedyValue(start))/float64(best.Low)-100, "greedy-loss-%")
		// The least budget with which the proof succeeds is what it takes.
		enough := sort.Search(10_000_000, func(n int) bool {
			_, bracket := solve(isolation.Limits{Nodes: int64(n + 1)})
			return bracket.Proven()
		})
		b.ReportMetric(float64(enough+1), "nodes")
	})
}

// BenchmarkSteps grades, after the proof, the routes of students who go from point to point, one step an iteration. The
// slowest is mostly one that leads where nobody has been before.
func BenchmarkSteps(b *testing.B) {
	builtins(b, func(b *testing.B, lab *lab.Lab) {
		class, err := players.New(lab)
		if err != nil {
			b.Fatal(err)
		}
		r := rand.New(rand.NewPCG(5, 5))
		type step struct {
			set  isolation.Set
			test int
		}
		var s *bestplay.Suspects
		var steps []step
		var slowest time.Duration
		refill := func() {
			if s, err = bestplay.NewSuspects(lab, lab.Sheets[0].Complaint, nil, nil); err != nil {
				b.Fatal(err)
			}
			set := s.Start(&lab.Sheets[0])
			s.Value(set)
			for range 50 {
				set := set
				for _, taken := range class.Play(0, players.Walker, r.IntN).Steps {
					for t, line := range lab.Sheets[0].Lines {
						if line.Number == taken.Line {
							steps = append(steps, step{set, t})
							set = s.After(set, t, line.Band)
						}
					}
				}
			}
		}
		for b.Loop() {
			if len(steps) == 0 {
				b.StopTimer()
				refill()
				b.StartTimer()
			}
			began := time.Now()
			s.Lost(steps[0].set, steps[0].test)
			s.Best(steps[0].set)
			slowest = max(slowest, time.Since(began))
			steps = steps[1:]
		}
		b.ReportMetric(float64(slowest.Microseconds()), "µs-slowest")
	})
}

// BenchmarkGrade2000 grades a class of 2,000 of mixed skill on the largest built-in complaint, with one proof for all
// of them; every iteration begins from nothing.
func BenchmarkGrade2000(b *testing.B) {
	lab := builtLab(b, "single-coil", "no-start", 24)
	kinds := lab.Sheets
	lab.Sheets = nil
	for i := range 2000 {
		sheet := kinds[i%len(kinds)]
		sheet.Code, sheet.Student = fmt.Sprint("S", i), fmt.Sprint("student ", i)
		lab.Sheets = append(lab.Sheets, sheet)
	}
	class, err := players.New(lab)
	if err != nil {
		b.Fatal(err)
	}
	r := rand.New(rand.NewPCG(7, 7))
	var rows []submission.Row
	steps := 0
	for i := range lab.Sheets {
		rows = append(rows, class.Play(i, players.Skills()[i%4], r.IntN))
		steps += len(rows[i].Steps)
	}
	runtime.GC()
	b.ResetTimer()
	for b.Loop() {
		grade(b, lab, adjust.Decisions{}, rows...)
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(steps), "µs/step")
}
