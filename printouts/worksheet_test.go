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
	"nospark/printouts/wording"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
	"nospark/scenarios/testrun"
)

func onPaper(h handout.Handout, paper string) handout.Handout {
	h.Paper = paper
	return h
}

func TestPagesOfTheLargestLab(t *testing.T) {
	testrun.Slow(t, "prints a large lab")
	check := func(name string, pdf []byte, want int) {
		t.Helper()
		tool(t, "qpdf", "--check", saved(t, pdf))
		if got := len(pagesOf(t, pdf)); got != want {
			t.Errorf("%s: %d pages, want %d", name, got, want)
		}
	}
	for _, paper := range []string{"letter", "a4"} {
		h := onPaper(sample(t, 5, 1), paper)
		check(paper+" worksheets", must(t)(worksheets.PDF(h)), 10)
		check(paper+" readings", must(t)(readings.PDF(h)), 5)
		check(paper+" booklet", must(t)(booklet(h)), 3)
		check(paper+" pairing", must(t)(pairing(h)), 2)
	}
}

// TestGridOnPaper finds every cell of the grid in the text of the page as a student would: by the number of the
// point and the place of the column.
func TestGridOnPaper(t *testing.T) {
	cell := regexp.MustCompile(`^(\d{3}|-)$`)
	for _, paper := range []string{"letter", "a4"} {
		h := onPaper(sample(t, 2, 1), paper)
		pages := pagesOf(t, must(t)(worksheets.PDF(h)))
		for s, w := range h.Worksheets {
			rows := make(map[string][]string)
			for _, text := range strings.Split(pages[2*s], "\n") {
				if fields := strings.Fields(text); len(fields) > len(h.Reference.Columns) {
					rows[fields[0]] = fields
				}
			}
			for p, point := range h.Reference.Points {
				row := rows[fmt.Sprint(point.Number)]
				if len(row) < len(h.Reference.Columns)+2 {
					t.Fatalf("%s: point %d has no row of its own: %q", paper, point.Number, row)
				}
				cells := row[len(row)-len(h.Reference.Columns):]
				label := strings.Join(row[1:len(row)-len(cells)], " ")
				if want := wording.Join(" ", point.Label, lab.RoleName(point.Role),
					wording.Minutes(point.Access)); label != want {
					t.Errorf("%s: point %d reads %q, want %q", paper, point.Number, label, want)
				}
				for c, text := range cells {
					if !cell.MatchString(text) || text != cellText(w.Grid[p][c]) {
						t.Errorf("%s: point %d column %d reads %q, want %q", paper, point.Number, c, text,
							cellText(w.Grid[p][c]))
					}
				}
			}
		}
	}
}

func TestOtherTestsOnPaper(t *testing.T) {
	h := sample(t, 1, 1)
	text := strings.Join(pagesOf(t, must(t)(worksheets.PDF(h))), "\n")
	for _, table := range h.Worksheets[0].Tables {
		for _, r := range table.Rows {
			row := regexp.MustCompile(regexp.QuoteMeta(r.Label) + `\b.* ` +
				regexp.QuoteMeta(wording.Minutes(r.Minutes)) + ` +` + wording.Line(r.Line))
			if !row.MatchString(text) {
				t.Errorf("no row for %q, %s min, line %s", r.Label, wording.Minutes(r.Minutes), wording.Line(r.Line))
			}
		}
	}
}

// TestStub: the name stands above the line along which the stub is torn off, the code on both pages below it.
func TestStub(t *testing.T) {
	h := sample(t, 1, 1)
	w := h.Worksheets[0]
	pages := pagesOf(t, must(t)(worksheets.PDF(h)))
	stub, below, found := strings.Cut(pages[0], "tear off before handing in")
	if !found || !strings.Contains(stub, w.Name) || !strings.Contains(stub, w.Student) {
		t.Errorf("the stub reads %q", stub)
	}
	for i, text := range []string{below, pages[1]} {
		if strings.Contains(text, w.Name) || strings.Contains(text, w.Student) {
			t.Errorf("page %d names the student below the stub", i+1)
		}
		if !strings.Contains(text, w.Code) {
			t.Errorf("page %d lacks the code of the sheet", i+1)
		}
	}
	for _, want := range []string{"Secondary voltage can injure or kill", "school’s shop-safety rules",
		"supervising instructor"} {
		if !strings.Contains(strings.Join(strings.Fields(below), " "), want) {
			t.Errorf("the worksheet lacks %q", want)
		}
	}
}

