package submission

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/width"

	"nospark/scenarios/draw"
)

// stepHint is what to do about an entry that is no step.
const stepHint = "write three digits, two letters and + or -, like 214KQ+"

// signs are what word processors and telephones make of a plus or a minus.
var signs = map[rune]rune{
	'\u2010': '-', '\u2011': '-', '\u2012': '-', '\u2013': '-', '\u2014': '-', '\u2015': '-', '\u2212': '-',
	'\u207b': '-',
	'\ufe58': '-', '\ufe63': '-', '\u2796': '-', '\u02d7': '-',
	'\ufe62': '+', '\u2795': '+', '\u207a': '+', '\u02d6': '+',
}

// tidy makes what was typed comparable: full-width forms become plain ones, every kind of dash a minus, every kind of
// space a space, small letters capitals; invisible characters vanish.
func tidy(text string) string {
	if isPlain(text) {
		return strings.ToUpper(strings.TrimSpace(text))
	}
	text = width.Narrow.String(strings.ToValidUTF8(text, "?"))
	text = strings.Map(func(r rune) rune {
		if sign, ok := signs[r]; ok {
			return sign
		}
		switch {
		case unicode.IsSpace(r):
			return ' '
		case unicode.Is(unicode.Cf, r), unicode.IsControl(r):
			return -1
		}
		return unicode.ToUpper(r)
	}, text)
	return strings.TrimSpace(text)
}

// isPlain tells text that needs no more than capitals, as nearly all does.
func isPlain(text string) bool {
	for i := range len(text) {
		if text[i] < ' ' || text[i] > '~' {
			return false
		}
	}
	return true
}

// code is tidy without any space: for ids of sheets and repairs, which have none.
func code(text string) string { return strings.ReplaceAll(tidy(text), " ", "") }

// ParseStep reads one entry such as "214KQ+", "214 kq –" or, where no verdict is asked, "214KQ". The error says what
// is wrong with it and what to write instead.
func ParseStep(text string) (Step, error) {
	s := code(text)
	step, rest := scanStep(s)
	if s == "" || step.Line < 0 || rest != "" {
		return Step{Text: text, Line: -1}, fmt.Errorf("%s; %s", whyNoStep(text, s), stepHint)
	}
	step.Text = text
	return step, nil
}

// scanStep reads a step from the front of s, which is the outcome of code, and returns what follows it. Line is -1 if
// there is none.
func scanStep(s string) (Step, string) {
	if len(s) < 5 {
		return Step{Line: -1}, s
	}
	line := 0
	for i := range 3 {
		if s[i] < '0' || s[i] > '9' {
			return Step{Line: -1}, s
		}
		line = 10*line + int(s[i]-'0')
	}
	for i := 3; i < 5; i++ {
		if s[i] < 'A' || s[i] > 'Z' {
			return Step{Line: -1}, s
		}
	}
	step := Step{Line: line, Letters: s[3:5]}
	s = s[5:]
	if s != "" && (s[0] == '+' || s[0] == '-') {
		step.Judged, s = s[:1], s[1:]
	}
	return step, s
}

// NeverLetters says what no check letter is, for messages about letters that look like digits.
const NeverLetters = "check letters are never A, E, I, O, U or Y"

// NoCheckLetters tells whether a text holds a letter that no check letter is.
func NoCheckLetters(text string) bool {
	return strings.ContainsFunc(text, func(r rune) bool {
		return unicode.IsLetter(r) && !strings.ContainsRune(draw.Alphabet, r)
	})
}

