package strict

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"
)

// maxShown is the greatest number of characters of a value in a message.
const maxShown = 40

// Show writes a decoded value for a message as it stands in the file, shortened.
func Show(value any) string {
	switch v := value.(type) {
	case string:
		if utf8.RuneCountInString(v) > maxShown {
			return strconv.Quote(string([]rune(v)[:maxShown])) + "..."
		}
		return strconv.Quote(v)
	case float64:
		if s := Digits(v); v != math.Trunc(v) || math.IsInf(v, 0) || strings.Contains(s, "e") {
			return s
		}
		return Digits(v) + ".0" // 3.0 is no whole number
	case time.Time:
		return "a date"
	case []any:
		return showList(v)
	case []map[string]any:
		return "[...]"
	case map[string]any:
		return "{...}"
	}
	return fmt.Sprint(value)
}

// showList writes a short list, and [...] for a long one.
func showList(list []any) string {
	shown := make([]string, 0, len(list))
	for _, item := range list[:min(len(list), maxShown)] {
		shown = append(shown, Show(item))
	}
	text := "[" + strings.Join(shown, ", ") + "]"
	if len(list) > maxShown || utf8.RuneCountInString(text) > maxShown {
		return "[...]"
	}
	return text
}

// Digits writes a number as short as it can be read back.
func Digits(x float64) string {
	switch {
	case math.IsNaN(x):
		return "nan"
	case math.IsInf(x, 0):
		return strings.TrimPrefix(strings.ToLower(fmt.Sprint(x)), "+")
	}
	s := strconv.FormatFloat(x, 'g', -1, 64)
	if a := math.Abs(x); a >= 1e-4 && a < 1e6 {
		s = strconv.FormatFloat(x, 'f', -1, 64)
	}
	return strings.NewReplacer("e+0", "e", "e+", "e", "e-0", "e-").Replace(s)
}

// Within writes a range with its unit.
func Within(low, high float64, unit string) string {
	return strings.TrimSpace(Digits(low) + " to " + Digits(high) + " " + unit)
}

// clip shortens a text that is quoted in a message.
func clip(text string, most int) string {
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	return string([]rune(text)[:most]) + "..."
}
