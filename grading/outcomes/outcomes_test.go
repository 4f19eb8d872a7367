package outcomes

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/competency"
	"nospark/grading/competency/lists"
	"nospark/grading/evidence"
	"nospark/grading/statistics"
	"nospark/scenarios/term"
)

// TestGroups rolls up seven students by hand: five in A, of whom two are competent, and two in B, who are hidden.
func TestGroups(t *testing.T) {
	autumn := newTerm()
	autumn.Mastery = term.Mastery{Met: 1, Of: 1, Signed: true}
	var signed []lists.SignOff
	for _, id := range []string{"1", "2"} {
		signed = append(signed, lists.SignOff{Student: id, Competency: evidence.Proof, Date: "2026-12-01",
			By: "I"})
	}
	g := GroupsOf(gather(t, competency.Options{Term: autumn, SignOffs: signed},
		rec("week01", "2026-09-01", "A", "1 A: proof+", "2 B: proof+", "3 C: proof+", "4 D: proof-", "5 E: economy+"),
		rec("week01", "2026-09-01", "B", "6 F: proof+", "7 G: proof-")), find(evidence.Table(), evidence.Proof))
	check := func(i int, want string) {
		t.Helper()
		got := fmt.Sprintf("%q %v %d %v %v %.3f", g[i].Section, g[i].All, g[i].Students, g[i].Count, g[i].Hidden,
			g[i].Competent.Share)
		if got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
	// too few, at risk, not yet, to be signed, at the vehicle, competent; 2 of the 6 who could be judged
	check(0, `"" true 7 [1 0 2 2 0 2] false 0.333`)
	check(1, `"A" false 5 [1 0 1 1 0 2] false 0.500`)
	check(2, `"B" false 2 [0 0 0 0 0 0] true NaN`)
	if len(g) != 3 || math.Abs(g[0].Mean-6./7) > 1e-12 {
		t.Errorf("%d groups, mean %v", len(g), g[0].Mean)
	}
}

// TestLabs counts opportunities by lab, over its sections.
func TestLabs(t *testing.T) {
	labs := LabsOf(gather(t, competency.Options{},
		rec("week02", "2026-09-08", "A", "1 A: proof+", "2 B: proof+"),
		rec("week01", "2026-09-01", "A", "1 A: proof+", "2 B: proof-"),
		rec("week02", "2026-09-10", "B", "3 C: proof-", "4 D: blank")))
	c := find(evidence.Table(), evidence.Proof)
	var got []string
	for _, l := range labs {
		got = append(got, fmt.Sprintf("%s %s %d/%d", l.Name, l.Date, l.Met[c], l.Of[c]))
	}
	if want := []string{"week01 2026-09-01 1/2", "week02 2026-09-08 2/3"}; !slices.Equal(got, want) {
		t.Errorf("got %s, want %s", got, want)
	}
}

// TestSteps puts five students into one lab, so that the bound is just reached; by hand, three are right and two of
// these proven. Marks 10, 20, ... 50 have mean 30.
func TestSteps(t *testing.T) {
	build := func(n int) Lab {
		r := rec("week01", "2026-09-01", "A")
		for i := range n {
			r.Students = append(r.Students, evidence.Entry{Student: fmt.Sprint(i), Status: grading.Graded, Worked: true,
				Right: i < 3, Proven: i < 2, Asked: 2, Agreed: 2 - i%2, Fault: "lamp-open", Mark: float64(10 + 10*i),
				Evidence: []evidence.Item{{Competency: evidence.Economy, Met: i < 4}}})
		}
		r.Students = append(r.Students, evidence.Entry{Student: "blank", Status: grading.Blank},
			evidence.Entry{Student: "set", Status: grading.Graded})
		return LabsOf(gather(t, competency.Options{}, r))[0]
	}
	l := build(5)
	var got []string
	for _, f := range l.Steps {
		got = append(got, fmt.Sprintf("%s %d %.1f", f.Title, f.Met, f.Share))
	}
	want := "every verdict agrees 3 0.6; little time lost 4 0.8; the right repair 3 0.6; proven before concluding 2 0.4"
	if strings.Join(got, "; ") != want || l.N != 5 || l.Mean != 30 {
		t.Errorf("N %d, mean %v, %s", l.N, l.Mean, strings.Join(got, "; "))
	}
	if few := build(4); few.N != 4 || !math.IsNaN(few.Mean) || !math.IsNaN(few.Steps[0].Share) {
		t.Errorf("four are shown: %+v", few)
	}
}

// TestFaults: a fault that nobody found in 5 comes before one found in 7 of 10, and one of 4 sheets says nothing yet.
func TestFaults(t *testing.T) {
	r := rec("week01", "2026-09-01", "A")
	for i := range 19 {
		e := evidence.Entry{Student: fmt.Sprint(i), Status: grading.Graded, Worked: true, Right: i < 7,
			Fault: "lamp-open",
			Label: "Lamp filament open"}
		switch {
		case i >= 15:
			e.Fault, e.Label = "ground-open", ""
		case i >= 10:
			e.Fault, e.Label, e.Status = "switch-open", "Switch open", grading.Provisional
		}
		r.Students = append(r.Students, e)
	}
	r.Students = append(r.Students, evidence.Entry{Student: "blank", Status: grading.Blank, Fault: "lamp-open"})
	f := FaultsOf(gather(t, competency.Options{}, r))
	var got []string
	for _, x := range f {
		got = append(got, fmt.Sprintf("%s %d of %d", x.Fault, x.Met, x.N))
	}
	if want := "Switch open 0 of 5; Lamp filament open 7 of 10; ground-open 0 of 4"; strings.Join(got, "; ") != want {
		t.Errorf("got %s, want %s", strings.Join(got, "; "), want)
	}
	if f[1].Found != statistics.Wilson(7, 10) || !math.IsNaN(f[2].Found.Share) {
		t.Errorf("%+v", f)
	}
}

// TestLabsOfTerms: a lab of one name in two terms is two labs.
func TestLabsOfTerms(t *testing.T) {
	two, later := rec("week01", "2026-09-01", "A", "2 Bo: proof-"), rec("week01", "2026-09-02", "B", "3 Cy: proof-")
	two.Term, later.Term = "test-term-2", "test-term-2"
	own := newTerm()
	autumn := gather(t, competency.Options{Term: own}, rec("week01", "2026-09-01", "A", "1 Ann: proof+"), two, later)
	var labs []string
	for _, l := range LabsOf(autumn) {
		labs = append(labs, fmt.Sprintf("%s %s %s", l.Term, l.Name, l.Date))
	}
	if got := strings.Join(labs, "; "); got != "test-term-1 week01 2026-09-01; test-term-2 week01 2026-09-01" {
		t.Errorf("labs %s", got)
	}
}

// TestTaskWords: five students counted by hand, and what the answer on gaps tells.
func TestTaskWords(t *testing.T) {
	tasks, err := lists.ParseTasks("tasks.csv", []byte("id,parentId,code,statement\n1,,A,Area\n2,1,A.1,Proof\n"+
		"3,1,A.2,Safety\n4,1,A.3,Welding\n"))
	if err != nil {
		t.Fatal(err)
	}
	autumn := newTerm()
	autumn.Mastery = term.Mastery{Met: 1, Of: 1, Faults: 1, Packs: 1, Labs: 1}
	o := competency.Options{Term: autumn, Tasks: tasks, TaskLines: []lists.TaskLine{{Task: "A.1",
		Competency: "proof"}, {Task: "A.2", Competency: "safe-working"}}}
	all := gather(t, o, rec("week01", "2026-09-01", "A", "1 Ann: proof+ safe-working+", "2 Bo: proof+ safe-working+",
		"3 Cy: proof- safe-working-", "4 Dee: proof-", "5 Eve: proof+"))
	for k, want := range []string{"", "3 competent of 5 judged",
		"2 seen on paper, to be signed at the vehicle; 1 not yet", "gap: nothing is mapped to it"} {
		if got := TaskWords(all, k); k > 0 && got != want {
			t.Errorf("task %d: %s, want %s", k, got, want)
		}
	}
	// Above a gap nobody is more than "too few".
	if got := TaskWords(all, 0); got != "0 competent of 2 judged" {
		t.Errorf("the area: %s", got)
	}
	if a := gaps(all); a.Text != "1 of 3: A.3" || a.N != 3 {
		t.Errorf("gaps: %+v", a)
	}
	few := gather(t, o, rec("week01", "2026-09-01", "A", "1 Ann: proof+"))
	if got := TaskWords(few, 1); got != "evidence of fewer than 5 students" {
		t.Errorf("one student: %s", got)
	}
}
