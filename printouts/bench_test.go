package printouts

import (
	"testing"

	"nospark/printouts/paper/readings"
	"nospark/printouts/paper/worksheets"
)

// BenchmarkClass prints worksheets and readings sheets of 24 students.
func BenchmarkClass(b *testing.B) {
	h := sample(b, 24, 1)
	for b.Loop() {
		must(b)(worksheets.PDF(h))
		must(b)(readings.PDF(h))
	}
}

// BenchmarkReference lays out and prints the booklet.
func BenchmarkReference(b *testing.B) {
	h := sample(b, 1, 1)
	for b.Loop() {
		must(b)(booklet(h))
	}
}

// BenchmarkSchool prints 2,000 sheets in documents of 100.
func BenchmarkSchool(b *testing.B) {
	h := sample(b, 2000, 1)
	for b.Loop() {
		for from := 0; from < len(h.Worksheets); from += 100 {
			part := h
			part.Worksheets, part.Readings = h.Worksheets[from:from+100], h.Readings[from:from+100]
			must(b)(worksheets.PDF(part))
			must(b)(readings.PDF(part))
		}
	}
}
