package isolation

import (
	"fmt"
	"slices"
	"testing"
	"time"
)

// Circuit-like problems with 150 tests: one operation proves best play for 12 of them, each from nothing. The metrics
// say how long one proof takes, how many sets it compares tests of, what the table of solved sets weighs, and how much
// longer a diagnosis by information per minute takes than best play.
func BenchmarkCircuits(b *testing.B) {
	const seeds = 12
	for _, n := range []int{24, 40, 60, 80} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			var times []time.Duration
			var nodes, bytes int64
			var mean, worst float64
			for b.Loop() {
				times, nodes, bytes, mean, worst = nil, 0, 0, 0, 0
				for seed := range uint64(seeds) {
					start := time.Now()
					const most = 1 << 40
					s := solver(b, circuit(seed, n, 150), Limits{Nodes: most})
					v := s.Value(s.All())
					times = append(times, time.Since(start))
					f := s.frames[0]
					nodes += most - f.budget.nodes
					bytes = max(bytes, f.memo.bytes())
					loss := 100*float64(s.GreedyValue(s.All()))/float64(v.Low) - 100
					mean += loss / seeds
					worst = max(worst, loss)
				}
			}
			slices.Sort(times)
			b.ReportMetric(float64(times[seeds/2].Microseconds())/1000, "median-ms")
			b.ReportMetric(float64(times[seeds-1].Microseconds())/1000, "worst-ms")
			b.ReportMetric(float64(nodes/seeds), "mean-nodes")
			b.ReportMetric(float64(bytes)/1e6, "most-table-MB")
			b.ReportMetric(mean, "greedy-loss-%")
			b.ReportMetric(worst, "greedy-worst-%")
		})
	}
}
