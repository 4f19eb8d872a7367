package printouts

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"nospark/printouts/content"
	"nospark/printouts/handouts"
	"nospark/printouts/paper/worksheets"
	"nospark/scenarios/handout"
	"nospark/scenarios/testrun"
)

// boxed is a word with the box around it, in points from the top left corner of its page.
type boxed struct {
	left, top, right, bottom float64
	text                     string
}

// boxesOf gives the words of each page of a PDF as poppler finds them.
func boxesOf(t *testing.T, pdf []byte) (pages [][]boxed) {
	t.Helper()
	item := regexp.MustCompile(`<page |<word xMin="(.*?)" yMin="(.*?)" xMax="(.*?)" yMax="(.*?)">(.*?)</word>`)
	for _, m := range item.FindAllStringSubmatch(tool(t, "pdftotext", "-bbox", saved(t, pdf), "-"), -1) {
		if m[5] == "" {
			pages = append(pages, nil)
			continue
		}
		var at [4]float64
		for i := range at {
			at[i], _ = strconv.ParseFloat(m[i+1], 64)
		}
		last := &pages[len(pages)-1]
		*last = append(*last, boxed{at[0], at[1], at[2], at[3], m[5]})
	}
	return pages
}

// upon reports whether one word is printed over another. The boxes of close lines touch, for they reach from the
// highest to the lowest letter of the typeface: what counts is the middle half of their height.
func (a boxed) upon(b boxed) bool {
	inner := func(w boxed) (top, bottom float64) { h := (w.bottom - w.top) / 4; return w.top + h, w.bottom - h }
	aTop, aBottom := inner(a)
	bTop, bBottom := inner(b)
	const touch = 0.1 // pt
	return a.left+touch < b.right && b.left+touch < a.right && aTop < bBottom && bTop < aBottom
}

// splitFoot takes the foot of a page, "Sheet B9-DHV page 1 of 5", from what stands above: it is the lowest line.
func splitFoot(words []boxed) (body, foot []boxed) {
	low := 0.0
	for _, w := range words {
		low = max(low, w.bottom)
	}
	for _, w := range words {
		if w.bottom > low-1 {
			foot = append(foot, w)
		} else {
			body = append(body, w)
		}
	}
	return body, foot
}

// textOf joins words by a separator.
func textOf(words []boxed, separator string) string {
	var list []string
	for _, w := range words {
		list = append(list, w.text)
	}
	return strings.Join(list, separator)
}

// TestLargePrintHoldsLongWorkOrders: where instruments are few, the list of what cannot be checked is longest. Nothing
// of the sheet runs into its foot or over another text, no caution is lost, and the pages are no more than eight.
func TestLargePrintHoldsLongWorkOrders(t *testing.T) {
	labs := []struct{ name, plan string }{
		{"coil-per-plug", `complaint = "rough"` + "\nscope = true\n" +
			`instruments = ["voltmeter", "test-lamp", "spark-tester"]` + "\n"},
		{"single-coil", `instruments = ["voltmeter", "test-lamp", "spark-tester"]` + "\n"},
		{"single-coil", `instruments = ["voltmeter"]` + "\n"},
	}
	for _, of := range labs[:testrun.Times(t, 3, 1)] {
		h := must2(t, classLab(t, of.name, 2, of.plan))
		if len(h.NotToday) == 0 {
			t.Fatalf("%s: everything can be checked with\n%s", of.name, of.plan)
		}
		h.Worksheets = h.Worksheets[:1]
		h.Worksheets[0].Large = true
		for _, paper := range []string{"letter", "a4"} {
			checkLarge(t, of.name+" on "+paper, onPaper(h, paper))
		}
		// longer than any list of a pack that comes with the program: the work order takes pages of its own
		h.NotToday = nil
		for i := range 150 {
			h.NotToday = append(h.NotToday, handout.Waived{What: "end", Label: fmt.Sprintf("wire %d", 10+i),
				Point: 200 + i})
		}
		for _, paper := range []string{"letter", "a4"} {
			checkLong(t, of.name+" on "+paper+", long list", onPaper(h, paper))
		}
	}
}

