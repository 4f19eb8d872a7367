package instructor

import (
	"slices"
	"testing"

	"nospark/scenarios/handout"
)

func TestPairs(t *testing.T) {
	sheets := []handout.Worksheet{{Code: "a", Holder: "b"}, {Code: "b", Holder: "c"}, {Code: "c", Holder: "a"},
		{Code: "d"}}
	if got, want := pairs(sheets), []pair{{1, 0}, {2, 1}, {0, 2}, {-1, 3}}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}
