package isolation

import (
	"fmt"
	"testing"
)

// Circuit-like problems with 150 tests: how long a proof takes from nothing, and how much longer a diagnosis by information per minute
// takes than best play.
func BenchmarkCircuits(b *testing.B) {
	for _, n := range []int{24, 36, 48} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			p := circuit(3, n, 150)
			var loss float64
			for b.Loop() {
				s, err := New(p, Limits{})
				if err != nil {
					b.Fatal(err)
				}
				v := s.Value(s.All())
				loss = 100*float64(s.GreedyValue(s.All()))/float64(v.Low) - 100
			}
			b.ReportMetric(loss, "greedy-loss-%")
		})
	}
}
