package pack

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"nospark/scenarios/lines"
	"nospark/scenarios/spelling"
)

// table is one TOML table with the lines of its keys. It remembers which keys were asked for: the others are unknown.
type table struct {
	r      *reader
	who    string // begins every message: `part "lamp"`
	values map[string]any
	place  *lines.Place
	known  []string
}

// longest is the greatest number of characters of a text that ends up on paper.
const longest = 200

func (t *table) line(key string) int { return t.place.Key(key).Line }

// fail reports an error at a key, or at the table when it has no such key.
func (t *table) fail(key, do, format string, args ...any) {
	t.r.fail(t.line(key), do, "%s: %s", t.who, fmt.Sprintf(format, args...))
}

// has marks a key as known and tells whether the table has it.
func (t *table) has(key string) bool {
	if !slices.Contains(t.known, key) {
		t.known = append(t.known, key)
	}
	_, ok := t.values[key]
	return ok
}

// missing reports a required key that is not there.
func (t *table) missing(key string) {
	t.fail(key, "", "key %q is missing", key)
}

// finish reports the keys that nobody asked for.
func (t *table) finish() {
	for _, key := range t.place.Order {
		if !slices.Contains(t.known, key) {
			t.fail(key, spelling.Suggest(key, t.known), "unknown key %q", key)
		}
	}
}

// text reads a required text of one line.
func (t *table) text(key string) string {
	if !t.has(key) {
		t.missing(key)
		return ""
	}
	return t.textOr(key, "")
}

// textOr reads a text of one line that may be left out.
func (t *table) textOr(key, otherwise string) string {
	if !t.has(key) {
		return otherwise
	}
	s, ok := t.values[key].(string)
	if !ok {
		t.fail(key, "write it in quotes", "%s = %s is not a text", key, show(t.values[key]))
		return otherwise
	}
	switch {
	case strings.TrimSpace(s) == "":
		t.fail(key, "", "%s = %q is empty", key, s)
	case utf8.RuneCountInString(s) > longest:
		t.fail(key, "", "%s = %q... has %d characters, at most %d fit on a sheet", key, string([]rune(s)[:20]), utf8.RuneCountInString(s), longest)
	case strings.ContainsFunc(s, func(r rune) bool { return !unicode.IsPrint(r) }):
		t.fail(key, "write it on one line", "%s = %q contains a character that does not print", key, s)
	}
	return s
}

// flag reads true or false, false when left out.
func (t *table) flag(key string) bool {
	if !t.has(key) {
		return false
	}
	b, ok := t.values[key].(bool)
	if !ok {
		t.fail(key, "write true or false without quotes", "%s = %s is neither true nor false", key, show(t.values[key]))
	}
	return b
}

// numberOr reads a number between low and high, both inclusive, that may be left out.
func (t *table) numberOr(key, unit string, low, high, otherwise float64) float64 {
	if !t.has(key) {
		return otherwise
	}
	x, ok := asNumber(t.values[key])
	if !ok {
		t.fail(key, "write "+within(low, high, unit), "%s = %s is not a number", key, show(t.values[key]))
		return otherwise
	}
	if !(x >= low && x <= high) { // also refuses NaN
		t.fail(key, "", "%s = %s is outside %s", key, digits(x), within(low, high, unit))
		return otherwise
	}
	return x
}

// whole reads a required whole number between low and high.
func (t *table) whole(key string, low, high int64) int64 {
	if !t.has(key) {
		t.missing(key)
		return low
	}
	n, ok := t.values[key].(int64)
	if !ok || n < low || n > high {
		t.fail(key, "", "%s = %s is not a whole number from %d to %d", key, show(t.values[key]), low, high)
		return low
	}
	return n
}

// tenths reads minutes, at most one decimal, as tenths of a minute.
func (t *table) tenths(key string, low, high float64, required bool) int64 {
	if !t.has(key) {
		if required {
			t.missing(key)
		}
		return 0
	}
	x := t.numberOr(key, "minutes", low, high, low)
	n := math.Round(10 * x)
	if math.Abs(10*x-n) > 1e-9 {
		t.fail(key, "round it", "%s = %s has more than one decimal", key, digits(x))
	}
	return int64(n)
}

// texts reads a list of texts with the line of each; nil when left out. A list with something else in it is an error.
func (t *table) texts(key string) (list []string, at []int) {
	if !t.has(key) {
		return nil, nil
	}
	values, ok := t.values[key].([]any)
	if !ok {
		t.fail(key, `write ["one", "two"]`, "%s = %s is not a list of texts", key, show(t.values[key]))
		return nil, nil
	}
	if len(values) > maxItems {
		t.fail(key, "", "%s has %d entries, at most %d are allowed", key, len(values), maxItems)
		return nil, nil
	}
	list = []string{} // not nil: an empty list was written
	for i, v := range values {
		s, ok := v.(string)
		if !ok {
			t.r.fail(t.place.Key(key).Item(i).Line, "write it in quotes", "%s: %s in %s is not a text", t.who, show(v), key)
			continue
		}
		list = append(list, s)
		at = append(at, t.place.Key(key).Item(i).Line)
	}
	return list, at
}

// numbers reads a list of n finite numbers, such as a place on the diagram; nil when left out or wrong.
func (t *table) numbers(key string, n int) []float64 {
	if !t.has(key) {
		return nil
	}
	list := coordinates(t.values[key], n)
	if list == nil {
		t.fail(key, "", "%s is not a list of %d numbers from -%d to %d", key, n, edge, edge)
	}
	return list
}

// maxItems is the greatest number of texts in a list.
const maxItems = 300

// edge is the greatest coordinate of a diagram in grid squares.
const edge = 1000

func coordinates(value any, n int) []float64 {
	values, ok := value.([]any)
	if !ok || len(values) != n {
		return nil
	}
	list := make([]float64, n)
	for i, v := range values {
		x, ok := asNumber(v)
		if !ok || !(math.Abs(x) <= edge) {
			return nil
		}
		list[i] = x
	}
	return list
}

// tables reads a list of tables, either [[key]] or key = [{...}, ...]; the caller names each.
func (t *table) tables(key string) []*table {
	if !t.has(key) {
		return nil
	}
	var values []map[string]any
	switch v := t.values[key].(type) {
	case []map[string]any:
		values = v
	case []any:
		for _, item := range v {
			if m, ok := item.(map[string]any); ok {
				values = append(values, m)
			}
		}
		if len(values) != len(v) {
			t.fail(key, "", "%s is not a list of tables only", key)
			return nil
		}
	case map[string]any:
		t.fail(key, fmt.Sprintf("write [[%s]] with two brackets", key), "[%s] is one table, not one of several", key)
		return nil
	default:
		t.fail(key, "", "%s = %s is not a list of tables", key, show(v))
		return nil
	}
	list := make([]*table, len(values))
	for i, m := range values {
		list[i] = &table{r: t.r, who: t.who, values: m, place: t.place.Key(key).Item(i)}
	}
	return list
}

// below reads one table; nil when left out.
func (t *table) below(key, who string) *table {
	if !t.has(key) {
		return nil
	}
	m, ok := t.values[key].(map[string]any)
	if !ok {
		t.fail(key, "", "%s = %s is not a table", key, show(t.values[key]))
		return nil
	}
	return &table{r: t.r, who: who, values: m, place: t.place.Key(key)}
}
