// Package meter is what an instrument makes of a true value: error, range, resolution, unit and band.
package meter

import (
	"math"
	"strconv"

	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
)

// Value is a true reading: a number in the SI unit of its instrument (+Inf: more than any range), or a phrase.
type Value struct {
	Number float64
	Phrase string // "" for a number
}

// Error is one draw of a meter's error: both within -1..1, scaling the instrument's accuracy.
type Error struct{ Gain, Offset float64 }

// Shown is a reading as the instrument shows it.
type Shown struct {
	Text   string  // "12.39 V", "OL", "bright"
	Number float64 // the displayed number, in displayed units; +Inf for OL, NaN for a phrase
	Phrase string
}

// Show passes a true value through an instrument: error, range, resolution.
//
//	shown = round(x + Gain Percent/100 |x| + Offset Counts digit), x = v.Number / Scale
//
// A value above the last range is cards.OverRange. What is less than half a digit shows zero, and an error never turns
// the sign: students need not puzzle over minus a millivolt. Source of the accuracy form: digital meter manuals,
// "percent of reading plus counts".
func Show(in *cards.Instrument, v Value, e Error) Shown {
	s, digits := Display(in, v, e)
	if s.Text == "" {
		s.Text = withUnit(in, s.Number, strconv.FormatFloat(s.Number, 'f', digits, 64))
	}
	return s
}

// Display is Show without the text of a number, which the matrix has no use for, but with the number of its decimals.
func Display(in *cards.Instrument, v Value, e Error) (s Shown, digits int) {
	if v.Phrase != "" {
		return Shown{Text: v.Phrase, Number: math.NaN(), Phrase: v.Phrase}, 0
	}
	x := v.Number / in.Scale
	if digit := 1 / tens[rangeOf(in, x).Digits]; math.Abs(x) >= digit/2 && !math.IsInf(x, 0) {
		off := x + e.Gain*in.Percent/100*math.Abs(x) + e.Offset*in.Counts*digit
		if off*x < 0 {
			off = 0
		}
		x = off
	}
	r := rangeOf(in, x)
	if math.Abs(x) >= in.Ranges[len(in.Ranges)-1].Full && !math.IsInf(in.Ranges[len(in.Ranges)-1].Full, 1) {
		return Shown{Text: cards.OverRange, Number: math.Inf(1)}, 0
	}
	n := rounded(x, r.Digits)
	return Shown{Number: n}, r.Digits
}

// tens are the powers of ten that an instrument's decimals need.
var tens = [...]float64{1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9}

// rounded is x as so many decimals show it, without a minus before a zero.
func rounded(x float64, digits int) float64 {
	n := 0.0
	if y := x * tens[digits]; math.Abs(y) < 1<<40 && math.Abs(math.Abs(y-math.Trunc(y))-0.5) > 1e-3 {
		n = math.Round(y) / tens[digits] // both exact, so this is the number next to the decimals
	} else {
		var room [32]byte
		n, _ = strconv.ParseFloat(string(strconv.AppendFloat(room[:0], x, 'f', digits, 64)), 64)
	}
	if n == 0 {
		return 0
	}
	return n
}

func rangeOf(in *cards.Instrument, x float64) cards.Range {
	for _, r := range in.Ranges {
		if math.Abs(x) < r.Full {
			return r
		}
	}
	return in.Ranges[len(in.Ranges)-1]
}

// withUnit writes resistances the way meters do, in kohm and Mohm above their ranges.
func withUnit(in *cards.Instrument, x float64, text string) string {
	switch {
	case in.Unit != "ohm":
		return text + " " + in.Unit
	case math.Abs(x) >= 600e3:
		return strconv.FormatFloat(x/1e6, 'f', 3, 64) + " MΩ"
	case math.Abs(x) >= 60e3:
		return strconv.FormatFloat(x/1e3, 'f', 1, 64) + " kΩ"
	case math.Abs(x) >= 6e3:
		return strconv.FormatFloat(x/1e3, 'f', 2, 64) + " kΩ"
	case math.Abs(x) >= 600:
		return strconv.FormatFloat(x/1e3, 'f', 3, 64) + " kΩ"
	}
	return text + " Ω"
}

// BandOf classifies a shown reading; beside is the shown reading of the compared test, used only when the test
// compares. The result is an index into the test's Bands.
func BandOf(t *pack.Test, shown, beside Shown) uint8 {
	if shown.Phrase != "" {
		return Named(t, shown.Phrase)
	}
	x := shown.Number
	if t.Compare >= 0 {
		x = beside.Number - shown.Number
	}
	for i, b := range t.Bands {
		if x < b.Below || math.IsInf(b.Below, 1) {
			return uint8(i)
		}
	}
	panic("meter: test " + t.ID + " has no last band")
}

// Named is the band of a test that has the name of a phrase.
func Named(t *pack.Test, phrase string) uint8 {
	for i, b := range t.Bands {
		if b.Name == phrase {
			return uint8(i)
		}
	}
	panic("meter: test " + t.ID + " has no band " + phrase)
}
