package grading_test

import (
	"math/rand/v2"
	"testing"

	"nospark/grading"
	"nospark/grading/players"
	"nospark/grading/submission"
)

// BenchmarkGrade2000 grades a class of 2,000 of mixed skill on a random lab of ten faults; every iteration begins from nothing.
func BenchmarkGrade2000(b *testing.B) {
	r := rand.New(rand.NewPCG(7, 7))
	lab := randomLab(r)
	kinds := lab.Sheets
	lab.Sheets = nil
	for i := range 2000 {
		sheet := kinds[i%len(kinds)]
		sheet.Code, sheet.Student = string(rune('A'+i%20))+string(rune('0'+i/20%10))+string(rune('A'+i/200)), string(rune('A'+i%20))+string(rune('0'+i/20%10))+string(rune('a'+i/200))
		lab.Sheets = append(lab.Sheets, sheet)
	}
	class, err := players.New(lab)
	if err != nil {
		b.Fatal(err)
	}
	var rows []submission.Row
	for i := range lab.Sheets {
		rows = append(rows, class.Play(i, players.Skills()[i%4], r.IntN))
	}
	b.ResetTimer()
	for b.Loop() {
		grade(b, lab, grading.Adjust{}, rows...)
	}
}
