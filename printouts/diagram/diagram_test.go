package diagram

import (
	"encoding/json"
	"math"
	"os"
	"strconv"
	"testing"
	"unicode/utf8"

	"nospark/printouts/vector"
	"nospark/scenarios/handout"
)

// circuit is the invented test circuit: battery, starter, switch, coil, module, Hall sensor, controller, distributor,
// plugs.
func circuit(t *testing.T) handout.Diagram {
	t.Helper()
	b, err := os.ReadFile("../testdata/circuit.json")
	if err != nil {
		t.Fatal(err)
	}
	var d handout.Diagram
	if err := json.Unmarshal(b, &d); err != nil {
		t.Fatal(err)
	}
	return d
}

// lamp is a battery, a switch and a lamp.
func lamp() handout.Diagram {
	return handout.Diagram{
		Nodes: []handout.DiagramNode{
			{Number: 1, Label: "battery positive post", At: [2]float64{0, 0}},
			{Number: 2, Label: "switch, battery side", At: [2]float64{2, 0}, Side: "below"},
			{Number: 3, Label: "switch, lamp side", At: [2]float64{4, 0}},
			{Number: 4, Label: "lamp ground terminal", At: [2]float64{4, 2}},
			{Number: 5, Label: "battery negative post", At: [2]float64{0, 2}, Ground: true},
		},
		Parts: []handout.DiagramPart{
			{ID: "battery", Label: "battery", Kind: "battery", Pins: []int{0, 4}},
			{ID: "feed", Label: "feed", Kind: "wire", Pins: []int{0, 1}},
			{ID: "switch", Label: "switch", Kind: "switch", Pins: []int{1, 2}},
			{ID: "lamp", Label: "lamp", Kind: "resistor", Pins: []int{2, 3}, LabelAt: &[2]float64{3, 1}},
			{ID: "ground", Label: "ground", Kind: "wire", Pins: []int{3, 4}},
		},
	}
}

// wide is an upper estimate of text widths: 0.56 em a letter, 0.7 in bold.
func wide(s string, style vector.Style) float64 {
	em := 0.56
	if style.Bold {
		em = 0.7
	}
	return float64(utf8.RuneCountInString(s)) * style.Size * vector.PerPoint * em
}

// stayClear checks that no text of a scene leaves the frame or lies on another, that no label crosses a conductor, and
// that every part and every numbered point has its label or number.
func stayClear(t *testing.T, name string, d handout.Diagram, frame vector.Rect, w *drawing) {
	t.Helper()
	written := make(map[string]bool)
	for i, a := range w.texts {
		written[a.Text.Text] = true
		if !frame.Contains(a.Box) {
			t.Errorf("%s: %q leaves the frame: %v", name, a.Text.Text, a.Box)
		}
		for _, b := range w.texts[:i] {
			if a.Box.Overlaps(b.Box) {
				t.Errorf("%s: %q lies on %q", name, a.Text.Text, b.Text.Text)
			}
		}
		if a.kind != partLabel && a.kind != pointLabel {
			continue
		}
		for _, c := range w.wires {
			if a.Box.Crossed(c.from, c.to) {
				t.Errorf("%s: %q lies across the conductor %v", name, a.Text.Text, c)
			}
		}
	}
	allNamed(t, name, d, w, written)
}

// allNamed checks that every part and every numbered point has its label or number.
func allNamed(t *testing.T, name string, d handout.Diagram, w *drawing, written map[string]bool) {
	t.Helper()
	for _, n := range d.Nodes {
		if n.Number > 0 && !written[strconv.Itoa(n.Number)] {
			t.Errorf("%s: point %d has no number", name, n.Number)
		}
	}
	for _, text := range w.left {
		for _, p := range d.Parts {
			if p.Label == text && p.Kind != "wire" && p.Kind != "lead" {
				t.Errorf("%s: no room for the name of %q", name, text)
			}
		}
	}
}

func TestLabelsStayClear(t *testing.T) {
	check := func(name string, d handout.Diagram, frame vector.Rect) {
		t.Helper()
		w := arrange(d, frame, wide)
		stayClear(t, name, d, frame, w)
		for _, text := range w.left {
			t.Errorf("%s: no room for %q", name, text)
		}
	}
	check("letter, landscape", circuit(t), vector.Box(12, 22, 255, 180))
	check("a4, landscape", circuit(t), vector.Box(12, 22, 273, 174))
	check("lamp", lamp(), vector.Box(12, 22, 255, 180))
	check("lamp, upright", lamp(), vector.Box(12, 22, 190, 200))
}

