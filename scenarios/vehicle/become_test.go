package vehicle

import (
	"bytes"
	"testing"

	"nospark/scenarios/pack/packtest"
)

// A vehicle that becomes one faulty vehicle after the other reads like a fresh one each time, whatever it has kept.
func TestBecomingReadsLikeFresh(t *testing.T) {
	for _, name := range packtest.Packs(t) {
		b := loaded(t, name)
		v := Healthy(b.p)
		for _, f := range b.p.Faults {
			for _, severity := range severities(f) {
				v.become(b.v, f, severity)
				kept, complaint, err := v.Bands()
				if err != nil {
					t.Fatalf("%s %s: %v", name, f.ID, err)
				}
				fresh := Healthy(b.p)
				fresh.Apply(f, severity)
				bands, want, err := fresh.Bands()
				if err != nil {
					t.Fatalf("%s %s: %v", name, f.ID, err)
				}
				if !bytes.Equal(kept, bands) || complaint != want {
					t.Errorf("%s %s at %g: complaint %d with memory, %d without; bands differ: %v", name, f.ID,
						severity, complaint,
						want, !bytes.Equal(kept, bands))
				}
			}
		}
	}
}
