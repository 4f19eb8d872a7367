package diagram

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"nospark/printouts/diagram/svg"
	"nospark/printouts/vector"
	"nospark/scenarios/handout"
	"nospark/scenarios/pack/packtest"
)

// screen is the frame of the diagrams on a page for a browser: about as wide as a page of text.
var screen = vector.Box(0, 0, 240, 160)

// TestDiagramsOnScreen lays out every built-in pack for a browser and reads the image as a browser does: it is one XML
// document, every text stands inside the view box, no two texts overlap, and nothing in it refers to anything outside.
func TestDiagramsOnScreen(t *testing.T) {
	for _, name := range packtest.Packs(t) {
		d := diagramOf(t, name)
		w := arrange(d, screen, svg.Width)
		stayClear(t, name, d, screen, w)
		s := inWords(w.scene(), d)
		image := svg.Render(s, "circuit")
		keep(t, name+".svg", image)
		checkImage(t, name, image)
	}
}

// TestTraceOnScreen does the same with the picture of an oscilloscope.
func TestTraceOnScreen(t *testing.T) {
	p := handout.Plot{
		Title: "primary voltage <of coil 1>", XLabel: "time, ms", YLabel: "volts",
		XTo: 10, YFrom: -50, YTo: 350, XPerDivision: 1, YPerDivision: 50,
	}
	for i := range 400 {
		x := float64(i) / 40
		p.X, p.Y = append(p.X, x), append(p.Y, 300*math.Exp(-x)*math.Cos(5*x))
	}
	s := Trace(p, vector.Box(0, 0, 90, 60), svg.Width)
	image := svg.Render(s, "trace")
	keep(t, "trace.svg", image)
	checkImage(t, "trace", image)
	// cos has its maximum, 300, at the start; its first minimum, -163, lies below the screen
	if want := "between less than -50 volts and 300 volts"; !strings.Contains(s.Description, want) {
		t.Errorf("description %q, want %q in it", s.Description, want)
	}
}

// keep writes an image into the folder that NOSPARK_IMAGES names, to be looked at.
func keep(t *testing.T, name, image string) {
	t.Helper()
	if folder := os.Getenv("NOSPARK_IMAGES"); folder != "" {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(image), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// image is what a browser finds in an SVG file.
type image struct {
	root   map[string]string
	words  []string // title and description
	texts  []string
	places []map[string]string // attributes of the texts
}

// readImage reads an image by the words of SVG alone.
func readImage(t *testing.T, name, file string) (i image) {
	t.Helper()
	inside := ""
	decoder := xml.NewDecoder(strings.NewReader(file))
	for {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			return i
		}
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			switch inside = token.Name.Local; inside {
			case "svg":
				i.root = attributes(token)
			case "text":
				i.places = append(i.places, attributes(token))
			}
		case xml.CharData:
			switch inside {
			case "text":
				i.texts = append(i.texts, string(token))
			case "title", "desc":
				i.words = append(i.words, string(token))
			}
		case xml.EndElement:
			inside = ""
		}
	}
}

// checkImage checks that an image is whole in itself, that its texts stand inside and that none overlaps another.
func checkImage(t *testing.T, name, file string) {
	t.Helper()
	if bad := regexp.MustCompile(`<script|href|url\(|style=|#[0-9A-Fa-f]{3}`).FindString(file); bad != "" {
		t.Errorf("%s: the image has %q: a script, a link, a style or a fixed color", name, bad)
	}
	i := readImage(t, name, file)
	if i.root["role"] != "img" || i.root["aria-labelledby"] == "" {
		t.Errorf("%s: role %q, labeled by %q", name, i.root["role"], i.root["aria-labelledby"])
	}
	if len(i.words) != 2 || len(i.texts) == 0 || len(i.texts) != len(i.places) {
		t.Fatalf("%s: title and description %q, %d texts in %d places", name, i.words, len(i.texts), len(i.places))
	}
	var v [4]float64
	for k, f := range strings.Fields(i.root["viewBox"]) {
		v[k], _ = strconv.ParseFloat(f, 64)
	}
	frame, boxes := vector.Box(v[0], v[1], v[2], v[3]), []vector.Rect{}
	for k, place := range i.places {
		a := boxOfText(t, place)
		if !frame.Grown(0.01).Contains(a) {
			t.Errorf("%s: %q leaves the view box: %v", name, i.texts[k], a)
		}
		for m, b := range boxes {
			if a.Overlaps(b) {
				t.Errorf("%s: %q overlaps %q", name, i.texts[k], i.texts[m])
			}
		}
		boxes = append(boxes, a)
	}
}

func attributes(e xml.StartElement) map[string]string {
	a := map[string]string{}
	for _, x := range e.Attr {
		a[x.Name.Local] = x.Value
	}
	return a
}

// boxOfText is the room of a text: its width along the baseline, and the height of a capital letter above it.
func boxOfText(t *testing.T, a map[string]string) vector.Rect {
	t.Helper()
	value := func(name string) float64 {
		v, err := strconv.ParseFloat(a[name], 64)
		if err != nil {
			t.Errorf("attribute %s of a text: %v", name, err)
		}
		return v
	}
	x, y, wide, high := value("x"), value("y"), value("textLength"), value("font-size")*vector.CapHeight
	if strings.HasPrefix(a["transform"], "rotate(-90 ") { // upwards
		return vector.Box(x-high, y-wide, high, wide)
	}
	return vector.Box(x, y-high, wide, high)
}
