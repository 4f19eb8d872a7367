package svg

import (
	"encoding/xml"
	"io"
	"math"
	"strings"
	"testing"

	"nospark/printouts/page/typeset"
	"nospark/printouts/vector"
)

// TestWidths compares the widths written here with those in the files of the typeface, which another package reads.
func TestWidths(t *testing.T) {
	fonts, err := typeset.LoadFonts()
	if err != nil {
		t.Fatal(err)
	}
	setter := typeset.Setter{Sizes: typeset.SizesFor(0, false), Fonts: fonts}
	for r := ' '; r <= '~'; r++ {
		for _, s := range []vector.Style{{Size: 10}, {Size: 10, Bold: true}} {
			if got, want := Width(string(r), s), setter.Width(string(r), s); math.Abs(got-want) > 1e-9 {
				t.Errorf("%q, bold %v: %.4f mm, want %.4f", r, s.Bold, got, want)
			}
		}
	}
	for _, text := range []string{"ignition switch, battery side", "PCM 5 V reference", "plug lead 4, plug end"} {
		s := vector.Style{Size: 8, Condensed: true}
		if got, want := Width(text, s), setter.Width(text, s); math.Abs(got/want-1) > 0.005 {
			t.Errorf("%q condensed: %.2f mm, want %.2f", text, got, want)
		}
	}
	// other characters are estimated, never by more than half
	for _, text := range []string{"Ω", "µ", "°", "Zündspule", "tändspole é", "−40 °C … ½"} {
		s := vector.Style{Size: 8}
		if got, want := Width(text, s), setter.Width(text, s); got < 0.9*want || got > 1.75*want {
			t.Errorf("%q: %.2f mm, want about %.2f", text, got, want)
		}
	}
}

// TestHostileTexts: whatever a pack calls its parts, the image is one well-formed document and says the same.
func TestHostileTexts(t *testing.T) {
	for _, text := range []string{
		"", "<script>alert(1)</script>", `" onload="x`, "a & b", "\x00\x0b\xff", "]]>", "<!--", "&amp;", "'", "\uffff",
	} {
		s := vector.Scene{Title: text, Description: text, Frame: vector.Box(0, 0, 10, 10),
			Texts: []vector.Text{{Text: text, Width: 3}}}
		image := Render(s, text)
		if strings.Contains(image, "<script") || strings.Contains(image, `onload="`) {
			t.Errorf("%q is taken for markup", text)
		}
		decoder, elements := xml.NewDecoder(strings.NewReader(image)), 0
		for {
			token, err := decoder.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%q: %v in %s", text, err, image)
			}
			if _, is := token.(xml.StartElement); is {
				elements++
			}
		}
		if elements != 4 {
			t.Errorf("%q: %d elements, want svg, title, desc and text", text, elements)
		}
	}
}

// TestRender writes a small scene out, to be read by a person.
func TestRender(t *testing.T) {
	dashed := vector.Stroke(0.5)
	dashed.Dash = vector.Dashed
	s := vector.Scene{
		Title: "lamp", Description: "A lamp.", Frame: vector.Box(0, 0, 20, 10),
		Shapes: []vector.Shape{
			{Path: vector.Polyline(vector.At(1, 1), vector.At(9.999, 1)), Pen: dashed},
			{Path: vector.Polygon(vector.At(1, 2), vector.At(3, 2), vector.At(3, -0.001)),
				Pen: vector.Fill(vector.Tint)},
		},
		Texts: []vector.Text{
			{Text: "21 W", Box: vector.Box(4, 2, 6, 4), Width: 5,
				Style: vector.Style{Size: 8, Align: vector.Right, Level: vector.Middle}},
			{Text: "up", Box: vector.Box(10, 2, 2, 6), Width: 3,
				Style: vector.Style{Size: 8, Bold: true, Angle: 90, Level: vector.Middle, Color: vector.White}},
		},
	}
	// 8 pt are 2.82 mm; a capital letter is 0.729 of that high, and half of it is 1.03 mm
	const want = `<svg xmlns="http://www.w3.org/2000/svg" id="a" role="img" aria-labelledby="a-title a-desc"` +
		` viewBox="0 0 20 10" width="20mm" height="10mm" font-family="'DejaVu Sans', Verdana, sans-serif" fill="none"` +
		` stroke-linecap="round" stroke-linejoin="round">
<title id="a-title">lamp</title>
<desc id="a-desc">A lamp.</desc>
<path d="M1 1L10 1" stroke="currentColor" stroke-width="0.5" stroke-dasharray="3 1.75" stroke-linecap="butt"/>
<path d="M1 2L3 2L3 0Z" fill="currentColor" fill-opacity="0.06"/>
<text x="5" y="5.03" font-size="2.82" textLength="5" lengthAdjust="spacingAndGlyphs" fill="currentColor">21 W</text>
<text x="12.03" y="8" font-size="2.82" font-weight="bold" textLength="3" lengthAdjust="spacingAndGlyphs"` +
		` transform="rotate(-90 12.03 8)" fill="var(--paper, Canvas)">up</text>
</svg>
`
	if got := Render(s, "a"); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// TestGrayCanBeRead computes the contrast of diluted text by the formula of WCAG 2.2, "relative luminance": 4.5 is
// asked for.
func TestGrayCanBeRead(t *testing.T) {
	luminance := func(v float64) float64 { // of a gray
		if v <= 0.04045 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	if share := paint("fill", vector.Gray); share[3] != "0.75" {
		t.Fatalf("gray is diluted to %s", share[3])
	}
	if c := (luminance(1) + 0.05) / (luminance(0.25) + 0.05); c < 4.5 {
		t.Errorf("contrast on white: %.1f", c)
	}
	if c := (luminance(0.75) + 0.05) / (luminance(0) + 0.05); c < 4.5 {
		t.Errorf("contrast on black: %.1f", c)
	}
}