// checkLarge asks a large worksheet of a lab for eight pages at most, beside what [checkLong] asks.
func checkLarge(t *testing.T, name string, h handout.Handout) {
	t.Helper()
	if n := checkLong(t, name, h); n > 8 {
		t.Errorf("%s: %d pages, want at most 8", name, n)
	}
}

// checkLong looks for words that run into others or into the foot of a page, and for the whole cautions and the whole
// list of what cannot be checked.
func checkLong(t *testing.T, name string, h handout.Handout) int {
	t.Helper()
	width := map[string]float64{"letter": 612, "a4": 595.3}[h.Paper] // pt
	bare := func(text string) string { return strings.ReplaceAll(content.Plain(text), " ", "") }
	pages := boxesOf(t, must(t)(worksheets.PDF(h)))
	all, whole := "", 0
	for i, words := range pages {
		body, foot := splitFoot(words)
		want := fmt.Sprintf("Sheet %s page %d of %d", h.Worksheets[0].Code, i+1, len(pages))
		if got := textOf(foot, " "); got != want {
			t.Errorf("%s, page %d: the foot reads %q, want %q", name, i+1, got, want)
		}
		for k, w := range body {
			if w.left < 0 || w.right > width || w.bottom > foot[0].top {
				t.Errorf("%s, page %d: %q reaches to %.0f, %.0f; the foot begins at %.0f", name, i+1, w.text, w.right,
					w.bottom, foot[0].top)
			}
			for _, other := range body[:k] {
				if w.upon(other) {
					t.Errorf("%s, page %d: %q stands upon %q", name, i+1, w.text, other.text)
				}
			}
		}
		text := textOf(body, "")
		whole += strings.Count(text, bare(content.Cautions{Lacks: h.Lacks}.Short()))
		all += text
	}
	if whole != 1 {
		t.Errorf("%s: the cautions stand whole on %d pages, want 1", name, whole)
	}
	if list := bare(handouts.NotToday(h)); !strings.Contains(all, list) {
		t.Errorf("%s: %q is not whole", name, list)
	}
	return len(pages)
}

// TestPointsWithoutTests: a sheet says of a point that there is no test at it when no lead ever touches it, and of a
// waived check that there are lines at its point when the grid has one.
func TestPointsWithoutTests(t *testing.T) {
	h := must2(t, classLab(t, "coil-per-plug", 2, `complaint = "rough"`+"\nscope = true\n"+
		`instruments = ["voltmeter", "test-lamp", "spark-tester"]`+"\n"))
	// read in the pack and on a sheet by eye: 2 is the reference, 14-17 and 26-29 are the ends of the command wires,
	// where none of these instruments has a test; spark testers and the oscilloscope are at the outlets, 36-39
	if want := []int{2, 14, 15, 16, 17, 26, 27, 28, 29}; !slices.Equal(h.Untested, want) {
		t.Errorf("no test at %v, want %v", h.Untested, want)
	}
	grid := map[int]bool{}
	for i, row := range h.Worksheets[0].Grid {
		number := h.Reference.Points[i].Number
		grid[number] = slices.ContainsFunc(row, func(c handout.Cell) bool { return c.Line != 0 })
		if grid[number] && slices.Contains(h.Untested, number) {
			t.Errorf("there are lines at %d, which has no test", number)
		}
	}
	read := 0
	for _, w := range h.NotToday {
		if w.Point > 0 && w.Read != grid[w.Point] {
			t.Errorf("%s of %s: lines at %d: %v", w.What, w.Label, w.Point, w.Read)
		}
		if w.Read {
			read++
		}
	}
	if read == 0 || read == len(h.NotToday) {
		t.Errorf("%d of %d checks have lines at their points", read, len(h.NotToday))
	}
}
