package content

import (
	"slices"
	"testing"

	"nospark/scenarios/handout"
)

// The words of a circuit name pins as somebody says them, not as a drawing or a file writes them.
func TestCircuitWords(t *testing.T) {
	d := handout.Diagram{
		Nodes: []handout.DiagramNode{{ID: "batt", Number: 1, Label: "battery positive post"}, {ID: "gnd", Ground: true},
			{ID: "cmd", Number: 2}},
		Parts: []handout.DiagramPart{
			{Label: "battery", Pins: []int{0, 1}, PinNames: []string{"+", "-"}},
			{Label: "driver", Pins: []int{0, 2, 1}, PinNames: []string{"feed", "command_1", "ground"}},
			{Label: "main wire", Pins: []int{0, 2}, PinNames: []string{"a", "b"}},
		},
	}
	want := []string{
		"battery: positive terminal at point 1 (battery positive post), negative terminal at ground",
		"driver: feed at point 1 (battery positive post), command 1 at point 2, ground at ground",
		"main wire: between point 1 (battery positive post) and point 2",
	}
	if got := CircuitWords(d); !slices.Equal(got, want) {
		t.Errorf("the circuit in words:\n%q\nwant\n%q", got, want)
	}
}
