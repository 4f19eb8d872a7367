package roster

import (
	"maps"
	"testing"
)

func TestSameIDs(t *testing.T) {
	check := func(ids, known []string, want map[string]string) {
		t.Helper()
		if got := SameIDs(ids, known); !maps.Equal(got, want) {
			t.Errorf("%q of %q: got %v, want %v", ids, known, got, want)
		}
	}
	known := []string{"0042", "00123", "7001", "A5"}
	check([]string{"42", "123", "7001", "A5"}, known, map[string]string{"42": "0042", "123": "00123"})
	// somebody new stays new
	check([]string{"42", "9009"}, known, map[string]string{"42": "0042"})
	// one line was keyed in by hand
	check([]string{"42", "00123"}, known, map[string]string{"42": "0042"})
	// the zeros came back
	check([]string{"042", "07001", "0A5"}, known, map[string]string{"042": "0042", "07001": "7001"})
	// could be either
	check([]string{"42"}, []string{"0042", "042"}, nil)
	check([]string{"42"}, []string{"0042", "42"}, nil)
	// two lines of one list are two people
	check([]string{"42", "0042"}, []string{"0042"}, nil)
	check([]string{"0042", "42"}, []string{"42", "42"}, nil)
	check([]string{"0"}, known, nil)
	check([]string{"a5"}, known, nil)
}

func TestAskID(t *testing.T) {
	known := []string{"0041286", "0041293"}
	for id, want := range map[string]string{"41286": `; did you mean "0041286"?`,
		"0041287": `; did you mean "0041286"?`, "77": ""} {
		if got := AskID(id, known); got != want {
			t.Errorf("%s: got %q, want %q", id, got, want)
		}
	}
}
