// Package spec puts into words what a good reading of a test is. Start at [Text].
package spec

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/strict"
)

// Text says what a good reading of a test is, exactly as the bands use it: "below" is strict, "at least" and
// "at most" are not. The numbers are those of the displayed unit; a test that compares is put in words against the
// reading beside it.
//
//	below 0.5 V
//	at least 4 and below 12 kohm
//	less than 0.5 V below the battery reading
//	bright or dim
func Text(t pack.Test, p *pack.Pack) string {
	own := t.Own()
	var parts []string
	low := math.Inf(-1)
	for i := 0; i < len(own); i++ {
		if t.Instrument.Phrases != nil {
			if own[i].Normal {
				parts = append(parts, own[i].Name)
			}
			continue
		}
		if !own[i].Normal {
			low = own[i].Below
			continue
		}
		for i+1 < len(own) && own[i+1].Normal { // neighbors that are both normal are one range
			i++
		}
		if t.Compare >= 0 {
			parts = append(parts, difference(t.Instrument, low, own[i].Below)+" "+besideReading(t, p))
		} else {
			parts = append(parts, interval(t.Instrument, low, own[i].Below))
		}
		low = own[i].Below
	}
	return strings.Join(parts, " or ")
}

// Beside names the reading that a test is compared with, short, as it is printed beside it: "battery" across the
// battery, "point 7" for a reading against the fixed lead of a sweep or the reference, otherwise the words of the
// test's id. "" when the test does not compare.
func Beside(t pack.Test, p *pack.Pack) string {
	if t.Compare < 0 {
		return ""
	}
	o := p.Tests[t.Compare]
	at := o.Point(p)
	switch {
	case o.Sweep < 0 && o.Black != p.Reference:
		id, _, _ := strings.Cut(o.ID, ".")
		return strings.NewReplacer("-", " ", "_", " ").Replace(id)
	case p.Nodes[at].Role == pack.RoleBattery || onBattery(at, p):
		return "battery"
	}
	return "point " + strconv.Itoa(at+1)
}

// onBattery tells whether a node is the positive post of a battery.
func onBattery(node int, p *pack.Pack) bool {
	return slices.ContainsFunc(p.Parts,
		func(part pack.Part) bool { return part.Kind.Name == "battery" && part.Pins[0] == node })
}

// besideReading names that reading within a sentence.
func besideReading(t pack.Test, p *pack.Pack) string {
	name := Beside(t, p)
	if strings.HasPrefix(name, "point ") {
		return "the reading at " + name
	}
	return "the " + name + " reading"
}

// interval writes low <= x < high in the instrument's unit.
func interval(in *cards.Instrument, low, high float64) string {
	unit, scale := readable(in.Unit, low, high)
	number := func(x float64) string { return strict.Digits(round(x / scale)) }
	over := ""
	if in.ID == "ohmmeter" && math.IsInf(high, 1) {
		over = ", or " + cards.OverRange
	}
	switch {
	case math.IsInf(low, -1):
		return "below " + number(high) + unit
	case math.IsInf(high, 1):
		return "at least " + number(low) + unit + over
	}
	return "at least " + number(low) + " and below " + number(high) + unit
}

// difference writes low <= beside - reading < high as a place of the reading: so much below or above the one beside it.
func difference(in *cards.Instrument, low, high float64) string {
	unit, scale := readable(in.Unit, low, high)
	amount := func(x float64) string { return strict.Digits(round(math.Abs(x)/scale)) + unit }
	var least, most string // how far below at least, and how far at most
	switch {
	case math.IsInf(low, -1):
	case low > 0:
		least = "at least " + amount(low)
	case low == 0:
		least = "not above"
	default:
		least = "at most " + amount(low) + " above"
	}
	switch {
	case math.IsInf(high, 1):
	case high > 0:
		most = "less than " + amount(high) + " below"
	case high == 0:
		most = "above"
	default:
		most = "more than " + amount(high) + " above"
	}
	switch {
	case most == "" && low > 0:
		return least + " below"
	case most == "":
		return least
	case least == "":
		return most
	case high < 0: // both above
		return "more than " + amount(high) + " and " + least
	}
	return least + " and " + most
}

// readable picks Ω, kΩ or MΩ for resistances by the greater end of a range, as meters do. The unit comes with its
// space.
func readable(unit string, low, high float64) (string, float64) {
	prefix, scale := "", 1.0
	if unit == "ohm" {
		unit = "Ω"
		greatest := 0.0
		for _, x := range []float64{low, high} {
			if !math.IsInf(x, 0) {
				greatest = max(greatest, math.Abs(x))
			}
		}
		switch {
		case greatest >= 1e6:
			prefix, scale = "M", 1e6
		case greatest >= 1e3:
			prefix, scale = "k", 1e3
		}
	}
	if strings.HasPrefix(unit, "° ") {
		return unit, scale // a degree sign follows its number at once
	}
	return " " + prefix + unit, scale
}

// round takes away what dividing by a scale adds to a decimal number.
func round(x float64) float64 {
	if x == 0 || math.Abs(x) > 1e9 {
		return x
	}
	return math.Round(x*1e9) / 1e9
}
