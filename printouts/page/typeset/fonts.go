package typeset

import (
	"fmt"
	"math"
	"sync/atomic"

	"github.com/go-fonts/dejavu/dejavusans"
	"github.com/go-fonts/dejavu/dejavusansbold"
	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavusanscondensedbold"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"nospark/printouts/vector"
)

// Face numbers the four typefaces: bit 0 is bold, bit 1 is condensed.
type Face uint8

// The bits of a face, and how many faces there are.
const (
	Bold      Face = 1
	Condensed Face = 2
	Faces          = 4
)

// FaceOf is the face in which a style is printed.
func FaceOf(s vector.Style) Face {
	var f Face
	if s.Bold {
		f |= Bold
	}
	if s.Condensed {
		f |= Condensed
	}
	return f
}

// File gives the TrueType file of a face.
func (f Face) File() []byte {
	switch f {
	case Bold:
		return dejavusansbold.TTF
	case Condensed:
		return dejavusanscondensed.TTF
	case Condensed | Bold:
		return dejavusanscondensedbold.TTF
	}
	return dejavusans.TTF
}

// Fonts knows the widths and the characters of the typefaces. Documents made at the same time may share one.
type Fonts struct {
	faces [Faces]metrics
}

// metrics are the widths of one face. A document uses few of the 65,536 characters of the basic plane, so widths are
// read in blocks of 256, each when a text needs it first; two goroutines that read the same block at the same time read
// the same.
type metrics struct {
	font   *sfnt.Font
	blocks [256]atomic.Pointer[[256]uint16]
}

// absent stands for the width of a character without a glyph.
const absent = math.MaxUint16

// LoadFonts opens the embedded typefaces.
func LoadFonts() (*Fonts, error) {
	fonts := new(Fonts)
	for i := range fonts.faces {
		parsed, err := sfnt.Parse(Face(i).File())
		if err != nil {
			return nil, fmt.Errorf("typeface %d: %w", i, err)
		}
		fonts.faces[i].font = parsed
	}
	return fonts, nil
}

// has reports whether every face can print the character, so that a name looks the same in bold and in a table.
func (f *Fonts) has(r rune) bool {
	for i := range f.faces {
		if f.faces[i].of(r) == absent {
			return false
		}
	}
	return true
}

// of is the advance of a character in thousandths of the size, rounded as the PDF states it, or absent.
func (m *metrics) of(r rune) uint16 {
	if r < 0 || r > 0xFFFF || m.font == nil {
		return absent
	}
	block := m.blocks[r>>8].Load()
	if block == nil {
		block = m.read(r &^ 0xFF)
		m.blocks[r>>8].Store(block)
	}
	return block[r&0xFF]
}

// read looks up the 256 characters from first on.
func (m *metrics) read(first rune) *[256]uint16 {
	var buffer sfnt.Buffer
	unitsPerEm := m.font.UnitsPerEm()
	block := new([256]uint16)
	for i := range block {
		block[i] = absent
		glyph, err := m.font.GlyphIndex(&buffer, first+rune(i))
		if err != nil || glyph == 0 {
			continue
		}
		// at as many pixels an em as the face has units, the answer is in these units
		width, err := m.font.GlyphAdvance(&buffer, glyph, fixed.Int26_6(unitsPerEm), font.HintingNone)
		if err == nil {
			block[i] = uint16(math.Round(float64(width) * 1000 / float64(unitsPerEm)))
		}
	}
	return block
}

// width gives the width of a clean text in thousandths of its size.
func (f *Fonts) width(text string, as Face) int {
	m, sum := &f.faces[as], 0
	for _, r := range text {
		sum += m.step(r)
	}
	return sum
}

// step is the advance of one character of a clean text.
func (m *metrics) step(r rune) int {
	if w := m.of(r); w != absent {
		return int(w)
	}
	return 600 // no clean text comes here
}
