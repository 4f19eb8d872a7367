package page

import (
	"math"
	"testing"

	"github.com/go-pdf/fpdf"
)

// TestWidthsAgreeWithTheLibrary compares our widths with those the PDF library reads from the same files and writes into the PDF:
// another reader, written by others.
func TestWidthsAgreeWithTheLibrary(t *testing.T) {
	fonts, err := LoadFonts()
	if err != nil {
		t.Fatal(err)
	}
	pdf := fpdf.New("P", "pt", "A4", "")
	for i := range faceCount {
		family := string(rune('a' + i))
		pdf.AddUTF8FontFromBytes(family, "", fontFile(face(i)))
		pdf.SetFont(family, "", 1000)
		compared := 0
		for r := rune(0x20); r < 0xFFFF; r++ {
			w := fonts.faces[i].of(r)
			if w == absent || w == 0 { // of a width of zero the library makes the width of a missing glyph
				continue
			}
			compared++
			if want := pdf.GetStringSymbolWidth(string(r)); int(w) != want {
				t.Fatalf("face %d, %U: %d, want %d", i, r, w, want)
			}
		}
		if compared < 5000 {
			t.Errorf("face %d has only %d characters", i, compared)
		}
	}
}

// Glyph A of DejaVu Sans is 1401 units of 2048 wide (from memory): 684 thousandths.
func TestKnownWidth(t *testing.T) {
	fonts, err := LoadFonts()
	if err != nil {
		t.Fatal(err)
	}
	if w := fonts.width("A", 0); w != 684 {
		t.Errorf("A is %d wide, want 684", w)
	}
}

func TestSpoiltFontFiles(t *testing.T) {
	good := fontFile(0)
	for _, length := range []int{0, 11, 12, 40, 500, 2000, len(good) / 2} {
		if _, err := readMetrics(good[:length]); err == nil {
			t.Errorf("the first %d bytes were taken for a whole font", length)
		}
	}
}

// TestInksCanBeRead computes contrast with white paper by the formula of WCAG 2.2, "relative luminance": 4.5 is asked for text.
func TestInksCanBeRead(t *testing.T) {
	for ink := None; ink <= Purple; ink++ {
		if got := ink.forText(); got != White && contrast(got) < 4.5 {
			t.Errorf("text in ink %d is printed with contrast %.1f", ink, contrast(got))
		}
	}
	if c := contrast(Blue); math.Abs(c-5.2) > 0.05 { // Okabe and Ito's blue 0072B2: 5.2 to 1, computed elsewhere
		t.Errorf("contrast of blue is %.2f", c)
	}
}

func contrast(ink Ink) float64 {
	linear := func(v int) float64 {
		x := float64(v) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	r, g, b := ink.rgb()
	return 1.05 / (0.2126*linear(r) + 0.7152*linear(g) + 0.0722*linear(b) + 0.05)
}

func TestTicks(t *testing.T) {
	check := func(low, high float64, n int, want ...float64) {
		t.Helper()
		got := ticks(low, high, n)
		if len(got) != len(want) {
			t.Fatalf("from %g to %g in %d: got %v, want %v", low, high, n, got, want)
		}
		for i := range got {
			if math.Abs(got[i]-want[i]) > 1e-9 {
				t.Errorf("from %g to %g in %d: got %v, want %v", low, high, n, got, want)
			}
		}
	}
	check(0, 18, 4, 0, 5, 10, 15, 20)
	check(0, 21, 11, 0, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 22)
	check(0, 1, 5, 0, 0.2, 0.4, 0.6, 0.8, 1)
	check(-3, 3, 3, -4, -2, 0, 2, 4)
	check(7, 7, 2, 7, 7.5, 8)
	check(0, 100, 1, 0, 100)
	if figure(0.1+0.2) != "0.3" || figure(math.Copysign(0, -1)) != "0" || figure(20) != "20" {
		t.Error("figures are printed with noise")
	}
}

func TestChartOfNothing(t *testing.T) {
	f := newSection(t, Options{}, Frame{})
	f.Chart(Chart{})
	f.Chart(Chart{Series: []Series{{"a", []float64{math.NaN(), 1, 2}, []float64{1, math.Inf(1)}}, {}, {}, {}, {}}})
	f.Bars(Bar{}, Bar{Label: "a", Value: math.NaN(), Of: 1})
	f.Bars()
	if _, err := f.doc.Bytes(); err != nil {
		t.Error(err)
	}
}
