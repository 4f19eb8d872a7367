package wording

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Line is the number of a line of the readings sheet, three digits.
func Line(n int) string { return fmt.Sprintf("%03d", n) }

// Minutes writes tenths of a minute: "2", "0.5".
func Minutes(tenths int64) string {
	if tenths%10 == 0 {
		return fmt.Sprint(tenths / 10)
	}
	return fmt.Sprintf("%d.%d", tenths/10, tenths%10)
}

// LostMinutes writes tenths of a minute that need not be whole.
func LostMinutes(tenths float64) string { return Short(tenths/10, 2) }

// Short writes a number with at most the given decimals and no zeros at its end: "3", "0.8", "0.83".
func Short(x float64, decimals int) string {
	text := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

// Points writes points of a mark, one decimal.
func Points(x float64) string { return strconv.FormatFloat(math.Round(x*10)/10, 'f', 1, 64) }

// Count words a number of things: "1 suspect", "7 suspects".
func Count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}
