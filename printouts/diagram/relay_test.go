package diagram

import (
	"testing"

	"nospark/printouts/vector"
	"nospark/scenarios/handout"
)

// placedRelay is a relay whose winding and contact stand upright beside each other, in a frame of the given width.
func placedRelay(wide float64) handout.Diagram {
	at := func(x, y float64) [2]float64 { return [2]float64{x, y} }
	return handout.Diagram{
		Nodes: []handout.DiagramNode{
			{Number: 1, Label: "86", At: at(1, 0)}, {Number: 2, Label: "85", At: at(1, 3)},
			{Number: 3, Label: "30", At: at(wide-1, 0)}, {Number: 4, Label: "87", At: at(wide-1, 3)},
		},
		Parts: []handout.DiagramPart{{ID: "relay", Label: "relay", Kind: "relay", Pins: []int{0, 1, 2, 3},
			PinNames: []string{"coil_a", "coil_b", "common", "contact"}, Box: &[4]float64{0, 0, wide, 3}}},
	}
}

// A relay shows the terminal numbers of DIN 72552 and, where its frame has room, a winding (a box on the line, IEC
// 60617), a blade on two terminals and the dashed link; without room it is a box with the same numbers.
func TestRelay(t *testing.T) {
	for squares, signs := range map[float64]bool{4.2: true, 2.05: false} {
		w := arrange(placedRelay(squares), vector.Box(0, 0, 120, 90), wide)
		numbers := map[string]bool{}
		for _, x := range w.texts {
			numbers[x.Text.Text] = numbers[x.Text.Text] || x.kind == terminalName
		}
		for _, want := range relayTerminals {
			if !numbers[want] {
				t.Errorf("%g wide: terminal %s has no number", squares, want)
			}
		}
		dashed := 0
		for _, s := range w.shapes {
			if s.Pen.Dash == vector.Dashed {
				dashed++
			}
		}
		if (dashed == 1) != signs {
			t.Errorf("%g wide: %d dashed lines, signs %v", squares, dashed, signs)
		}
	}
}
