package diagram

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"nospark/printouts/diagram/placement"
	"nospark/printouts/diagram/svg"
	"nospark/printouts/vector"
	"nospark/scenarios/handout"
	"nospark/scenarios/pack/packtest"
)

// TestSmallDiagramsFindTheirPlaces: without any places from its author, a small circuit has room for every name.
func TestSmallDiagramsFindTheirPlaces(t *testing.T) {
	for name, d := range map[string]handout.Diagram{"horn": horn(), "lamp": withoutPlaces(lamp())} {
		w := arrange(placement.Find(d, boxed), screen, svg.Width)
		stayClear(t, name, d, screen, w)
		for _, text := range w.left {
			t.Errorf("%s: no room for %q", name, text)
		}
		s := Layout(d, screen, svg.Width)
		image := svg.Render(s, name)
		keep(t, name+"-free.svg", image)
		checkImage(t, name, image)
	}
}

// TestFoundPlaces takes the places from every built-in pack and looks at those that are found instead.
func TestFoundPlaces(t *testing.T) {
	diagrams := map[string]handout.Diagram{"horn": horn(), "test circuit": withoutPlaces(circuit(t))}
	for _, name := range packtest.Packs(t) {
		diagrams[name] = withoutPlaces(diagramOf(t, name))
	}
	for name, d := range diagrams {
		found := placement.Find(d, boxed)
		sameCircuit(t, name, d, found)
		clearLines(t, name, d, found)
		battery := slices.IndexFunc(d.Parts, func(p handout.DiagramPart) bool { return p.Kind == "battery" })
		top := d.Parts[battery].Pins[0]
		bottom := slices.IndexFunc(d.Nodes, func(n handout.DiagramNode) bool { return n.Ground })
		for i, n := range d.Nodes {
			// the feed comes from above, and nothing stands below the reference
			if y := found.Nodes[i].At[1]; y < found.Nodes[top].At[1] || y > found.Nodes[bottom].At[1] {
				t.Errorf("%s: %q stands at %g, above or below the battery's posts", name, n.Label, y)
			}
		}
		if again := placement.Find(d, boxed); written(t, again) != written(t, found) {
			t.Errorf("%s: two searches differ", name)
		}
	}
}

// TestPlacesOfRandomCircuits: whatever is joined with whatever, places are found that keep what is joined apart from
// what is not.
func TestPlacesOfRandomCircuits(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for trial := range 1000 {
		n := 2 + random.IntN(12)
		d := handout.Diagram{Unplaced: true, Nodes: make([]handout.DiagramNode, n)}
		for i := range d.Nodes {
			d.Nodes[i] = handout.DiagramNode{Number: i + 1, Label: fmt.Sprint("node ", i), Ground: i == 1}
		}
		d.Parts = append(d.Parts, handout.DiagramPart{ID: "battery", Kind: "battery", Pins: []int{0, 1}})
		for i := range random.IntN(16) {
			p := handout.DiagramPart{ID: fmt.Sprint(i),
				Kind: []string{"wire", "resistor", "lead", "module"}[random.IntN(4)]}
			pins := 2
			if p.Kind == "module" {
				pins = 1 + random.IntN(5)
			}
			for range pins {
				p.Pins = append(p.Pins, random.IntN(n))
			}
			d.Parts = append(d.Parts, p)
		}
		found := placement.Find(d, boxed)
		sameCircuit(t, fmt.Sprint("trial ", trial), d, found)
		clearLines(t, fmt.Sprint("trial ", trial), d, found)
		if t.Failed() {
			t.Fatalf("%+v", d)
		}
	}
}

// sameCircuit follows the lines that were added: they join what was one node before, and nothing else.
func sameCircuit(t *testing.T, name string, d, found handout.Diagram) {
	t.Helper()
	net := make([]int, len(found.Nodes))
	for i := range net {
		net[i] = i
	}
	for _, p := range found.Parts[len(d.Parts):] {
		from, to := net[p.Pins[0]], net[p.Pins[1]]
		for i := range net {
			if net[i] == from {
				net[i] = to
			}
		}
	}
	for i, p := range d.Parts {
		for k, node := range p.Pins {
			if net[found.Parts[i].Pins[k]] != net[node] {
				t.Errorf("%s: pin %d of %q is not joined to %q any more", name, k, p.ID, d.Nodes[node].Label)
			}
		}
	}
	for i := range d.Nodes {
		if k := slices.Index(net[:i], net[i]); k >= 0 {
			t.Errorf("%s: %q is joined to %q", name, d.Nodes[i].Label, d.Nodes[k].Label)
		}
	}
}

