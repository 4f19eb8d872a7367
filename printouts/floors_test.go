package printouts

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"nospark/printouts/handouts"
	"nospark/printouts/paper"
	"nospark/printouts/paper/debriefs"
	"nospark/printouts/paper/readings"
	"nospark/printouts/paper/worksheets"
	"nospark/printouts/wording"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack/packtest"
	"nospark/scenarios/testrun"
)

// sized is a word of a page with the size in which poppler finds it.
type sized struct {
	page   int
	points float64
	text   string
}

// runsOf reads the sizes of all texts of a PDF, as poppler tells them.
func runsOf(t *testing.T, pdf []byte) (all []sized) {
	t.Helper()
	xml := tool(t, "pdftohtml", "-xml", "-i", "-stdout", "-fontfullname", "-zoom", "1", saved(t, pdf))
	sizes := map[string]float64{}
	page := 0
	line := regexp.MustCompile(`<page number="(\d+)"|<fontspec id="(\d+)" size="([\d.]+)"|<text [^>]*font="(\d+)">(.*?)</text>`)
	for _, m := range line.FindAllStringSubmatch(xml, -1) {
		switch {
		case m[1] != "":
			page = atoi(m[1])
		case m[2] != "":
			sizes[m[2]], _ = strconv.ParseFloat(m[3], 64)
		default:
			all = append(all, sized{page, sizes[m[4]], regexp.MustCompile(`<[^>]*>`).ReplaceAllString(m[5], "")})
		}
	}
	if len(all) == 0 {
		t.Fatalf("no text in\n%.300s", xml)
	}
	return all
}

// TestSizesOfType: no text of any document is smaller than 8 pt; running text of booklets and worksheets has 10 pt at
// least and what stands beside lines to write on 12 pt. Texts in large print have 18 pt, but for the names in a drawing.
func TestSizesOfType(t *testing.T) {
	cautions := map[string]string{"single-coil": "Secondary voltage", "lamp": "A short circuit burns"}
	for _, name := range []string{"single-coil", "lamp"}[:testrun.Times(t, 2, 1)] {
		caution := cautions[name]
		picture, plan := map[string]float64{}, ""
		if name == "single-coil" {
			picture, plan = map[string]float64{"per division": 18}, "scope = true\n"
		}
		h := must2(t, classLab(t, name, 2, plan))
		check := func(kind string, pdf []byte, least float64, phrases map[string]float64) {
			t.Helper()
			found := map[string]bool{}
			for _, r := range runsOf(t, pdf) {
				if r.points < least {
					t.Errorf("%s, %s, page %d: %q has %g pt", name, kind, r.page, r.text, r.points)
				}
				for phrase, size := range phrases {
					if strings.Contains(r.text, phrase) {
						found[phrase] = true
						if r.points < size {
							t.Errorf("%s, %s, page %d: %q has %g pt, want %g", name, kind, r.page, r.text, r.points, size)
						}
					}
				}
			}
			for phrase := range phrases {
				if !found[phrase] {
					t.Errorf("%s, %s: %q is not on it", name, kind, phrase)
				}
			}
		}
		sheet := map[string]float64{caution: 10, "A repair is proven": 10, "Write the first four": 12,
			"its code in the booklet": 12, "total minutes": 12, "on a sheet of your own": 12}
		if name != "lamp" { // which has no tests at numbered points
			sheet["Ask for the line"] = 10
		}
		check("worksheet", must(t)(worksheets.PDF(h)), 8, sheet)
		check("readings", must(t)(readings.PDF(h)), 8, map[string]float64{"Wait until the test": 10})
		check("booklet", must(t)(booklet(h)), 8, map[string]float64{caution: 10, "is good": 10,
			"Conclude with a code": 10, "Letters are never": 10, "An unproven repair": 10})
		large := h
		large.Worksheets, large.Readings = slices.Clone(h.Worksheets), slices.Clone(h.Readings)
		for i := range large.Worksheets {
			large.Worksheets[i].Large, large.Readings[i].Large = true, true
		}
		check("large worksheet", must(t)(worksheets.PDF(large)), 18, nil)
		check("large readings", must(t)(readings.PDF(large)), 18, picture)
		text := handouts.LargeBooklet(h)
		check("large booklet", must(t)(paper.PDF(text)), 8, map[string]float64{caution: 18, "is good": 18,
			"Conclude with a code": 18})
	}
	lab, result := lampClass(t)
	for _, r := range runsOf(t, must(t)(debriefs.PDF(lab, result))) {
		if r.points < 8 {
			t.Errorf("debriefs, page %d: %q has %g pt", r.page, r.text, r.points)
		}
	}
}

func must2(t *testing.T, l *lab.Lab) handout.Handout {
	t.Helper()
	h, err := handout.Of(l)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// TestLargePrintIsShort: with all tests of a pack a worksheet in large print has eight pages at most, on both papers,
// with every line on it; what a lab forbids takes no room.
func TestLargePrintIsShort(t *testing.T) {
	for _, name := range packtest.Packs(t) {
		h := built(t, name, 2)
		h.Worksheets = h.Worksheets[:1]
		h.Worksheets[0].Large = true
		for _, paper := range []string{"letter", "a4"} {
			h.Paper = paper
			pages := pagesOf(t, must(t)(worksheets.PDF(h)))
			t.Logf("%s on %s: %d pages", name, paper, len(pages))
			if len(pages) > 8 {
				t.Errorf("%s on %s: %d pages in large print, want at most 8", name, paper, len(pages))
			}
			words := strings.Fields(strings.Join(pages, " "))
			for _, l := range h.Readings[0].Lines {
				if !slices.Contains(words, wording.Line(l.Number)) {
					t.Errorf("%s on %s: line %s is missing", name, paper, wording.Line(l.Number))
				}
			}
			for i, page := range pages[1:] {
				if strings.Contains(page, h.Worksheets[0].Name) {
					t.Errorf("%s on %s: page %d names the student", name, paper, i+2)
				}
			}
		}
	}
	h := built(t, "lamp", 2)
	h.Worksheets = h.Worksheets[:1]
	h.Worksheets[0].Large = true
	h.Forbidden = []string{"ohmmeter"}
	text := fmt.Sprint(pagesOf(t, must(t)(worksheets.PDF(h))))
	shown := 0
	for _, table := range h.Worksheets[0].Tables {
		for _, r := range table.Rows {
			if there := strings.Contains(text, wording.Line(r.Line)); there == (r.Meter == "ohmmeter") {
				t.Errorf("%s with %s, line %s: on the sheet %v", r.Label, r.Meter, wording.Line(r.Line), there)
			}
			shown++
		}
	}
	if shown == 0 {
		t.Error("the lamp has no tests beside the grid")
	}
}
