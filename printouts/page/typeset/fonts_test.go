package typeset

import (
	"testing"

	"github.com/go-pdf/fpdf"
)

// TestWidthsAgreeWithTheLibrary compares our widths with those the PDF library reads from the same files and writes
// into the PDF: another reader, written by others.
func TestWidthsAgreeWithTheLibrary(t *testing.T) {
	fonts, err := LoadFonts()
	if err != nil {
		t.Fatal(err)
	}
	pdf := fpdf.New("P", "pt", "A4", "")
	for i := range Faces {
		family := string(rune('a' + i))
		pdf.AddUTF8FontFromBytes(family, "", Face(i).File())
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
