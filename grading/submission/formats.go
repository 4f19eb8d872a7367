package submission

import (
	"strconv"
	"strings"
)

// Of number formats two things matter: leading zeros, which may belong to an id, and dates, which are no id.

// zerosOf counts the digits that a number format like 0000 shows at least; 0 for any other format.
func zerosOf(code string) int {
	const most = 40 // digits of an id
	if len(code) > most || strings.Trim(code, "0") != "" {
		return 0
	}
	return len(code)
}

// isDate recognizes the number format of a date or time: a letter of one outside of quotes, brackets and escapes.
func isDate(code string) bool {
	const longest = 255 // characters of a number format (ECMA-376)
	if len(code) > longest {
		return false
	}
	for i := 0; i < len(code); i++ {
		closing := map[byte]string{'"': `"`, '[': "]"}[code[i]]
		switch {
		case closing != "":
			n := strings.Index(code[i+1:], closing)
			if n < 0 {
				return false
			}
			i += n + 1
		case code[i] == '\\', code[i] == '_', code[i] == '*':
			i++
		case strings.IndexByte("yYmMdDhHsS", code[i]) >= 0:
			return true
		}
	}
	return false
}

// isDateID recognizes the numbers that stand for built-in formats of dates and times (ECMA-376, numFmt).
func isDateID(id string) bool {
	n, err := strconv.Atoi(id)
	return err == nil && (n >= 14 && n <= 22 || n >= 45 && n <= 47)
}
