package typeset

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/bidi"
	"golang.org/x/text/unicode/norm"
)

// Placeholder stands where a character cannot be printed.
const Placeholder = '□'

// Longest texts in characters; what is longer ends in an ellipsis.
const (
	longestLine      = 500
	longestParagraph = 20_000
)

// Legibility says how a text will look on paper.
type Legibility struct {
	Text     string // cleaned, with [Placeholder] for each character that cannot be printed
	Replaced int    // number of placeholders put in
	// has letters of a script written from right to left, which come out unjoined and from left to right
	Unshaped bool
}

// Legible tells how a text, usually a name, will look on paper. All text is treated in the same way when it is printed,
// so nothing needs to be called before printing; the answer is for warnings.
func (f *Fonts) Legible(text string) Legibility {
	clean, lost := clean(text, longestLine)
	l := Legibility{Text: clean, Replaced: lost}
	l.Text = strings.Map(func(r rune) rune {
		if class := classOf(r); class == bidi.R || class == bidi.AL {
			l.Unshaped = true
		}
		if f.has(r) {
			return r
		}
		l.Replaced++
		return Placeholder
	}, clean)
	return l
}

func classOf(r rune) bidi.Class {
	properties, _ := bidi.LookupRune(r)
	return properties.Class()
}

// printable is Legible without the questions, for the many texts that are printed.
func (f *Fonts) printable(text string, longest int) string {
	if plainASCII(text) && len(text) <= longest {
		return text
	}
	text, _ = clean(text, longest)
	return strings.Map(func(r rune) rune {
		if r < 0x7F || f.has(r) {
			return r
		}
		return Placeholder
	}, text)
}

func plainASCII(text string) bool {
	for i := range len(text) {
		if text[i] < 0x20 || text[i] > 0x7E {
			return false
		}
	}
	return true
}

// Clean makes a text fit for a PDF: valid UTF-8 in normalization form C, from the basic plane, without control and
// format characters, at most longest characters. Tabs and line ends become spaces. What is left out silently has no
// shape of its own; a character that has one becomes a [Placeholder].
func Clean(text string, longest int) string {
	text, _ = clean(text, longest)
	return text
}

func clean(text string, longest int) (string, int) {
	if plainASCII(text) && len(text) <= longest {
		return text, 0
	}
	// Cutting first keeps the cost of normalizing a hostile text low. Composing shortens a text to a quarter at most in
	// practice.
	text, cut := capped(text, 4*longest)
	lost := 0
	text = strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r' || unicode.In(r, unicode.Zl, unicode.Zp):
			return ' '
		case unicode.In(r, unicode.Cc, unicode.Cf, unicode.Variation_Selector, unicode.Noncharacter_Code_Point):
			return -1
		case unicode.In(r, unicode.Co, unicode.Cs):
			lost++
			return Placeholder
		}
		return r
	}, strings.ToValidUTF8(text, string(Placeholder)))
	// Composing comes after leaving out, which can bring marks together, and can itself lead out of the basic plane.
	text = strings.Map(func(r rune) rune {
		if r > 0xFFFF {
			lost++
			return Placeholder
		}
		return r
	}, norm.NFC.String(text))
	text, cutAgain := capped(text, longest)
	if cut || cutAgain {
		text, _ = capped(text, longest-1)
		text = strings.TrimRight(text, " ") + "…"
	}
	return text, lost
}

// capped gives at most the first n characters of the text.
func capped(text string, n int) (string, bool) {
	if len(text) <= n {
		return text, false
	}
	count := 0
	for i := range text {
		if count == n {
			return text[:i], true
		}
		count++
	}
	return text, false
}

// breaks splits outside text into its own lines before they are cleaned. A text of very many lines keeps the first
// ones; the rest is one line.
func breaks(text string) []string {
	if !strings.ContainsAny(text, "\n\r") {
		return []string{text}
	}
	const most = 200
	return strings.SplitN(strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n"), "\n", most)
}

// spaced replaces no-break spaces, which have done their duty when a line is printed, so that a search for plain spaces
// finds the text.
func spaced(text string) string {
	if utf8.RuneCountInString(text) == len(text) {
		return text
	}
	return strings.ReplaceAll(text, "\u00a0", " ")
}
