package strict

import (
	"math"
	"strconv"
	"strings"
)

// AsNumber takes whole numbers for numbers: a person who means 5 V need not write 5.0.
func AsNumber(value any) (float64, bool) {
	switch n := value.(type) {
	case int64:
		return float64(n), true
	case float64:
		return n, true
	}
	return 0, false
}

// Number reads a required number between low and high, both inclusive; low when it is none.
func (t *Table) Number(key, unit string, low, high float64) float64 {
	if !t.need(key) {
		return low
	}
	return t.NumberOr(key, unit, low, high, low)
}

// NumberOr reads a number between low and high that may be left out.
func (t *Table) NumberOr(key, unit string, low, high, otherwise float64) float64 {
	value, has := t.Value(key)
	if !has {
		return otherwise
	}
	x, ok := AsNumber(value)
	if !ok {
		do := "write " + Within(low, high, unit)
		if quotedNumber(value) {
			do += ", without quotes"
		}
		t.Fail(key, do, "%s = %s is not a number", key, Show(value))
		return otherwise
	}
	if !(x >= low && x <= high) { // also refuses NaN
		t.Fail(key, "", "%s = %s is outside %s", key, Digits(x), Within(low, high, unit))
		return otherwise
	}
	return x
}

// quotedNumber tells whether somebody wrote a number in quotes.
func quotedNumber(value any) bool {
	text, _ := value.(string)
	_, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	return err == nil
}

// Whole reads a required whole number between low and high; low when it is none.
func (t *Table) Whole(key string, low, high int64) int64 {
	if !t.need(key) {
		return low
	}
	return t.WholeOr(key, low, high, low)
}

// WholeOr reads a whole number between low and high that may be left out.
func (t *Table) WholeOr(key string, low, high, otherwise int64) int64 {
	value, has := t.Value(key)
	if !has {
		return otherwise
	}
	n, ok := value.(int64)
	if !ok || n < low || n > high {
		do := ""
		if quotedNumber(value) {
			do = "write it without quotes"
		}
		t.Fail(key, do, "%s = %s is not a whole number from %d to %d", key, Show(value), low, high)
		return otherwise
	}
	return n
}

// Minutes reads required minutes, at most one decimal, as tenths of a minute; those of low when they are none.
func (t *Table) Minutes(key string, low, high float64) int64 {
	if !t.need(key) {
		return 0
	}
	return t.MinutesOr(key, low, high, 0)
}

// MinutesOr reads minutes that may be left out; otherwise is in tenths.
func (t *Table) MinutesOr(key string, low, high float64, otherwise int64) int64 {
	if !t.Has(key) {
		return otherwise
	}
	return t.tenths(key, t.NumberOr(key, "minutes", low, high, low))
}

// tenths turns minutes into tenths of a minute and refuses what would be rounded.
func (t *Table) tenths(key string, minutes float64) int64 {
	n := math.Round(10 * minutes)
	if math.Abs(10*minutes-n) > 1e-9 {
		t.Fail(key, "round it", "%s = %s has more than one decimal", key, Digits(minutes))
	}
	return int64(n)
}

// MinutesRange reads two ascending numbers of minutes, as tenths of a minute; nil when left out or wrong.
func (t *Table) MinutesRange(key string, high float64) []int64 {
	ends := t.Numbers(key, 2, 0, high)
	if ends == nil {
		return nil
	}
	from, to := t.tenths(key, ends[0]), t.tenths(key, ends[1])
	if to == 0 || from > to {
		t.Fail(key, "write the lower number first, and the higher above 0", "%s = [%s, %s] holds nothing", key,
			Digits(ends[0]), Digits(ends[1]))
		return nil
	}
	return []int64{from, to}
}

// Numbers reads a list of n numbers between low and high; nil when left out or wrong.
func (t *Table) Numbers(key string, n int, low, high float64) []float64 {
	value, has := t.Value(key)
	if !has {
		return nil
	}
	list := ListOfNumbers(value, n, low, high)
	if list == nil {
		t.Fail(key, "", "%s = %s is not a list of %d numbers from %s", key, Show(value), n, Within(low, high, ""))
	}
	return list
}

// ListOfNumbers gives n numbers between low and high; nil when the value is something else.
func ListOfNumbers(value any, n int, low, high float64) []float64 {
	values, ok := value.([]any)
	if !ok || len(values) != n {
		return nil
	}
	list := make([]float64, n)
	for i, v := range values {
		x, ok := AsNumber(v)
		if !ok || !(x >= low && x <= high) { // also refuses NaN
			return nil
		}
		list[i] = x
	}
	return list
}
