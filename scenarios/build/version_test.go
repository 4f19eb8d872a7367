package build

import (
	"os"
	"reflect"
	"slices"
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

// TestVersionOne reads the lab that the first version wrote. The file is never written anew: labs have to stay
// readable, sealed and printable, and their marks the same.
func TestVersionOne(t *testing.T) {
	const path = "testdata/lab-v1.json"
	data, l := frozen(t, path)
	if l.Format != 1 || l.Name != "week05" || len(l.Sheets) != 4 || len(l.Tests) == 0 || l.Sheets[0].Student != "s00" ||
		l.Rubric != term.DefaultRubric() {
		t.Errorf("format %d, lab %s, %d sheets, %d tests, rubric %+v", l.Format, l.Name, len(l.Sheets), len(l.Tests),
			l.Rubric)
	}
	h := handedOut(t, l)
	if len(h.Worksheets) != 4 || h.Worksheets[3].Student != "" || h.Reference.PackTitle == "" {
		t.Errorf("%d worksheets, pack %q", len(h.Worksheets), h.Reference.PackTitle)
	}
	newer := strings.Replace(string(data), `"format":1`, `"format":5`, 1)
	if _, err := lab.Decode(path, []byte(newer)); err == nil ||
		!strings.Contains(err.Error(),
			path+": has format 5, this program knows formats up to 4; use the newer nospark") {
		t.Errorf("a newer version: %v", err)
	}
	// A newer one may have fields that this program does not know; its format is the better explanation.
	newer = strings.Replace(newer, `"term":`, `"news":[],"term":`, 1)
	if _, err := lab.Decode(path, []byte(newer)); err == nil || !strings.Contains(err.Error(), "has format 5") {
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

// TestVersionThree does the same for the third version, whose repairs have codes of that lab alone: they stay, and its
// booklet says what the lab itself knows.
func TestVersionThree(t *testing.T) {
	const path = "testdata/lab-v3.json"
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
	other := key
	other[0]++
	if got := l.Verify(testTerm().ID, other[:]); got != lab.OtherKey {
		t.Errorf("under another key the lab is %v", got)
	}
	ref := handedOut(t, l).Reference
	// the first lines of the file's repairs
	if l.Format != 3 || l.Booklet != nil || ref.Repairs[0].Code+ref.Repairs[0].Letters != "47HX" ||
		len(ref.Proofs[0]) == 0 {
		t.Errorf("format %d, repairs %+v, proofs %q", l.Format, ref.Repairs, ref.Proofs)
	}
	if again := encode(t, l); string(again) != string(data) {
		t.Error("read and written again it is another")
	}
	// Latecomers get sheets of the same lab, codes and all.
	in := input(t, twoLamps(t), "spares = 1\n", 4)
	in.Previous = l
	more, _ := build(t, in)
	if len(more.Sheets) != len(l.Sheets)+1 || more.Repairs[0] != l.Repairs[0] || more.Format != 3 {
		t.Errorf("%d sheets, format %d, repair %+v", len(more.Sheets), more.Format, more.Repairs[0])
	}
}

// TestCodesStayForTheTerm: every lab of a pack has the same codes and the same booklet, whatever its plan; another
// pack, or another key, has others.
func TestCodesStayForTheTerm(t *testing.T) {
	first := input(t, twoLamps(t), "", 2)
	one, _ := build(t, first)
	later := input(t, twoLamps(t), "unplug = false\nproof = false\nnothing_found = true\n", 2)
	later.Plan.Name, later.Plan.Title = "week09", "Later"
	two, _ := build(t, later)
	if !slices.Equal(one.Repairs, two.Repairs) || !reflect.DeepEqual(one.Booklet, two.Booklet) {
		t.Errorf("a later lab has the repairs\n%+v\nand the booklet %+v, the first\n%+v\nand %+v", two.Repairs,
			two.Booklet, one.Repairs, one.Booklet)
	}
	a, b := handedOut(t, one).Reference, handedOut(t, two).Reference
	if a.Columns, b.Columns = nil, nil; !reflect.DeepEqual(a, b) { // the columns are those of the worksheet
		t.Errorf("the booklets differ:\n%+v\n%+v", a, b)
	}
	first.Key[0]++
	other, _ := build(t, first)
	same := 0
	for i, r := range other.Repairs {
		if r.Code == one.Repairs[i].Code {
			same++
		}
	}
	if same*2 > len(other.Repairs) {
		t.Errorf("another key gives %d of %d codes again", same, len(other.Repairs))
	}
}
