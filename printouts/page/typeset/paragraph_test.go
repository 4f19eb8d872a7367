package typeset

import (
	"math/rand/v2"
	"strings"
	"testing"

	"nospark/printouts/vector"
)

// printedLines gives the text of a paragraph's lines.
func printedLines(p Paragraph) []string {
	out := make([]string, len(p.lines))
	for i, l := range p.lines {
		out[i] = p.text[l.from:l.to]
	}
	return out
}

func TestWrapping(t *testing.T) {
	f := newSetter(t)
	// Widths are those of the text that should just fit, so that no figure of the typeface is written here.
	check := func(name, text, fitting string, want ...string) {
		t.Helper()
		p := f.Set(f.Width(fitting, vector.Style{}), text, vector.Style{})
		if got := printedLines(p); strings.Join(got, "|") != strings.Join(want, "|") {
			t.Errorf("%s: got %q, want %q", name, got, want)
		}
	}
	check("fits", "one two", "one two", "one two")
	check("at a space", "one two", "one tw", "one", "two")
	check("spaces fall away", "  one   two  ", "one two", "one two")
	check("line end", "one\ntwo", "one two", "one", "two")
	check("empty line", "one\n\ntwo", "one two", "one", "", "two")
	check("empty", "", "one", "")
	check("giant word", "aaaaaa", "aaaa", "aaaa", "aa")
	check("giant word after a short one", "aa bbbbbb", "bbbb", "aa", "bbbb", "bb")
	check("hyphen", "left-hand side", "left-ha", "left-", "hand", "side")
	check("minus is no hyphen", "about -5", "about -", "about", "-5")
	check("no-break space", "is 12\u00a0V now", "is 12", "is", "12\u00a0V", "now")
	check("number and unit", "is 12 V now", "is 12", "is", "12 V", "now")
	check("number and unit with a comma", "is 12 V, now", "is 12 V", "is", "12 V,", "now")
	check("number and word", "the 12 volts", "the 12", "the 12", "volts")
	check("narrower than a letter", "WW", "i", "W", "W")
}

func TestBoldRuns(t *testing.T) {
	f := newSetter(t)
	check := func(text, want string) {
		t.Helper()
		p := f.Set(200, text, vector.Style{})
		var got strings.Builder
		from := 0
		for _, s := range p.spans {
			if s.bold {
				got.WriteString("<" + p.text[from:s.to] + ">")
			} else {
				got.WriteString(p.text[from:s.to])
			}
			from = s.to
		}
		if got.String() != want {
			t.Errorf("%q: got %q, want %q", text, got.String(), want)
		}
	}
	check("a **b** c", "a <b> c")
	check("**a b**, c", "<a b>, c")
	check("a**b**c", "a<b>c")
	check("**a****b**", "<ab>")
	check("2 ** 3", "2 ** 3")
	check("a ** b ** c ** d", "a < b > c ** d")
	check("****", "")
}

// TestWrappingLosesNothing wraps random texts: all words are there, in order, and no line is wider than asked for
// unless it is a single character.
func TestWrappingLosesNothing(t *testing.T) {
	f := newSetter(t)
	random := rand.New(rand.NewPCG(1, 2))
	alphabet := []rune("abcdefghij    -/–WiΩé\u00a0.,12V**")
	for range 3000 {
		var b strings.Builder
		for range random.IntN(120) {
			b.WriteRune(alphabet[random.IntN(len(alphabet))])
		}
		width := 3 + random.Float64()*60
		p := f.Set(width, b.String(), vector.Style{Size: 8 + random.Float64()*10})
		var lines []string
		for _, l := range p.lines {
			line := p.text[l.from:l.to]
			lines = append(lines, line)
			if l.width > width+1e-6 && len([]rune(line)) > 1 {
				t.Fatalf("line %q of %q is %.2f mm wide, more than %.2f", line, b.String(), l.width, width)
			}
			if sum := spanWidth(f, p, l); sum > l.width+1e-6 || sum < l.width-1e-6 {
				t.Fatalf("line %q is %.4f mm wide but was measured as %.4f", line, sum, l.width)
			}
		}
		// Only spaces may vanish, at the ends of lines.
		if got, want := unspaced(strings.Join(lines, "")), unspaced(p.text); got != want {
			t.Fatalf("got %q, want %q", got, want)
		}
	}
}

func unspaced(text string) string { return strings.ReplaceAll(text, " ", "") }

// spanWidth measures what is printed of a line, part by part as the printing does.
func spanWidth(f *Setter, p Paragraph, l brokenLine) float64 {
	sum, from := 0.0, 0
	for _, s := range p.spans {
		if a, b := max(from, l.from), min(s.to, l.to); a < b {
			style := p.style
			style.Bold = s.bold
			sum += f.widthOf(p.text[a:b], style)
		}
		from = s.to
	}
	return sum
}

func newSetter(t testing.TB) *Setter {
	t.Helper()
	fonts, err := LoadFonts()
	if err != nil {
		t.Fatal(err)
	}
	return &Setter{Sizes: SizesFor(0, false), Fonts: fonts}
}
