package tabular

import (
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
	"golang.org/x/text/width"

	"nospark/scenarios/spelling"
)

// Fold makes headings comparable: "Large_Print ", "large-print" and full-width
// forms equal "large print". Invisible marks are left out.
func Fold(heading string) string {
	heading = strings.Map(func(r rune) rune {
		switch {
		case r == '_', r == '-':
			return ' '
		case unicode.Is(unicode.Cf, r):
			return -1
		}
		return r
	}, width.Narrow.String(norm.NFC.String(heading)))
	return strings.ToLower(strings.Join(strings.Fields(heading), " "))
}

// Find returns the column of the first wanted heading that there is, or -1. The
// order of wanted, which is folded, decides, not that of the columns.
func Find(headings, wanted []string) int {
	for _, w := range wanted {
		if i := slices.IndexFunc(headings, func(h string) bool { return Fold(h) == w }); i >= 0 {
			return i
		}
	}
	return -1
}

// Ask is the end of a message about headings that are not known:
// `; did you mean "section"?`, or "" when none is near to a known one that is
// still missing.
func Ask(unknown, missing []string) string {
	for _, heading := range unknown {
		if hint := spelling.Ask(Fold(heading), missing); hint != "" {
			return hint
		}
	}
	return ""
}
