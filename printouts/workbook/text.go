package workbook

import (
	"regexp"
	"strings"
	"unicode"
)

// maxText is the most characters that a cell holds (Microsoft, "Excel specifications and limits").
const maxText = 32767

// chained finds two codes of characters, as the file format writes them, that share an underscore. The library protects
// text that looks like one such code, but takes the second of two for a character.
var chained = regexp.MustCompile(`(_x[0-9A-Za-z]{4}_)(x[0-9A-Za-z]{4}_)`)

// clean makes text fit for a cell: valid UTF-8 without the characters that XML forbids, that break a line, or that turn
// the direction of what follows them. What a formula begins with is left alone, since every text is written as a text
// cell.
func clean(text string) string {
	text = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case unicode.IsControl(r), r == '\ufffe', r == '\uffff', r == '\ufeff':
			return -1
		case r >= '\u202a' && r <= '\u202e', r >= '\u2066' && r <= '\u2069':
			return -1
		}
		return r
	}, strings.ToValidUTF8(text, "?"))
	for chained.MatchString(text) {
		text = chained.ReplaceAllString(text, "$1 $2")
	}
	if len(text) <= maxText {
		return text
	}
	runes := []rune(text)
	return string(runes[:min(len(runes), maxText/2)]) // a character may count twice
}

// wide tells the characters that are drawn about twice as wide as a digit: those of East Asia and pictures.
func wide(r rune) bool {
	return unicode.In(r, unicode.Han, unicode.Hiragana, unicode.Katakana, unicode.Hangul) || r >= 0xff01 &&
		r <= 0xff60 || r >= 0x1f300
}

// TextWidth estimates how wide a text is in a workbook's units, digits of the standard font. The classes hold for Arial
// and for the broader fonts that take its place, whose digits are broader too; within a class the widest letter counts,
// since a text that is cut is worse than a cell too large.
func TextWidth(text string) float64 {
	var width float64
	for _, r := range text {
		switch {
		case unicode.Is(unicode.Mn, r):
		case wide(r):
			width += 2
		case strings.ContainsRune("ijl'|", r):
			width += 0.45
		case strings.ContainsRune(" .,;:!()[]ft/", r):
			width += 0.6
		case strings.ContainsRune("r-", r):
			width += 0.65
		case strings.ContainsRune("ckszvxy", r):
			width += 0.93
		case strings.ContainsRune("mMW", r):
			width += 1.55
		case unicode.IsUpper(r), r == 'w':
			width += 1.3
		default:
			width++
		}
	}
	return width
}

// LineCount estimates how many lines a text takes in a cell of that width when it is wrapped between words.
func LineCount(text string, width float64) int {
	lines, used, space := 1, 0.0, TextWidth(" ")
	for _, word := range strings.Fields(text) {
		w := TextWidth(word)
		if used > 0 && used+space+w > width {
			lines, used = lines+1, 0
		}
		if used > 0 {
			used += space
		}
		used += w
		for ; used > width; used -= width { // a word that is longer than a line is cut
			lines++
		}
	}
	return lines
}
