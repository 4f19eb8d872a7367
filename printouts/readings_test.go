package printouts

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"nospark/printouts/content"
	"nospark/printouts/handouts"
	"nospark/printouts/paper/readings"
	"nospark/printouts/paper/worksheets"
	"nospark/scenarios/handout"
)

// between takes the lines of a readings sheet apart: number, letters and reading, two spaces or more before the next.
var between = regexp.MustCompile(`(\d{3}) ([A-Z]{2}) (\S+(?: \S+)*)`)

func TestEveryReadingOnPaper(t *testing.T) {
	for _, paper := range []string{"letter", "a4"} {
		h := onPaper(sample(t, 2, 1), paper)
		pages := pagesOf(t, must(t)(readings.PDF(h)))
		for i, r := range h.Readings {
			found := make(map[string]int)
			for _, m := range between.FindAllString(pages[i], -1) {
				found[m]++
			}
			for _, l := range r.Lines {
				if found[answer(l)] != 1 {
					t.Errorf("%s: %q is %d times on the sheet", paper, answer(l), found[answer(l)])
				}
			}
		}
	}
}

// TestNumbersOfLines: one page whatever the number of lines.
func TestNumbersOfLines(t *testing.T) {
	for _, n := range []int{1, 40, 150, 260, 300, 340} {
		h := sample(t, 1, 1)
		h.Readings[0].Lines = nil
		for i := range n {
			h.Readings[0].Lines = append(h.Readings[0].Lines,
				handout.ReadingLine{Number: 100 + i, Letters: "WM", Reading: "12.39 V", Beside: "battery 12.56 V"})
		}
		pages := pagesOf(t, must(t)(readings.PDF(h)))
		if len(pages) != 1 || strings.Count(pages[0], "WM 12.39 V, battery 12.56 V") != n {
			t.Errorf("%d lines: %d pages, %d whole lines", n, len(pages),
				strings.Count(pages[0], "WM 12.39 V, battery 12.56 V"))
		}
	}
}

// TestReadingsAloneDependOnTheFault prints the same class with two different faults. Reference and worksheets are
// the same bytes; on the readings sheets every place, every number and every pair of letters is the same.
func TestReadingsAloneDependOnTheFault(t *testing.T) {
	a, b := sample(t, 3, 1), sample(t, 3, 2)
	same := func(name string, print func(handout.Handout) ([]byte, error)) {
		t.Helper()
		if x, y := must(t)(print(a)), must(t)(print(b)); string(x) != string(y) {
			t.Errorf("%s depends on the fault", name)
		}
	}
	same("booklet", booklet)
	same("worksheets", worksheets.PDF)
	same("pairing", pairing)
	for i := range a.Worksheets {
		if content.Text(handouts.Worksheet(a, a.Worksheets[i])) != content.Text(handouts.Worksheet(b,
			b.Worksheets[i])) {
			t.Error("the text of a worksheet depends on the fault")
		}
		page := asPage(ofWorksheet)
		if string(must(t)(page(source{handout: a, sheet: i}))) != string(must(t)(page(source{handout: b, sheet: i}))) {
			t.Error("the page of a worksheet depends on the fault")
		}
	}
	x, y := contents(t, must(t)(readings.PDF(a))), contents(t, must(t)(readings.PDF(b)))
	if len(x) != len(y) || len(x) != 3 {
		t.Fatalf("%d and %d pages of readings, want 3", len(x), len(y))
	}
	place := regexp.MustCompile(`BT [\d.]+ [\d.]+ Td`)
	for i := range x {
		if x[i] == y[i] {
			t.Errorf("page %d: two faults, the same readings", i+1)
		}
		p, q := place.FindAllString(x[i], -1), place.FindAllString(y[i], -1)
		if fmt.Sprint(p) != fmt.Sprint(q) || len(p) < 3*len(a.Readings[i].Lines) {
			t.Errorf("page %d: places of the texts depend on the readings", i+1)
		}
	}
}

// TestSheetAlone: a sheet printed again has the same pages as in the class.
func TestSheetAlone(t *testing.T) {
	h := sample(t, 4, 1)
	one := only(h, 2)
	same := func(name string, print func(handout.Handout) ([]byte, error), from, to int) {
		t.Helper()
		class, alone := contents(t, must(t)(print(h))), contents(t, must(t)(print(one)))
		if strings.Join(class[from:to], "\f") != strings.Join(alone, "\f") {
			t.Errorf("%s: the sheet printed alone differs from the one in the class", name)
		}
	}
	same("worksheets", worksheets.PDF, 4, 6)
	same("readings", readings.PDF, 2, 3)
}

func TestMetadata(t *testing.T) {
	h := sample(t, 2, 1)
	for i := range h.Worksheets {
		one := only(h, i)
		got := tool(t, "pdfinfo", saved(t, must(t)(worksheets.PDF(one))))
		for _, want := range []string{"Title:           Cranks, but does not start, worksheets\n",
			"CreationDate:    Mon Oct  5 00:00:00 2026"} {
			if !strings.Contains(got, want) {
				t.Errorf("metadata lack %q:\n%s", want, got)
			}
		}
		if strings.Contains(got, h.Worksheets[i].Code) {
			t.Error("metadata name the sheet")
		}
	}
	h.Date = "soon"
	if _, err := worksheets.PDF(h); err == nil || !strings.Contains(err.Error(), `"soon"`) {
		t.Errorf("error of a wrong date: %v", err)
	}
}
