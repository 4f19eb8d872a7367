package page

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"

	"github.com/go-fonts/dejavu/dejavusans"
	"github.com/go-fonts/dejavu/dejavusansbold"
	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavusanscondensedbold"
)

// face numbers the four typefaces: bit 0 is bold, bit 1 is condensed.
type face uint8

const (
	faceBold      face = 1
	faceCondensed face = 2
	faceCount          = 4
)

// absent marks a character without a glyph in metrics.advance.
const absent = math.MaxUint16

// metrics are the widths of one face.
type metrics struct {
	advance []uint16 // by character of the basic plane, thousandths of the size, rounded as the PDF states them
}

// Fonts knows the widths and the characters of the typefaces. It never changes, so documents built at the same time may share one.
type Fonts struct {
	faces [faceCount]metrics
}

// LoadFonts reads the widths of the embedded typefaces, less than a millisecond's work. It is needed only to share them between
// documents or to ask [Fonts.Legible] before there is a document; [New] loads them on its own.
func LoadFonts() (*Fonts, error) {
	fonts := new(Fonts)
	for i := range fonts.faces {
		m, err := readMetrics(fontFile(face(i)))
		if err != nil {
			return nil, fmt.Errorf("typeface %d: %w", i, err)
		}
		fonts.faces[i] = m
	}
	return fonts, nil
}

// fontFile gives the TrueType file of a face.
func fontFile(f face) []byte {
	switch f {
	case faceBold:
		return dejavusansbold.TTF
	case faceCondensed:
		return dejavusanscondensed.TTF
	case faceCondensed | faceBold:
		return dejavusanscondensedbold.TTF
	}
	return dejavusans.TTF
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

func (m *metrics) of(r rune) uint16 {
	if r < 0 || int(r) >= len(m.advance) {
		return absent
	}
	return m.advance[r]
}

// width gives the width of a clean text in thousandths of its size.
func (f *Fonts) width(text string, as face) int {
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

// readMetrics reads the widths of all characters of the basic plane out of a TrueType file: its character map of format 4 and its
// horizontal metrics (OpenType specification, tables cmap, head, hhea and hmtx).
func readMetrics(file []byte) (metrics, error) {
	tables, err := readTables(file)
	if err != nil {
		return metrics{}, err
	}
	head, hhea, hmtx := tables["head"], tables["hhea"], tables["hmtx"]
	if len(head) < 54 || len(hhea) < 36 {
		return metrics{}, errors.New("table head or hhea is too short")
	}
	unitsPerEm := float64(binary.BigEndian.Uint16(head[18:]))
	full := int(binary.BigEndian.Uint16(hhea[34:])) // glyphs after these repeat the last width
	if unitsPerEm == 0 || full == 0 || len(hmtx) < 4*full {
		return metrics{}, errors.New("table hmtx is too short")
	}
	m := metrics{advance: make([]uint16, 1<<16)}
	for i := range m.advance {
		m.advance[i] = absent
	}
	err = eachGlyph(tables["cmap"], func(char, glyph int) {
		width := binary.BigEndian.Uint16(hmtx[4*min(glyph, full-1):])
		m.advance[char] = uint16(math.Round(float64(width) * 1000 / unitsPerEm))
	})
	return m, err
}

// readTables cuts a TrueType file into its tables.
func readTables(file []byte) (map[string][]byte, error) {
	if len(file) < 12 || binary.BigEndian.Uint32(file) != 0x00010000 {
		return nil, errors.New("not a TrueType file")
	}
	tables := make(map[string][]byte)
	for i := range int(binary.BigEndian.Uint16(file[4:])) {
		entry := 12 + 16*i
		if len(file) < entry+16 {
			return nil, errors.New("table directory is cut off")
		}
		from := uint64(binary.BigEndian.Uint32(file[entry+8:]))
		to := from + uint64(binary.BigEndian.Uint32(file[entry+12:]))
		if to > uint64(len(file)) {
			return nil, errors.New("a table is cut off")
		}
		tables[string(file[entry:entry+4])] = file[from:to]
	}
	return tables, nil
}

// eachGlyph walks the character map for Unicode's basic plane. Character 0xFFFF ends the map and is none.
func eachGlyph(cmap []byte, visit func(char, glyph int)) error {
	sub, err := basicPlaneMap(cmap)
	if err != nil {
		return err
	}
	u16 := func(at int) int {
		if at+2 > len(sub) {
			return 0
		}
		return int(binary.BigEndian.Uint16(sub[at:]))
	}
	doubled := u16(6) // twice the number of segments
	ends, starts, deltas, offsets := 14, 16+doubled, 16+2*doubled, 16+3*doubled
	for seg := 0; seg < doubled; seg += 2 {
		start, end, delta, offset := u16(starts+seg), u16(ends+seg), u16(deltas+seg), u16(offsets+seg)
		for char := start; char <= end && char < 0xFFFF; char++ {
			glyph := char
			if offset != 0 {
				// The offset counts from its own place in the file.
				if glyph = u16(offsets + seg + offset + 2*(char-start)); glyph == 0 {
					continue
				}
			}
			if glyph = (glyph + delta) & 0xFFFF; glyph != 0 {
				visit(char, glyph)
			}
		}
	}
	return nil
}

// basicPlaneMap finds the format 4 subtable for Windows (platform 3, encoding 1).
func basicPlaneMap(cmap []byte) ([]byte, error) {
	if len(cmap) < 4 {
		return nil, errors.New("table cmap is missing")
	}
	for i := range int(binary.BigEndian.Uint16(cmap[2:])) {
		at := 4 + 8*i
		if len(cmap) < at+8 {
			break
		}
		from := uint64(binary.BigEndian.Uint32(cmap[at+4:]))
		if binary.BigEndian.Uint32(cmap[at:]) == 3<<16|1 && from+16 <= uint64(len(cmap)) &&
			binary.BigEndian.Uint16(cmap[from:]) == 4 {
			return cmap[from:], nil
		}
	}
	return nil, errors.New("table cmap has no map of format 4")
}
