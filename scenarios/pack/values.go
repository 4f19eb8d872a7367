package pack

import (
	"math"
	"slices"
	"strings"

	"nospark/scenarios/spelling"
)

// parameter reads a value of a card: a number in its range, "open", "short", true or false, key positions, and where ranged a list of
// two numbers. high equals low for a single value.
func (t *table) parameter(p *Param, ranged bool) (low, high float64, ok bool) {
	value := t.values[p.Name]
	switch p.Kind {
	case Boolean:
		b, ok := value.(bool)
		if !ok {
			t.fail(p.Name, "write true or false without quotes", "%s = %s is neither true nor false", p.Name, show(value))
			return 0, 0, false
		}
		if b {
			return 1, 1, true
		}
		return 0, 0, true
	case Positions:
		x, ok := t.positions(p)
		return x, x, ok
	}
	if list, isList := value.([]any); isList && ranged {
		return t.severities(p, list)
	}
	x, ok := t.quantity(p, value)
	return x, x, ok
}

// quantity reads one number or word. The words stand outside the range of numbers: a coil's primary may be "short" although 0 ohm is no
// primary that a part could have.
func (t *table) quantity(p *Param, value any) (float64, bool) {
	switch word, _ := value.(string); {
	case word == "open" && p.Open:
		return math.Inf(1), true
	case word == "short" && p.Short:
		return 0, true
	}
	x, ok := asNumber(value)
	switch {
	case !ok:
		t.fail(p.Name, "write "+valid(p), "%s = %s is not a number", p.Name, show(value))
	case !(x >= p.Min && x <= p.Max): // also refuses NaN
		t.fail(p.Name, "", "%s = %s is outside %s", p.Name, digits(x), valid(p))
		ok = false
	case p.Whole && x != math.Trunc(x):
		t.fail(p.Name, "", "%s = %s is not a whole number", p.Name, digits(x))
		ok = false
	}
	return x, ok
}

// severities reads the range [low, high] of a fault. "open" is no end of a range: between it and any number there is no middle.
func (t *table) severities(p *Param, list []any) (low, high float64, ok bool) {
	switch {
	case len(list) != 2:
		t.fail(p.Name, "write [low, high]", "%s has a list of %d values, not of 2", p.Name, len(list))
		return 0, 0, false
	case p.Whole:
		t.fail(p.Name, "write one fault for each value", "%s takes whole numbers and no range", p.Name)
		return 0, 0, false
	}
	for _, end := range list {
		if word, isWord := end.(string); isWord {
			t.fail(p.Name, `write a second fault for "open"`, "%q cannot be the end of a range of %s", word, p.Name)
			return 0, 0, false
		}
	}
	low, lowOK := t.quantity(p, list[0])
	high, highOK := t.quantity(p, list[1])
	if lowOK && highOK && low >= high {
		t.fail(p.Name, "write the smaller one first", "range [%s, %s] of %s does not ascend", digits(low), digits(high), p.Name)
		return 0, 0, false
	}
	return low, high, lowOK && highOK
}

// positions reads a list of key positions as a set of bits.
func (t *table) positions(p *Param) (float64, bool) {
	list, at := t.texts(p.Name)
	if list == nil {
		return 0, false
	}
	var set Key
	for i, name := range list {
		if !slices.Contains(keyNames(), name) {
			t.r.fail(at[i], spelling.Suggest(name, keyNames()), "%s: unknown key position %q in %s", t.who, name, p.Name)
			return 0, false
		}
		set |= keyByName(name)
	}
	return float64(set), true
}

// valid writes what a parameter may be.
func valid(p *Param) string {
	switch p.Kind {
	case Boolean:
		return "true or false"
	case Positions:
		return "a list of " + strings.Join(keyNames(), ", ")
	}
	s := within(p.Min, p.Max, p.Unit)
	if p.Open {
		s += ` or "open"`
	}
	if p.Short {
		s += ` or "short"`
	}
	return s
}
