package competency

import (
	"fmt"
	"strings"
	"testing"

	"nospark/grading/evidence"
)

// TestResidue: counts by hand; nothing of anybody, nothing small, and nothing twice.
func TestResidue(t *testing.T) {
	var lines []string
	for i := range 12 { // proof: 6 met of 12; economy: 9 met, 3 missed; reasoning: 4 students
		line := fmt.Sprintf("77%02d Ann Example%d:", i, i)
		line += map[bool]string{true: " proof+", false: " proof-"}[i < 6]
		line += map[bool]string{true: " economy+", false: " economy-"}[i < 9]
		if i < 4 {
			line += " reasoning+"
		}
		lines = append(lines, line)
	}
	first := []*evidence.Record{rec("week01", "2026-09-01", "A", lines[:6]...), rec("week01", "2026-09-01", "B",
		lines[6:]...)}
	data, err := AddResidue(nil, first)
	if err != nil {
		t.Fatal(err)
	}
	const head = "term,lab,date,pack,competency,students,opportunities,met\r\n"
	const week01 = "test-term-1,week01,2026-09-01,lamp,economy,12,12,\r\n" +
		"test-term-1,week01,2026-09-01,lamp,proof,12,12,6\r\n" +
		"test-term-1,week01,2026-09-01,lamp,reasoning,<5,,\r\n"
	if string(data) != head+week01 {
		t.Errorf("got\n%s\nwant\n%s", data, head+week01)
	}
	for _, secret := range []string{"77", "Ann", "Example", "K2", "lamp-open", "replace"} {
		if strings.Contains(string(data), secret) {
			t.Errorf("%q is told", secret)
		}
	}
	more, err := AddResidue(data, append(first, rec("week02", "2026-09-08", "A", lines...)))
	if err != nil {
		t.Fatal(err)
	}
	week02 := strings.NewReplacer("week01", "week02", "2026-09-01", "2026-09-08").Replace(week01)
	if want := head + week01 + week02; string(more) != want {
		t.Errorf("the same lab again, and another: got\n%s\nwant\n%s", more, want)
	}
	if again, err := AddResidue(more, first[1:]); err != nil || string(again) != string(more) {
		t.Errorf("what an interrupted purge has left: got\n%s\nwant\n%s", again, more)
	}
	if _, err := AddResidue([]byte("a,b\n1,2\n"), first); err == nil {
		t.Error("something else was taken for the file")
	}
}
