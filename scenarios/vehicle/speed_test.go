package vehicle

import (
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/vehicle/meter"
)

// largest is the built-in pack with the most work in its matrix.
func largest(b *testing.B) *pack.Pack {
	b.Helper()
	var most *pack.Pack
	for _, name := range pack.Builtin() {
		p, err := pack.Load(name)
		if err != nil {
			b.Fatal(err)
		}
		if most == nil || len(p.Tests)*len(p.Faults) > len(most.Tests)*len(most.Faults) {
			most = p
		}
	}
	b.Logf("pack %s: %d tests, %d faults", most.Name, len(most.Tests), len(most.Faults))
	return most
}

// The bar is 60 ms on one core that nobody else uses.
func BenchmarkMatrix(b *testing.B) {
	p := largest(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := NewMatrix(p); err != nil {
			b.Fatal(err)
		}
	}
}

// The bar is 5 ms for the readings of one sheet.
func BenchmarkSheet(b *testing.B) {
	p := largest(b)
	healthy := Healthy(p)
	fault := 0
	b.ReportAllocs()
	for b.Loop() {
		v := healthy.Clone()
		v.Spread(func(part int) float64 { return float64(part%3) - 1 })
		v.Apply(p.Faults[fault%len(p.Faults)], 0.5)
		v.Shown(func(test int) meter.Error { return meter.Error{Gain: 0.5, Offset: -0.5} })
		fault++
	}
}