// whyNoStep finds the likely slip in an entry: a digit or letter short, an O for a 0, a verdict in words, a reading.
func whyNoStep(text, s string) string {
	what := quote(text) + " is not a step"
	digits := len(s) - len(strings.TrimLeft(s, "0123456789"))
	letters := len(s[digits:]) - len(strings.TrimLeftFunc(s[digits:], func(r rune) bool {
		return r >= 'A' &&
			r <= 'Z'
	}))
	after := s[digits+letters:]
	judged := after == "+" || after == "-"
	switch {
	case digits == 3 && letters > 2 && after == "":
		return what + fmt.Sprintf(": %q follows the two letters", s[digits+2:])
	case digits == 2 && letters == 2 && after == "":
		return what + ": it has the form of a repair"
	case digits == 3 && letters == 2 && after != "":
		return what + fmt.Sprintf(": %q follows the letters", after)
	case digits < 3 && digits+1 < len(s) && strings.ContainsAny(s[digits:digits+1], "OIL") && len(s) >= 5:
		return what + fmt.Sprintf(": the letter %c stands where a digit belongs", s[digits])
	case digits > 0 && digits < 3 && letters == 2 && judged:
		return what + fmt.Sprintf(": a line has three digits, as in %s%s", strings.Repeat("0", 3-digits), s)
	case digits == 3 && letters < 2 && after != "" && strings.ContainsAny(after[:1], "01"):
		return what + fmt.Sprintf(": the digit %c stands where a letter belongs; %s", after[0], NeverLetters)
	case digits > 3 && strings.ContainsAny(s[3:4], "01") && letters > 0:
		return what + fmt.Sprintf(": the digit %c stands where a letter belongs; %s", s[3], NeverLetters)
	case digits == 3 && letters == 0 && after != "" && strings.ContainsAny(after[:1], "-.:_"):
		return what + fmt.Sprintf(": %q stands between line and letters", after[:1])
	case digits > 0 && digits <= 3 && digits == len(s):
		return what + ": the letters are missing"
	case letters == 2 && digits == 0 && after != "" && after[0] >= '0' && after[0] <= '9':
		return what + ": the letters stand before the line"
	case digits > 0 && after != "" && strings.ContainsAny(after[:1], ".,") && letters == 0:
		return what + ": it looks like a reading"
	}
	return what
}

// quote puts what was written between quotes, short enough for a message.
func quote(text string) string { return clipped(text, 30) }

// clipped puts at most that many characters between quotes; those that would move the cursor become spaces.
func clipped(text string, most int) string {
	if runes := []rune(strings.ToValidUTF8(text, "?")); len(runes) > most {
		text = string(runes[:most]) + "…"
	}
	return "'" + strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
			return ' '
		}
		return r
	}, text) + "'"
}

// parseCell reads all steps of a cell: usually one, but "214KQ+ 305HM-" or "214KQ+,305HM-" in one cell is understood
// too. What is no step is kept with Line -1 and remarked.
func parseCell(place, text string, n *notes) []Step {
	whole := code(text)
	if strings.ContainsAny(whole, ",;/") {
		whole = strings.NewReplacer(",", "", ";", "", "/", "").Replace(whole)
	}
	if whole == "" {
		return nil
	}
	if steps, ok := scanAll(whole); ok {
		for i := range steps {
			steps[i].Place, steps[i].Text = place, strings.TrimSpace(text)
			if len(steps) > 1 {
				steps[i].Text = fmt.Sprintf("%03d%s%s", steps[i].Line, steps[i].Letters, steps[i].Judged)
			}
		}
		return steps
	}
	words := strings.FieldsFunc(tidy(text), func(r rune) bool { return strings.ContainsRune(" ,;/", r) })
	if !slices.ContainsFunc(words, isStep) {
		words = []string{strings.TrimSpace(text)}
	}
	var steps []Step
	for _, word := range words[:min(len(words), maxSteps+1)] { // one more tells that there are too many
		s := code(word)
		step, rest := scanStep(s)
		step.Place, step.Text = place, word
		if s == "" || step.Line < 0 || rest != "" {
			step = Step{Place: place, Text: word, Line: -1}
			why := ""
			if !n.full() {
				why = whyNoStep(word, s)
			}
			n.add(place, why, stepHint)
		}
		steps = append(steps, step)
	}
	return steps
}

// isStep tells a word that is a step from any other.
func isStep(word string) bool {
	step, rest := scanStep(code(word))
	return step.Line >= 0 && rest == ""
}

// scanAll reads a text that consists of steps and nothing else.
func scanAll(s string) ([]Step, bool) {
	var steps []Step
	for s != "" {
		step, rest := scanStep(s)
		if step.Line < 0 {
			return nil, false
		}
		steps, s = append(steps, step), rest
	}
	return steps, true
}