func TestNamesInManyScripts(t *testing.T) {
	h := sample(t, 6, 1)
	pages := pagesOf(t, must(t)(worksheets.PDF(h)))
	for i, w := range h.Worksheets {
		readable := i != 4 // no typeface of ours has the letters of this one
		if got := strings.Contains(pages[2*i], w.Name); got != readable {
			t.Errorf("name %q on paper: %v, want %v", w.Name, got, readable)
		}
		if !strings.Contains(pages[2*i], w.Student) {
			t.Errorf("sheet of %q lacks the id %q", w.Name, w.Student)
		}
	}
}

// TestLargePrint: the same lines, letters and codes, nothing smaller than 18 pt.
func TestLargePrint(t *testing.T) {
	h := sample(t, 1, 1)
	h.Worksheets[0].Large, h.Readings[0].Large = true, true
	worksheet, readings := must(t)(worksheets.PDF(h)), must(t)(readings.PDF(h))
	text := strings.Join(pagesOf(t, worksheet), "\n")
	for _, l := range h.Readings[0].Lines {
		if !regexp.MustCompile(`\b` + wording.Line(l.Number) + `\b`).MatchString(text) {
			t.Errorf("line %s is not on the worksheet", wording.Line(l.Number))
		}
	}
	text = strings.Join(pagesOf(t, readings), "\n")
	for _, l := range h.Readings[0].Lines {
		if !strings.Contains(text, answer(l)) {
			t.Errorf("%q is not on the readings sheet", answer(l))
		}
	}
	// the size that was chosen last holds for the next text
	operation := regexp.MustCompile(`/F\S+ ([\d.]+) Tf| Td `)
	for i, page := range append(contents(t, worksheet), contents(t, readings)...) {
		points := 0.0
		for _, m := range operation.FindAllStringSubmatch(page, -1) {
			if m[1] != "" {
				fmt.Sscan(m[1], &points)
			} else if points < 18 {
				t.Fatalf("page %d has text of %g pt", i+1, points)
			}
		}
	}
}

func TestManyPointsAndColumns(t *testing.T) {
	h := sample(t, 1, 1)
	ref := &h.Reference
	w := &h.Worksheets[0]
	for i := range 30 {
		ref.Points = append(ref.Points, lab.Point{Number: 29 + i,
			Label: "a point with a long label that does not fit its column at all"})
		w.Grid = append(w.Grid, make([]handout.Cell, len(ref.Columns)))
	}
	for i := range w.Grid {
		w.Grid[i] = append(w.Grid[i], w.Grid[i]...)
	}
	for _, c := range ref.Columns {
		c.Sweep += " again"
		ref.Columns = append(ref.Columns, c)
	}
	text := strings.Join(pagesOf(t, must(t)(worksheets.PDF(h))), "\n")
	for _, want := range []string{"Record of sheet", "Conclusion", "page 3 of"} {
		if !strings.Contains(text, want) {
			t.Errorf("a lab of 58 points and 28 columns lacks %q", want)
		}
	}
}

// TestForbiddenOnPaper: what a lab forbids stands where a student reads before choosing a test.
func TestForbiddenOnPaper(t *testing.T) {
	h := sample(t, 2, 1)
	if text := content.Text(handouts.Worksheet(h, h.Worksheets[0])); strings.Contains(text, "Not allowed") {
		t.Errorf("nothing is forbidden, but the sheet reads\n%s", text)
	}
	h.Forbidden = []string{"ohmmeter", "test lamp"}
	h.Worksheets[1].Large = true
	const want = "Not allowed in this lab: ohmmeter and test lamp"
	pages := pagesOf(t, must(t)(worksheets.PDF(h)))
	for name, text := range map[string]string{
		"twin": content.Text(handouts.Worksheet(h, h.Worksheets[0])), "worksheet": pages[0],
		"large print": strings.Join(pages[2:], " "),
	} {
		if !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
			t.Errorf("%s: %q is missing in\n%s", name, want, text)
		}
	}
	if text := strings.Join(pagesOf(t, must(t)(booklet(h))), " "); strings.Contains(text, "Not allowed") {
		t.Errorf("the booklet of a term says what one lab forbids:\n%s", text)
	}
}

// cellText is what stands in a cell of the grid.
func cellText(c handout.Cell) string {
	if c.Line == 0 {
		return "-"
	}
	return wording.Line(c.Line)
}
