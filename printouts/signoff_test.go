package printouts

import (
	"bytes"
	"strings"
	"testing"

	"nospark/grading/competency"
	"nospark/printouts/instructor"
	"nospark/printouts/paper"
)

// signed prints the sheets of some students.
func signed(term *competency.Term, students []competency.Student) ([]byte, error) {
	doc, err := instructor.SignOffs(term, students)
	if err != nil {
		return nil, err
	}
	return paper.PDF(doc)
}

// TestSignOffs reads the sheets back as text.
func TestSignOffs(t *testing.T) {
	term := signOffTerm(t, 10, 4)
	pdf := must(t)(signed(term, term.Students))
	again := must(t)(signed(signOffTerm(t, 10, 4), term.Students))
	if !bytes.Equal(pdf, again) {
		t.Error("two printings differ")
	}
	pages := pagesOf(t, pdf)
	firsts := 0
	for _, p := range pages {
		if !strings.Contains(p, "page 1 of") {
			continue
		}
		s := term.Students[firsts]
		firsts++
		for _, want := range []string{s.ID, competency.OnPaper, "Ground tests", "ground-integrity", "Safe working",
			"signature, date", "Instructor, date", "Secondary voltage can injure or kill"} {
			if !strings.Contains(p, want) {
				t.Errorf("the sheet of %s lacks %q:\n%s", s.ID, want, p)
			}
		}
		if strings.Contains(p, "2026-12-11") != (s.ID == "00017") {
			t.Errorf("the sheet of %s: signature", s.ID)
		}
	}
	if firsts != 4 {
		t.Errorf("%d sheets begin, want 4", firsts)
	}
	text := strings.Join(pages, "")
	for _, s := range term.Students {
		for c := range term.Competencies {
			x := &s.Standings[c]
			if h := x.History(8); x.Status != competency.TooLittle && !strings.Contains(text, h) {
				t.Errorf("history %s of %s is missing", h, s.ID)
			}
		}
	}
}

func TestSignOffsOfNobody(t *testing.T) {
	if _, err := signed(signOffTerm(t, 1, 1), nil); err == nil {
		t.Error("no students is no error")
	}
	if _, err := signed(competency.Gather(nil, competency.Options{}), []competency.Student{{}}); err == nil {
		t.Error("no records is no error")
	}
}

// BenchmarkSignOffs prints a section of 24 at the end of a term.
func BenchmarkSignOffs(b *testing.B) {
	term := signOffTerm(b, 15, 24)
	b.ReportAllocs()
	for b.Loop() {
		b.ReportMetric(float64(len(must(b)(signed(term, term.Students)))), "bytes")
	}
}