func TestLabelHints(t *testing.T) {
	s := Layout(lamp(), vector.Box(0, 0, 200, 150), wide)
	find := func(text string) vector.Text {
		t.Helper()
		for _, x := range s.Texts {
			if x.Text == text {
				return x
			}
		}
		t.Fatalf("no text %q", text)
		return vector.Text{}
	}
	if label, point := find("switch, battery side"), find("2"); label.Box.Y < point.Box.Y+point.Box.H {
		t.Errorf("asked below point 2, placed at %v, point at %v", label.Box, point.Box)
	}
	label, top, bottom := find("lamp"), find("3"), find("4")
	if y := label.Box.Center().Y; math.Abs(y-(top.Box.Center().Y+bottom.Box.Center().Y)/2) > 3 {
		t.Errorf("asked level with the lamp, placed at %v", label.Box)
	}
	if label.Box.X > top.Box.X {
		t.Errorf("asked left of the lamp, placed at %v", label.Box)
	}
}

func TestLayoutRepeats(t *testing.T) {
	a, _ := json.Marshal(Layout(circuit(t), vector.Box(0, 0, 255, 180), wide))
	b, _ := json.Marshal(Layout(circuit(t), vector.Box(0, 0, 255, 180), wide))
	if string(a) != string(b) {
		t.Error("two layouts of the same circuit differ")
	}
}

func TestJunctionDots(t *testing.T) {
	star := func(number, wires int) handout.Diagram {
		d := handout.Diagram{Nodes: []handout.DiagramNode{{Number: number, At: [2]float64{5, 5}}}}
		for i, at := range [][2]float64{{0, 5}, {10, 5}, {5, 0}, {5, 10}}[:wires] {
			d.Nodes = append(d.Nodes, handout.DiagramNode{At: at})
			d.Parts = append(d.Parts, handout.DiagramPart{Kind: "wire", Pins: []int{0, i + 1}})
		}
		return d
	}
	check := func(name string, d handout.Diagram, want int) {
		t.Helper()
		dots := 0
		for _, shape := range Layout(d, vector.Box(0, 0, 200, 200), wide).Shapes {
			if shape.Pen == vector.Fill(vector.Black) {
				dots++
			}
		}
		if dots != want {
			t.Errorf("%s: %d dots, want %d", name, dots, want)
		}
	}
	check("two wires", star(0, 2), 0)
	check("three wires", star(0, 3), 1)
	check("four wires", star(0, 4), 1)
	check("three wires at a numbered point", star(1, 3), 0)
	crossing := handout.Diagram{
		Nodes: []handout.DiagramNode{{At: [2]float64{0, 5}}, {At: [2]float64{10, 5}}, {At: [2]float64{5, 0}},
			{At: [2]float64{5, 10}}},
		Parts: []handout.DiagramPart{{Kind: "wire", Pins: []int{0, 1}}, {Kind: "wire", Pins: []int{2, 3}}},
	}
	check("two wires that cross", crossing, 0)
}

func TestTraceStaysOnTheScreen(t *testing.T) {
	p := handout.Plot{Title: "primary", XLabel: "time, ms", YLabel: "voltage, V", XTo: 10, YFrom: -50, YTo: 350,
		XPerDivision: 1, YPerDivision: 50}
	for i := range 500 {
		x := float64(i) / 40
		p.X, p.Y = append(p.X, x), append(p.Y, 500*math.Exp(-x)*math.Cos(5*x))
	}
	p.Y[100] = math.NaN()
	frame := vector.Box(10, 10, 90, 60)
	s := Trace(p, frame, wide)
	curves := 0
	for _, shape := range s.Shapes {
		for _, step := range shape.Path {
			v := step.To
			if step.Kind == vector.Close {
				continue
			}
			if !(v.X >= frame.X-1e-6 && v.X <= frame.X+frame.W+1e-6 && v.Y >= frame.Y && v.Y <= frame.Y+frame.H) {
				t.Fatalf("place %v outside %v", v, frame)
			}
		}
		if shape.Pen.Width == 0.5 {
			curves++
		}
	}
	if curves < 3 {
		t.Errorf("%d pieces of the curve, want at least 3: it leaves the screen and has a gap", curves)
	}
	want := []string{"primary", "voltage, V: 50 per division", "time, ms: 1 per division"}
	for i, x := range s.Texts {
		if x.Text != want[i] {
			t.Errorf("text %d is %q, want %q", i, x.Text, want[i])
		}
	}
}
