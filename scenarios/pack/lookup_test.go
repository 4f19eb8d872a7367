package pack_test

import (
	"testing"

	"nospark/scenarios/pack"
)

func TestLookup(t *testing.T) {
	p, err := pack.Load("lamp")
	if err != nil {
		t.Fatal(err)
	}
	check := func(find func(string) (int, error), id string, want int, message string) {
		t.Helper()
		i, err := find(id)
		if i != want || err == nil && message != "" || err != nil && err.Error() != message {
			t.Errorf("%q: %d, %v; want %d, %q", id, i, err, want, message)
		}
	}
	check(p.Fault, "lamp-open", 2, "")
	check(p.Fault, "lamp-opne", -1, `there is no fault "lamp-opne" in the pack; did you mean "lamp-open"?`)
	check(p.Condition, "on", 1, "")
	check(p.Condition, "cranking", -1, `there is no condition "cranking" in the pack; known: off, on`)
	check(p.Test, "lamp-feed", 1, "")
	check(p.Test, "Lamp-Fed", -1, `there is no test "Lamp-Fed" in the pack; did you mean "lamp-feed"?`)
}