// clearLines checks that two-pin parts are level or upright, that no two nodes share a place, and that no line runs
// through a point at which it does not end.
func clearLines(t *testing.T, name string, d, found handout.Diagram) {
	t.Helper()
	at := func(node int) vector.Point { return vector.At(found.Nodes[node].At[0], found.Nodes[node].At[1]) }
	for i := range d.Nodes {
		for k := range i {
			if at(i).Near(at(k)) {
				t.Errorf("%s: %q and %q share a place", name, d.Nodes[i].Label, d.Nodes[k].Label)
			}
		}
	}
	for _, p := range found.Parts {
		if p.Box != nil {
			continue
		}
		a, b := at(p.Pins[0]), at(p.Pins[1])
		if a.X != b.X && a.Y != b.Y {
			t.Errorf("%s: %s %q is slanted", name, p.Kind, p.ID)
		}
		line := vector.Around(a, b)
		for i := range d.Nodes {
			if c := at(i); !c.Near(a) && !c.Near(b) && line.Nearest(c).Near(c) {
				t.Errorf("%s: %s %q runs through %q", name, p.Kind, p.ID, d.Nodes[i].Label)
			}
		}
	}
}

func written(t *testing.T, d handout.Diagram) string {
	t.Helper()
	b, err := json.Marshal(d)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func withoutPlaces(d handout.Diagram) handout.Diagram {
	d.Unplaced = true
	d.Nodes, d.Parts = slices.Clone(d.Nodes), slices.Clone(d.Parts)
	for i := range d.Nodes {
		d.Nodes[i].At, d.Nodes[i].Side = [2]float64{}, ""
	}
	for i := range d.Parts {
		d.Parts[i].Via, d.Parts[i].Box, d.Parts[i].LabelAt = nil, nil, nil
	}
	return d
}

// horn is the circuit of a horn without places: the button grounds the relay's winding.
func horn() handout.Diagram {
	return handout.Diagram{
		Unplaced: true,
		Nodes: []handout.DiagramNode{
			{Number: 1, Label: "battery positive post"},
			{Number: 2, Label: "battery negative post", Ground: true},
			{Number: 3, Label: "horn fuse, battery side"},
			{Number: 4, Label: "horn fuse, relay side"},
			{Number: 5, Label: "relay contact, feed"},
			{Number: 6, Label: "relay contact, horn side"},
			{Number: 7, Label: "relay winding, feed"},
			{Number: 8, Label: "relay winding, button side"},
			{Number: 9, Label: "button, relay side"},
			{Number: 10, Label: "button, ground side"},
			{Number: 11, Label: "horn feed"},
			{Number: 12, Label: "horn ground"},
			{ID: "splice"},
		},
		Parts: []handout.DiagramPart{
			{ID: "battery", Label: "battery", Kind: "battery", Pins: []int{0, 1}},
			{ID: "wire-1", Kind: "wire", Pins: []int{0, 2}},
			{ID: "fuse", Label: "horn fuse 15 A", Kind: "fuse", Pins: []int{2, 3}},
			{ID: "wire-2", Kind: "wire", Pins: []int{3, 12}},
			{ID: "wire-3", Kind: "wire", Pins: []int{12, 4}},
			{ID: "wire-4", Kind: "wire", Pins: []int{12, 6}},
			{ID: "relay", Label: "horn relay", Kind: "relay", Pins: []int{6, 7, 4, 5},
				PinNames: []string{"coil_a", "coil_b", "common", "contact"}},
			{ID: "wire-5", Kind: "wire", Pins: []int{7, 8}},
			{ID: "button", Label: "horn button", Kind: "switch", Pins: []int{8, 9}},
			{ID: "wire-6", Kind: "wire", Pins: []int{9, 1}},
			{ID: "wire-7", Kind: "wire", Pins: []int{5, 10}},
			{ID: "horn", Label: "horn", Kind: "resistor", Pins: []int{10, 11}},
			{ID: "wire-8", Kind: "wire", Pins: []int{11, 1}},
		},
	}
}
