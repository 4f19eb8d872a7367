package page

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"nospark/printouts/page/canvas"
	"nospark/printouts/page/typeset"
	"nospark/printouts/vector"
)

// pagesOf gives the texts of each page joined by bars.
func pagesOf(f *Flow) []string {
	seen := texts(f)
	out := make([]string, len(f.pages))
	for _, m := range seen {
		out[m.page] += m.Text + "|"
	}
	return out
}

// fillTo leaves the given height on the page.
func fillTo(f *Flow, height float64) {
	f.Draw(f.Room()-height, func(Canvas) {})
}

func TestPageBreaks(t *testing.T) {
	line := newSection(t, Options{}, Frame{}).lineHeight()
	check := func(name string, room float64, build func(f *Flow), want ...string) {
		t.Helper()
		f := newSection(t, Options{}, Frame{})
		fillTo(f, room)
		build(f)
		if got := pagesOf(f); !slices.Equal(got, want) {
			t.Errorf("%s: got %q, want %q", name, got, want)
		}
	}
	para := func(n int) string { return strings.TrimSuffix(strings.Repeat("x\n", n), "\n") }
	check("fits exactly", 1.45*line, func(f *Flow) { f.Para("x") }, "x|")
	check("does not fit", 1.4*line, func(f *Flow) { f.Para("x") }, "", "x|")
	check("no straggler below", 4.6*line, func(f *Flow) { f.Para(para(5)) }, "x|x|x|", "x|x|")
	check("no straggler above", 1.6*line, func(f *Flow) { f.Para(para(5)) }, "", "x|x|x|x|x|")
	check("three lines stay together", 2.6*line, func(f *Flow) { f.Para(para(3)) }, "", "x|x|x|")
	check("heading stays with text", 3*line, func(f *Flow) { f.Heading("h"); f.Para(para(3)) }, "", "h|x|x|x|")
	check("heading stays with table", 4*line, func(f *Flow) {
		f.Heading("h")
		table := Table{Columns: []Column{{Head: "c"}}}
		table.Row("1")
		table.Row("2")
		f.Table(table)
	}, "", "h|c|1|2|")
	check("together", 4*line, func(f *Flow) { f.Together(func() { f.Para("a"); f.Para("b"); f.Para("c") }) }, "",
		"a|b|c|")
	check("together longer than a page", 100, func(f *Flow) {
		f.Together(func() { f.Para("a"); f.Draw(f.Page(), func(Canvas) {}); f.Para("b") })
	}, "", "a|", "", "b|")
	check("note", 3*line, func(f *Flow) { f.Note("n", "x") }, "", "n|x|")
	check("room vanishes at the top", 1, func(f *Flow) { f.Space(50); f.Para("x"); f.Space(500); f.Para("y") }, "",
		"x|", "y|")
	check("room at the end makes no page", 1, func(f *Flow) { f.Space(50) }, "")
	check("turn", 50, func(f *Flow) { f.Turn(); f.Turn(); f.Para("x") }, "", "x|")
	check("columns", 3.2*line, func(f *Flow) {
		f.Columns(2, 4, func() {
			for i := range 6 {
				f.Draw(line, func(c Canvas) { c.Text(0, 3, fmt.Sprint(i), Style{}) })
			}
		})
	}, "0|1|2|3|4|5|")
	check("columns go on", 2.2*line, func(f *Flow) {
		f.Columns(2, 4, func() {
			for i := range 7 {
				f.Draw(line, func(c Canvas) { c.Text(0, 3, fmt.Sprint(i), Style{}) })
			}
		})
	}, "0|1|2|3|", "4|5|6|")
	check("heading stays with columns", 2.8*line, func(f *Flow) {
		f.Heading("h")
		f.Columns(2, 4, func() { f.Para("a"); f.Para("b") })
	}, "", "h|a|b|")
}

func TestColumnsAreEvenAndInOrder(t *testing.T) {
	f := newSection(t, Options{}, Frame{})
	f.Columns(3, 6, func() {
		for i := range 10 {
			f.Para(fmt.Sprint(i))
		}
	})
	left := map[float64]int{}
	for i, m := range texts(f) {
		if m.Text != fmt.Sprint(i) {
			t.Errorf("text %d is %q", i, m.Text)
		}
		left[math.Round(m.X)]++
	}
	if len(left) != 3 {
		t.Fatalf("columns begin at %v", left)
	}
	for x, n := range left {
		if n < 2 || n > 4 {
			t.Errorf("the column at %g mm has %d of 10 lines", x, n)
		}
	}
}

