package outcomes

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"nospark/grading/competency"
	"nospark/grading/evidence"
)

// TestAnswers: a department of 11 sections in which one is behind, one fault is found by nobody and ground tests are
// what is met least often; each question has its line, and every line says on how much it rests.
func TestAnswers(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 4))
	term := class(random, 11, 22, 12, 0)
	for _, r := range term.Records {
		r.Cohort = "2026 fall"
		for i := range r.Students {
			e := &r.Students[i]
			e.Fault, e.Label, e.Right = "a", "Ground strap open", random.IntN(2) == 0
			if random.IntN(8) == 0 {
				e.Fault, e.Label, e.Right = "b", "Chafed wire", false
			}
			if r.Section == "S03" {
				e.Mark = max(0, e.Mark-40)
			}
			for k, c := range []string{"voltage-drop", "ground-integrity"} {
				e.Evidence = append(e.Evidence, evidence.Item{Competency: c, Met: random.IntN(10) < 8-4*k,
					Why: "1 of 2 verdicts right"})
			}
		}
		for i := range r.Students {
			for s := range term.Students {
				if term.Students[s].ID != r.Students[i].Student {
					continue
				}
				for k := range r.Students[i].Evidence {
					item := &r.Students[i].Evidence[k]
					x := &term.Students[s].Standings[find(term.Competencies, item.Competency)]
					x.Opportunities = append(x.Opportunities, competency.Opportunity{Record: r, Entry: &r.Students[i],
						Evidence: item})
				}
			}
		}
	}
	term.Cohort = "2026 fall"
	answers := AnswersOf(term, LabsOf(term), MarksOf(term))
	var text strings.Builder
	questions := 0
	for _, a := range answers {
		if a.Question != "" {
			questions++
		}
		if a.Text == "" || a.Of == "" || a.N < 0 {
			t.Errorf("%+v", a)
		}
		fmt.Fprintf(&text, "%s|%s|%d %s\n", a.Question, a.Text, a.N, a.Of)
	}
	if questions != 6 {
		t.Errorf("%d questions", questions)
	}
	for _, want := range []string{"Section S03, ", "points below the others on the same labs", "|11 sections",
		"One lab: reliability ",
		"the records are of one cohort", "Chafed wire (p): nobody found it", "Ground tests (integrity): met in ",
		"most often: a verdict on a reading was wrong (", "Source voltage: no sheet gave an opportunity"} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("no %q in\n%s", want, text.String())
		}
	}
	if a := whoIsBehind(class(random, 2, 12, 3, 0)); a.Text != "Not compared: a section is held against at least 5 "+
		"others of at least 5 students, and there are 2 in all. Their figures are in competency.xlsx, on the sheet "+
		"Sections." {
		t.Errorf("two sections: %+v", a)
	}
	for _, why := range []string{"lost 1.25 minutes, reference 3.0", "right, but 2.0 minutes of testing were left",
		"0 of 2 verdicts right"} { // as package evidence writes them
		if kindWords[kind(why)] == "" {
			t.Errorf("%q reads %q", why, kind(why))
		}
	}
	for _, a := range AnswersOf(&competency.Term{}, nil, Marks{}) {
		if !strings.HasPrefix(a.Text, "Cannot be said") {
			t.Errorf("of nothing: %+v", a)
		}
	}
}
