package pack_test

import (
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/pack/spec"
)

func TestLampSpecifications(t *testing.T) {
	p, err := pack.Load("lamp")
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]string{
		"battery":         "at least 12 V",
		"lamp-feed":       "less than 0.5 V below the battery reading",
		"lamp-ground":     "below 0.4 V",
		"lamp-resistance": "below 1 Ω",
	}
	if len(p.Tests) != len(want) {
		t.Errorf("%d tests, want %d", len(p.Tests), len(want))
	}
	for _, v := range p.Tests {
		if got := spec.Text(v, p); got != want[v.ID] {
			t.Errorf("%s: %q, want %q", v.ID, got, want[v.ID])
		}
	}
}
