package printouts

import "testing"

// BenchmarkClass prints worksheets and readings sheets of 24 students.
func BenchmarkClass(b *testing.B) {
	h := sample(b, 24, 1)
	for b.Loop() {
		must(b)(Worksheets(h))
		must(b)(Readings(h))
	}
}

// BenchmarkReference lays out and prints the class reference.
func BenchmarkReference(b *testing.B) {
	h := sample(b, 1, 1)
	for b.Loop() {
		must(b)(Reference(h))
	}
}

// BenchmarkSchool prints 2,000 sheets in documents of 100.
func BenchmarkSchool(b *testing.B) {
	h := sample(b, 2000, 1)
	for b.Loop() {
		for _, part := range Split(h, 100) {
			must(b)(Worksheets(part))
			must(b)(Readings(part))
		}
	}
}
