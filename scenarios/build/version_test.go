package build

import (
	"os"
	"strings"
	"testing"

	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

// frozen reads a lab that is never written anew. It is sealed, and written again it is the same, so a later build does
// not break its seal.
func frozen(t *testing.T, path string) ([]byte, *lab.Lab) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	l, err := lab.Decode(path, data)
	if err != nil {
		t.Fatal(err)
	}
	key := input(t, twoLamps(t), "", 1).Key
	if got := l.Verify(testTerm().ID, key[:]); got != lab.Sealed {
		t.Errorf("the lab is %v", got)
	}
	if again := encode(t, l); string(again) != string(data) {
		t.Error("read and written again it is another")
	}
	return data, l
}

// TestVersionOne reads the lab that the first version wrote. The file is never written anew: labs have to stay readable, sealed and
// printable, and their marks the same.
func TestVersionOne(t *testing.T) {
	const path = "testdata/lab-v1.json"
	data, l := frozen(t, path)
	if l.Format != 1 || l.Name != "week05" || len(l.Sheets) != 4 || len(l.Tests) == 0 || l.Sheets[0].Student != "s00" || l.Rubric != term.DefaultRubric() {
		t.Errorf("format %d, lab %s, %d sheets, %d tests, rubric %+v", l.Format, l.Name, len(l.Sheets), len(l.Tests), l.Rubric)
	}
	h := handedOut(t, l)
	if len(h.Worksheets) != 4 || h.Worksheets[3].Student != "" || h.Reference.PackTitle == "" {
		t.Errorf("%d worksheets, pack %q", len(h.Worksheets), h.Reference.PackTitle)
	}
	newer := strings.Replace(string(data), `"format":1`, `"format":4`, 1)
	if _, err := lab.Decode(path, []byte(newer)); err == nil || !strings.Contains(err.Error(), path+": has format 4, this program knows formats up to 3; use the newer nospark") {
		t.Errorf("a newer version: %v", err)
	}
	// A newer one may have fields that this program does not know; its format is the better explanation.
	newer = strings.Replace(newer, `"term":`, `"news":[],"term":`, 1)
	if _, err := lab.Decode(path, []byte(newer)); err == nil || !strings.Contains(err.Error(), "has format 4") {
		t.Errorf("a newer version with a new field: %v", err)
	}
}

// TestVersionTwo does the same for the second version, which says who holds whose readings.
func TestVersionTwo(t *testing.T) {
	const path = "testdata/lab-v2.json"
	data, l := frozen(t, path)
	if w := handedOut(t, l).Worksheets; l.Format != 2 || len(w) != 4 || w[0].Holder != "B5-BKK" || w[3].Holder != "" {
		t.Errorf("format %d, worksheets %+v", l.Format, w)
	}
	astray := strings.Replace(string(data), `"holder":"B5-BKK"`, `"holder":"B5-XXX"`, 1)
	if _, err := lab.Decode(path, []byte(astray)); err == nil || !strings.Contains(err.Error(), `held by "B5-XXX"`) {
		t.Errorf("a holder that there is not: %v", err)
	}
}
