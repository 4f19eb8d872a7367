package proof

import (
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/vehicle"
)

// The bar is 1 s on one core for every pack.
func BenchmarkOf(b *testing.B) {
	for _, name := range pack.Builtin() {
		b.Run(name, func(b *testing.B) {
			p, err := pack.Load(name)
			if err != nil {
				b.Fatal(err)
			}
			m, err := vehicle.NewMatrix(p)
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			for b.Loop() {
				Of(p, m)
			}
		})
	}
}
