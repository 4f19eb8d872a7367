package pack

import (
	"math"
	"slices"
	"strings"

	"nospark/scenarios/pack/cards"
	"nospark/scenarios/spelling"
	"nospark/scenarios/strict"
)

// parameters reads the values of the card in its order. What the file gives is remembered: a default and a written
// value can be equal, and rules such as "one of the two" ask what was written.
func (r *reader) parameters(t *strict.Table, p *Part) {
	p.Values = make([]float64, len(p.Kind.Params))
	for i, param := range p.Kind.Params {
		p.Values[i] = param.Default
		if !t.Has(param.Name) {
			continue
		}
		r.declared[p.ID+"."+param.Name] = true
		if low, _, ok := readParameter(t, &param, false); ok {
			p.Values[i] = low
		}
		r.terminal(t, p, &param, p.Values[i])
	}
	low, high := p.Kind.Param("low_volts"), p.Kind.Param("high_volts")
	if low >= 0 && high >= 0 && p.Values[low] >= p.Values[high] {
		t.Fail("low_volts", "", "low_volts = %s is not below high_volts = %s",
			strict.Digits(p.Values[low]), strict.Digits(p.Values[high]))
	}
	switch p.Kind.Name {
	case "wire":
		r.wire(t, p)
	case "battery": // the emf may stay NaN: it then follows charge_percent, which a fault may change
		if r.declared[p.ID+".emf_volts"] && r.declared[p.ID+".charge_percent"] {
			t.Fail("charge_percent", "give one of them", "emf_volts is given too")
		}
		r.require(t, p, "resistance_ohms")
	default:
		for _, param := range p.Kind.Params {
			r.require(t, p, param.Name)
		}
	}
}

// require reports a parameter that has neither a value nor a default.
func (r *reader) require(t *strict.Table, p *Part, name string) {
	if math.IsNaN(p.Value(name)) && !r.declared[p.ID+"."+name] {
		t.Missing(name)
	}
}

// wire computes the resistance of a wire from gauge and length when it is not given.
func (r *reader) wire(t *strict.Table, p *Part) {
	given := func(name string) bool { return r.declared[p.ID+"."+name] }
	switch {
	case given("resistance_ohms") && (given("gauge_awg") || given("length_metres")):
		t.Fail("resistance_ohms", "leave out one or the other", "resistance_ohms is given beside gauge and length")
	case given("resistance_ohms"):
	case !given("gauge_awg") && !given("length_metres"):
		t.Fail("kind", "", "key %q is missing, or gauge_awg with length_metres", "resistance_ohms")
	case !given("gauge_awg"):
		t.Missing("gauge_awg")
	case !given("length_metres"):
		t.Missing("length_metres")
	default:
		p.Values[p.Kind.Param("resistance_ohms")] = cards.WireOhms(p.Value("gauge_awg"), p.Value("length_metres"))
	}
}

// terminal checks parameters that name one of a distributor's terminals.
func (r *reader) terminal(t *strict.Table, p *Part, param *cards.Param, x float64) {
	if n := len(p.Pins) - 1; p.Kind.More && strings.HasSuffix(param.Name, "_terminal") && x > float64(n) {
		t.Fail(param.Name, "", "%s = %s, but %s has terminals 1 to %d", param.Name, strict.Digits(x), p.ID, n)
	}
}

// readParameter reads a value of a card: a number in its range, "open", "short", true or false, key positions, and
// where ranged a list of two numbers. high equals low for a single value.
func readParameter(t *strict.Table, p *cards.Param, ranged bool) (low, high float64, ok bool) {
	value, _ := t.Value(p.Name)
	switch p.Kind {
	case cards.Boolean:
		on := 0.0
		if t.Flag(p.Name, false) {
			on = 1
		}
		_, ok := value.(bool)
		return on, on, ok
	case cards.KeyPositions:
		x, ok := keyPositions(t, p)
		return x, x, ok
	}
	if list, isList := value.([]any); isList && ranged {
		return severities(t, p, list)
	}
	x, ok := numberOrWord(t, p, value)
	return x, x, ok
}

// numberOrWord reads one number or word. The words stand outside the range of numbers: a coil's primary may be
// "short" although 0 ohm is no primary that a part could have.
func numberOrWord(t *strict.Table, p *cards.Param, value any) (float64, bool) {
	switch word, _ := value.(string); {
	case word == "open" && p.Open:
		return math.Inf(1), true
	case word == "short" && p.Short:
		return 0, true
	}
	x, ok := strict.AsNumber(value)
	switch {
	case !ok:
		t.Fail(p.Name, "write "+p.Valid(), "%s = %s is not a number", p.Name, strict.Show(value))
	case !(x >= p.Min && x <= p.Max): // also refuses NaN
		t.Fail(p.Name, "", "%s = %s is outside %s", p.Name, strict.Digits(x), p.Valid())
		ok = false
	case p.Whole && x != math.Trunc(x):
		t.Fail(p.Name, "", "%s = %s is not a whole number", p.Name, strict.Digits(x))
		ok = false
	}
	return x, ok
}

// severities reads the range [low, high] of a fault. "open" is no end of a range: between it and any number there
// is no middle.
func severities(t *strict.Table, p *cards.Param, list []any) (low, high float64, ok bool) {
	switch {
	case len(list) != 2:
		t.Fail(p.Name, "write [low, high]", "%s has a list of %d values, not of 2", p.Name, len(list))
		return 0, 0, false
	case p.Whole:
		t.Fail(p.Name, "write one fault for each value", "%s takes whole numbers and no range", p.Name)
		return 0, 0, false
	}
	for _, end := range list {
		if word, isWord := end.(string); isWord {
			t.Fail(p.Name, `write a second fault for "open"`, "%q cannot be the end of a range of %s", word, p.Name)
			return 0, 0, false
		}
	}
	low, lowOK := numberOrWord(t, p, list[0])
	high, highOK := numberOrWord(t, p, list[1])
	if lowOK && highOK && low >= high {
		t.Fail(p.Name, "write the smaller one first", "range [%s, %s] of %s does not ascend",
			strict.Digits(low), strict.Digits(high), p.Name)
		return 0, 0, false
	}
	return low, high, lowOK && highOK
}

// keyPositions reads a list of key positions as a set of bits.
func keyPositions(t *strict.Table, p *cards.Param) (float64, bool) {
	list, at := t.Texts(p.Name)
	if list == nil {
		return 0, false
	}
	var set cards.KeyPosition
	for i, name := range list {
		if !slices.Contains(cards.KeyNames(), name) {
			t.FailAt(at[i], spelling.Suggest(name, cards.KeyNames()), "unknown key position %q in %s", name, p.Name)
			return 0, false
		}
		set |= cards.KeyByName(name)
	}
	return float64(set), true
}
