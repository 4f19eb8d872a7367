package typeset

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

func TestClean(t *testing.T) {
	check := func(name, text, want string) {
		t.Helper()
		if got := Clean(text, 12); got != want {
			t.Errorf("%s: got %q, want %q", name, got, want)
		}
	}
	check("plain", "Ohm's law", "Ohm's law")
	check("composed", "e\u0301", "é")
	check("invalid", "a\xffb", "a□b")
	check("line ends", "a\tb\r\nc", "a b  c")
	check("line separator", "a\u2028b", "a b")
	check("marks brought together", "\u0301\u070f\u05c2", "\u05c2\u0301")
	check("control", "a\x00\x1b\u0085b", "ab")
	check("direction marks and joiners", "a\u202eb\u200dc\u00add\ufeff", "abcd")
	check("variation selector", "✓\ufe0f", "✓")
	check("noncharacter", "a\uffffb", "ab")
	check("beyond the basic plane", "a😀b", "a□b")
	check("beyond the basic plane after composing", "\ufad1", "□") // U+FAD1 stands for U+233D5 (UnicodeData.txt)
	check("private use", "\ue000", "□")
	check("just long enough", "abcdefghijkl", "abcdefghijkl")
	check("too long", "abcdefghijklm", "abcdefghijk…")
	check("too long at a space", "abcdefghij lm", "abcdefghij…")
	check("long in bytes only", "éééééééééééé", "éééééééééééé")
}

func TestLegible(t *testing.T) {
	fonts, err := LoadFonts()
	if err != nil {
		t.Fatal(err)
	}
	check := func(name, text, want string, replaced int, unshaped bool) {
		t.Helper()
		if got := fonts.Legible(text); got != (Legibility{want, replaced, unshaped}) {
			t.Errorf("%s: %+v", name, got)
		}
	}
	check("Latin", "Zoë Müller", "Zoë Müller", 0, false)
	check("Vietnamese", "Nguyễn Thị Ánh", "Nguyễn Thị Ánh", 0, false)
	check("Polish and Turkish", "Łukasz Yiğit İnce", "Łukasz Yiğit İnce", 0, false)
	check("Greek", "Γιώργος", "Γιώργος", 0, false)
	check("Cyrillic", "Олександр", "Олександр", 0, false)
	check("Chinese", "王芳 Wang", "□□ Wang", 2, false)
	check("Korean from parts", "\u1112\u1161\u11ab", "□", 1, false) // composes to one syllable
	check("Devanagari", "नेहा", "□□□□", 4, false)
	check("Hebrew", "נועה", "נועה", 0, true)
	check("Arabic", "ليلى", "ليلى", 0, true)
	check("emoji", "Sam 😀", "Sam □", 1, false)
	check("symbols of the trade", "Ω µ ± ° → − ≤ ✓ ✗ □ ☐ ½ × “”", "Ω µ ± ° → − ≤ ✓ ✗ □ ☐ ½ × “”", 0, false)
}

// FuzzClean checks what the PDF library needs of a text.
func FuzzClean(f *testing.F) {
	for _, seed := range []string{"", "plain", "e\u0301", "a\xffb", "\x00\u202e", "😀", "\ufad1", "a\u0300\u0301\u0302",
		strings.Repeat("é", 40), "\r\n\t", "**b**"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		const longest = 30
		clean := Clean(text, longest)
		if !utf8.ValidString(clean) || !norm.NFC.IsNormalString(clean) {
			t.Errorf("%q is not valid or not composed", clean)
		}
		if n := utf8.RuneCountInString(clean); n > longest {
			t.Errorf("%d characters", n)
		}
		for _, r := range clean {
			if r > 0xFFFF || unicode.In(r, unicode.Cc, unicode.Cf, unicode.Co, unicode.Noncharacter_Code_Point) {
				t.Errorf("%q has %U", clean, r)
			}
		}
		if again := Clean(clean, longest); again != clean {
			t.Errorf("cleaning twice gives %q, then %q", clean, again)
		}
	})
}
