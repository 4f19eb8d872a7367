package printouts

import (
	"fmt"
	"testing"

	"nospark/grading"
	"nospark/grading/competency"
	"nospark/grading/competency/lists"
	"nospark/grading/evidence"
	"nospark/scenarios/term"
)

// signOffTerm is an invented term of as many labs and students; the first student meets everything, the next ones
// less and less.
func signOffTerm(t testing.TB, labs, students int) *competency.Term {
	t.Helper()
	key := term.Key{5}
	term := term.Term{ID: "test-term-1", Program: "Example Technical Program", Paper: "letter",
		Mastery: term.DefaultMastery()}
	var files []competency.File
	for l := range labs {
		r := &evidence.Record{Format: evidence.Format, Program: term.Program, Term: term.ID,
			Lab: fmt.Sprintf("week%02d", l+1), Title: "Lab", Date: fmt.Sprintf("2026-09-%02d", l+1),
			Section: "A", Pack: []string{"lamp", "horn"}[l%2], Reference: 30}
		for i := range students {
			e := evidence.Entry{Student: fmt.Sprintf("%05d", 17+i), Name: sampleName(i),
				Sheet: fmt.Sprintf("K%d-BCD", 2+i%8), Status: grading.Graded, Worked: true, Fault: fmt.Sprint("f",
					l), Repair: fmt.Sprint("r", l)}
			if (l+i)%5 == 4 {
				e.Status = grading.Blank
			}
			for k, c := range evidence.Table() {
				if e.Status == grading.Graded && (l+k+i)%3 > 0 {
					e.Evidence = append(e.Evidence,
						evidence.Item{Competency: c.ID, Met: (k+l)%(students+1) >= i, Step: k % 7,
							Test: "volts to battery -, cranking, at 12 module ground",
							Why:  "1 of 1 verdicts right"})
				}
			}
			r.Students = append(r.Students, e)
		}
		data, err := r.Encode(key)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, competency.File{Name: r.FileName(), Data: data})
	}
	signed := []lists.SignOff{{Student: "00017", Competency: "ground-integrity", Date: "2026-12-11",
		By: "Instructor Example"}}
	return competency.Gather(files, competency.Options{Term: term, Key: &key, SignOffs: signed})
}
