package rollup

import (
	"math"
	"slices"
	"strconv"
	"testing"

	"nospark/printouts/workbook"
	"nospark/printouts/workbook/workbooktest"
)

// The colors of the matrix get darker from competent to far from it, so that a print without colors is a heat map too.
// Lightness is the relative luminance of linear light (WCAG 2.2, "relative luminance"), of which more is lighter.
func TestMatrixInGray(t *testing.T) {
	lightness := func(color string) float64 {
		sum := 0.0
		for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
			v, err := strconv.ParseUint(color[2*i:2*i+2], 16, 8)
			if err != nil {
				t.Fatal(err)
			}
			x := float64(v) / 255
			if x <= 0.04045 {
				x /= 12.92
			} else {
				x = math.Pow((x+0.055)/1.055, 2.4)
			}
			sum += weight * x
		}
		return sum
	}
	before := 1.0
	for _, color := range []string{paleGreen, workbook.PaleBlue, deepAmber, paleVermillion} {
		now := lightness(color)
		if now >= before {
			t.Errorf("%s is not darker than the one before: %.3f, %.3f", color, now, before)
		}
		if contrast := (now + 0.05) / 0.05; contrast < 7 { // level AAA of the same guideline, for black text
			t.Errorf("black on %s has a contrast of %.1f", color, contrast)
		}
		before = now
	}
}

// Sections have a sheet of their own, if there are several.
func TestSectionsSheet(t *testing.T) {
	for sections, want := range map[int]bool{1: false, 2: true} {
		f := workbooktest.Open(t, competencyBook(t, sampleTerm(t, 4, sections, 6), true))
		if got := slices.Contains(f.GetSheetList(), sectionsSheet); got != want {
			t.Errorf("%d sections: a sheet of them %v, want %v", sections, got, want)
		}
	}
}

// Every sheet has something on it, dates are numbers with a date's format, and the list of evidence is for the screen:
// of it two rows are printed.
func TestSheets(t *testing.T) {
	data := competencyBook(t, sampleTerm(t, 6, 2, 6), true)
	f := workbooktest.Open(t, data)
	for _, sheet := range f.GetSheetList() {
		if n := len(workbooktest.Cells(t, f, sheet, false)); n < 4 {
			t.Errorf("%s has %d rows", sheet, n)
		}
	}
	// 1 September 2026 is day 46266 of the file format: 126 years of 365 days and 31 leap days after day 1, 1 January
	// 1900, with the 29 February 1900 that the format counts, make 1 January 2026 day 46023; 243 days later is
	// September.
	if raw := workbooktest.Cells(t, f, evidenceSheet, true)[4][0]; raw != "46266" {
		t.Errorf("a date is stored as %q", raw)
	}
	if shown := workbooktest.Cells(t, f, evidenceSheet, false)[4][0]; shown != "2026-09-01" {
		t.Errorf("a date is shown as %q", shown)
	}
	areas := 0
	for _, name := range f.GetDefinedName() {
		if name.Name == "_xlnm.Print_Area" && name.Scope == evidenceSheet {
			areas++
			if name.RefersTo != "'Evidence'!$A$1:$K$2" {
				t.Errorf("evidence prints %s", name.RefersTo)
			}
		}
	}
	if areas != 1 {
		t.Errorf("%d print areas of the evidence", areas)
	}
}

// The page of the coordinator answers six questions, each on so much evidence.
func TestCoordinator(t *testing.T) {
	f := workbooktest.Open(t, competencyBook(t, sampleTerm(t, 6, 2, 6), true))
	var questions []string
	for _, row := range workbooktest.Cells(t, f, coordinatorSheet, false)[4:] {
		if len(row) < 4 {
			continue
		}
		if row[0] != "" {
			questions = append(questions, row[0])
		}
		if _, err := strconv.Atoi(row[2]); err != nil || row[1] == "" || row[3] == "" {
			t.Errorf("line %q", row)
		}
	}
	if len(questions) != 6 {
		t.Errorf("questions %q", questions)
	}
}
