package competency

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"nospark/grading"
	"nospark/grading/evidence"
)

// schoolYear writes the records of an invented term with eight opportunities per sheet and returns its folder.
func schoolYear(b *testing.B, labs, sections, students int) string {
	b.Helper()
	dir := b.TempDir()
	table := evidence.Table()
	for l := range labs {
		for s := range sections {
			r := rec(fmt.Sprintf("week%02d", l+1), fmt.Sprintf("2026-%02d-%02d", 9+l/28, 1+l%28),
				fmt.Sprintf("S%d", s+1))
			for i := range students {
				e := evidence.Entry{Student: fmt.Sprintf("%d%04d", s+1, i), Name: fmt.Sprintf("Student Number %d",
					s*students+i),
					Sheet:  fmt.Sprintf("K%d-%03d", s, i),
					Status: grading.Graded, Worked: true, Mark: float64((i * 7) % 101),
					Fault: fmt.Sprintf("fault-%d", i%7), Repair: fmt.Sprintf("repair-%d", i%5)}
				for k := range 8 {
					e.Evidence = append(e.Evidence, evidence.Item{Competency: table[(k+i+l)%len(table)].ID,
						Met: (i+k*l)%3 != 0, Step: k, Test: fmt.Sprintf("volts to battery -, cranking, at %d", k),
						Why: "1 of 1 verdicts right"})
				}
				r.Students = append(r.Students, e)
			}
			if err := os.WriteFile(filepath.Join(dir, r.FileName()), encoded(b, r), 0o600); err != nil {
				b.Fatal(err)
			}
		}
	}
	return dir
}

// benchmarkRead reads a folder of sealed records as the command does: decoding, seals and standings.
func benchmarkRead(b *testing.B, labs, sections, students int) {
	dir := schoolYear(b, labs, sections, students)
	key := newKey()
	b.ReportAllocs()
	for b.Loop() {
		term, err := Read(dir, Options{Term: newTerm(), Key: &key})
		if err != nil || len(term.Students) != sections*students || len(term.Problems) > 0 {
			b.Fatal(err, len(term.Students), term.Problems)
		}
	}
}

// Three sections of 24 with 15 labs, and a school of 2,000.
func BenchmarkReadTerm(b *testing.B)   { benchmarkRead(b, 15, 3, 24) }
func BenchmarkReadSchool(b *testing.B) { benchmarkRead(b, 15, 20, 100) }
