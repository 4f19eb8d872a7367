package pack

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"
)

// asNumber takes whole numbers for numbers: a person who means 5 V need not write 5.0.
func asNumber(v any) (float64, bool) {
	switch n := v.(type) {
	case int64:
		return float64(n), true
	case float64:
		return n, true
	}
	return 0, false
}

// show writes a decoded value for a message.
func show(v any) string {
	switch v := v.(type) {
	case string:
		if utf8.RuneCountInString(v) > 40 {
			return strconv.Quote(string([]rune(v)[:40])) + "..."
		}
		return strconv.Quote(v)
	case float64:
		if s := digits(v); v != math.Trunc(v) || math.IsInf(v, 0) || strings.Contains(s, "e") {
			return s
		}
		return digits(v) + ".0" // as it was written: 3.0 is no whole number
	case time.Time:
		return "a date"
	case []any, []map[string]any:
		return "[...]"
	case map[string]any:
		return "{...}"
	}
	return fmt.Sprint(v)
}

// digits writes a number as short as it can be read back.
func digits(x float64) string {
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

// within writes a range with its unit.
func within(low, high float64, unit string) string {
	return strings.TrimSpace(digits(low) + " to " + digits(high) + " " + unit)
}
