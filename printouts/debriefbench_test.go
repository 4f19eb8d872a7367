package printouts

import (
	"testing"

	"nospark/printouts/paper/debriefs"
)

// BenchmarkDebriefs prints the debriefs of a class of 24 of all skills.
func BenchmarkDebriefs(b *testing.B) {
	lab, result := playedClass(b, "single-coil", 24)
	for b.Loop() {
		if _, err := debriefs.PDF(lab, result); err != nil {
			b.Fatal(err)
		}
	}
}
