package pack_test

import (
	"os"
	"reflect"
	"strings"
	"testing"

	"nospark/scenarios/pack"
)

// withProof is the pack with every key, changed for the tests of proofs.
func withProof(t *testing.T, changes ...string) (*pack.Pack, error) {
	t.Helper()
	text, err := os.ReadFile("testdata/every.toml")
	if err != nil {
		t.Fatal(err)
	}
	drawn := string(text)
	for i := 0; i < len(changes); i += 2 {
		if !strings.Contains(drawn, changes[i]) {
			t.Fatalf("no %q", changes[i])
		}
		drawn = strings.Replace(drawn, changes[i], changes[i+1], 1)
	}
	return pack.Parse("every.toml", []byte(drawn))
}

const coil, spark = "id = \"coil\"\nlabel = \"Replace the coil\"\n", "id = \"spark\"\nlabel = \"Spark at the tower\"\n"

func TestProof(t *testing.T) {
	p, err := withProof(t, coil, coil+`proof = [
	{ what = "own test", tests = ["spark", "volts.bat.on"] },
	{ what = "feed", part = "coil", because = "soldered" }]`+"\n",
		spark, spark+"part = \"coil\"\n")
	if err != nil {
		t.Fatal(err)
	}
	find := func(id string) int {
		i, err := p.Test(id)
		if err != nil {
			t.Fatal(err)
		}
		return i
	}
	at := p.Tests[find("secondary")].Part // isolated, so it is the coil's own
	if got := p.Tests[find("spark")].Part; got != at || p.Parts[got].ID != "coil" {
		t.Errorf("the spark test is that of part %d", got)
	}
	got := p.Repairs[1].Proof
	for i := range got {
		got[i].Line = 0
	}
	want := []pack.Proof{{What: "own test", Part: -1, Tests: []int{find("volts.bat.on"), find("spark")}},
		{What: "feed", Part: at, Because: "soldered"}}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v, want %+v", got, want)
	}
}

func TestBadProofs(t *testing.T) {
	check := func(want string, changes ...string) {
		t.Helper()
		_, err := withProof(t, changes...)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want %s", err, want)
		}
	}
	proof := func(want, entry string) {
		t.Helper()
		check(want, coil, coil+"proof = ["+entry+"]\n")
	}
	proof(`repair "coil": proof is empty; write proof =`, ``)
	proof(`repair "coil": what = "own" is not known; known: feed, ground`, `{ what = "own", tests = ["spark"] }`)
	proof(`repair "coil": key "what" is missing`, `{ tests = ["spark"] }`)
	proof(`repair "coil": test "sparks" is not declared; did you mean "spark"`,
		`{ what = "own test", tests = ["sparks"] }`)
	proof(`repair "coil": tests names "spark" twice`, `{ what = "own test", tests = ["spark", "spark"] }`)
	proof(`repair "coil": tests is empty`, `{ what = "own test", tests = [] }`)
	proof(`repair "coil": part "coli" is not declared; did you mean "coil"`,
		`{ what = "own test", part = "coli", tests = ["spark"] }`)
	proof(`the proof neither adds a check nor takes one away; give tests`, `{ what = "feed" }`)
	proof(`because is given beside tests; give tests to add`, `{ what = "feed", tests = ["spark"], because = "x" }`)
	proof(`repair "coil": unknown key "test"`, `{ what = "feed", because = "x", test = "spark" }`)
	check(`test "secondary": the test is that of the isolated part already; take it out`,
		"isolate = \"coil\"\n", "isolate = \"coil\"\npart = \"coil\"\n")
	check(`test "spark": part "coli" is not declared; did you mean "coil"`, spark, spark+"part = \"coli\"\n")
}