// TestNothingIsSmallerThanPromised walks all texts of the sample: 8 pt at least, and 18 pt in large print except in
// drawings.
func TestNothingIsSmallerThanPromised(t *testing.T) {
	for _, large := range []bool{false, true} {
		d := New(Options{Date: sampleDate, LargePrint: large})
		for _, build := range []func(*Document){sampleReference, sampleSheet, sampleReadings, sampleDebrief} {
			build(d)
			f := d.section
			f.frame.head(f.paper())
			for _, m := range items(f) {
				least := f.Sizes.Least
				if m.Text == "module" || m.Text == "7" || m.Text == "upwards" {
					least = typeset.Smallest // inside of a drawing
				}
				if m.Kind == canvas.Text && m.Size < least {
					t.Errorf("large %v: %q in %.1f pt", large, m.Text, m.Size)
				}
			}
		}
	}
}

// TestMarginsFitOfficePrinters: nothing is drawn within 12 mm of the edge on either paper.
func TestMarginsFitOfficePrinters(t *testing.T) {
	for _, paper := range []string{"letter", "a4"} {
		d := New(Options{Date: sampleDate, Paper: paper})
		for _, build := range []func(*Document){sampleReference, sampleSheet, sampleReadings, sampleDebrief} {
			build(d)
			f := d.section
			f.settle()
			f.pages[0] = append(f.pages[0], part{from: len(f.list)})
			f.frame.head(f.paper())
			f.frame.foot(f.paper(), 1, 1)
			last := len(f.pages[0]) - 1
			f.pages[0][last].to = len(f.list)
			for _, m := range items(f) {
				right, low := m.X, m.Y
				switch m.Kind {
				case canvas.Text:
					if m.Angle == 0 {
						right, low = m.X+m.Width, m.Y+typeset.Descender*m.Size*vector.PerPoint
					}
				case canvas.Line:
					right, low = m.W, m.H
				case canvas.Rect:
					right, low = m.X+m.W, m.Y+m.H
				}
				if m.Kind != canvas.Path && (m.X < 12 || m.Y < 12 || right > f.pageW-12 || low > f.pageH-12) {
					t.Errorf("%s: %q reaches (%.1f, %.1f) to (%.1f, %.1f)", paper, m.Text, m.X, m.Y, right, low)
				}
			}
		}
	}
}

func TestFit(t *testing.T) {
	f := newSection(t, Options{}, Frame{})
	check := func(width float64, text string, whole bool) {
		t.Helper()
		var got bool
		before := len(texts(f))
		f.Draw(10, func(c Canvas) { got = c.Fit(0, 5, width, text, Style{}) })
		m := texts(f)[before]
		if got != whole || (m.Text == text) != whole || m.Width > width+1e-6 || m.Size < typeset.Smallest {
			t.Errorf("%q in %g mm: %q, %.2f mm wide in %.1f pt, whole %v", text, width, m.Text, m.Width, m.Size, got)
		}
	}
	check(50, "short", true)
	check(f.Width("just fits", Style{}), "just fits", true)
	check(0.9*f.Width("condensed or smaller", Style{}), "condensed or smaller", true)
	check(0.75*f.Width("condensed or smaller", Style{}), "condensed or smaller", true)
	check(20, "far too long for twenty millimeters", false)
}

func TestFitWhole(t *testing.T) {
	f := newSection(t, Options{}, Frame{})
	const long = "a reading that is far too long for its place"
	check := func(align Align, left float64) {
		t.Helper()
		before := len(texts(f))
		f.Draw(10, func(c Canvas) { c.FitWhole(50, 5, 20, long, Style{Align: align}) })
		m := texts(f)[before]
		if m.Text != long || math.Abs(m.Width-20) > 1e-6 || math.Abs(m.X-f.left-left) > 1e-6 {
			t.Errorf("align %d: %q from %.2f mm, %.2f mm wide", align, m.Text, m.X-f.left, m.Width)
		}
	}
	check(Left, 50)
	check(Center, 40)
	check(Right, 30)
}
