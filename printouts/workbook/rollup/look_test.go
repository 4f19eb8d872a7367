package rollup

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"nospark/printouts/workbook"
	"nospark/printouts/workbook/workbooktest"
)

// The names of many labs stand upright below a chart: beside each other they would be broken within a word. 5,400,000
// are 90 degrees in sixty-thousandths of one (ECMA-376 part 1, ST_Angle).
func TestTrendOfManyLabs(t *testing.T) {
	const upright = `rot="-5400000"`
	for labs, want := range map[int]bool{mostAcross: false, mostAcross + 1: true, 15: true} {
		chart := workbooktest.Part(t, competencyBook(t, sampleTerm(t, labs, 1, 6), true), "xl/charts/chart1.xml")
		if got := strings.Contains(chart, upright); got != want {
			t.Errorf("%d labs: upright %v, want %v", labs, got, want)
		}
	}
}

// A chart is as high as the table beside it, within bounds.
func TestTrendHeight(t *testing.T) {
	check := func(labs int, want uint) {
		t.Helper()
		if got := trendHeight(labs); got != want {
			t.Errorf("%d labs: %d pixels, want %d", labs, got, want)
		}
	}
	check(1, 290)
	check(12, 290)
	check(13, 300)
	check(15, 340)
	check(40, 420)
}

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
