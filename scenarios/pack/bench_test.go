package pack_test

import (
	"testing"

	"nospark/scenarios/pack"
)

func BenchmarkParse(b *testing.B) {
	data, err := pack.Source("single-coil")
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := pack.Parse("single-coil.toml", data); err != nil {
			b.Fatal(err)
		}
	}
}
