package grading

import (
	"fmt"
	"slices"
	"strings"

	"nospark/scenarios/lines"
)

// finding is one thing wrong with a text, kept with its line so that all can be told in the order of the file.
type finding struct {
	line int
	err  error
}

// adjustReader collects what is wrong, so that one run tells all of it.
type adjustReader struct {
	file  string
	found []finding
}

func (r *adjustReader) fail(line int, format string, args ...any) {
	r.found = append(r.found, finding{line, fmt.Errorf("%s:%d: %s", r.file, line, fmt.Sprintf(format, args...))})
}

// adjustEntry is one table while it is read.
type adjustEntry struct {
	r      *adjustReader
	kind   string
	at     *lines.Place
	values map[string]any
	known  []string
}

// place is where the entry begins; messages about what it names are given it.
func (e *adjustEntry) place() string { return fmt.Sprintf("%s:%d", e.r.file, e.at.Line) }

// fail notes what is wrong with a key, or with the entry itself when key is "".
func (e *adjustEntry) fail(key, format string, args ...any) {
	e.r.fail(e.at.Key(key).Line, format, args...)
}

// text reads an optional text. An id may be written as a number; leading zeros need quotes, as TOML itself says.
func (e *adjustEntry) text(key string) string {
	e.known = append(e.known, key)
	switch v := e.values[key].(type) {
	case nil:
	case string:
		return strings.TrimSpace(v)
	case int64:
		return fmt.Sprint(v)
	default:
		e.fail(key, "%s = %v: want text in quotes", key, v)
	}
	return ""
}

// need is text that must be there. A value of another type has been complained of already.
func (e *adjustEntry) need(key string) string {
	text := e.text(key)
	_, given := e.values[key]
	_, number := e.values[key].(int64)
	_, isText := e.values[key].(string)
	if text == "" && (!given || isText || number) {
		e.fail(key, "[[%s]] has no %s", e.kind, key)
	}
	return text
}

// number reads a number from low to high.
func (e *adjustEntry) number(key string, needed bool, low, high float64) float64 {
	e.known = append(e.known, key)
	v, given := e.values[key]
	if !given {
		if needed {
			e.fail("", "[[%s]] has no %s", e.kind, key)
		}
		return 0
	}
	x, ok := v.(float64)
	if n, whole := v.(int64); whole {
		x, ok = float64(n), true
	}
	if !ok || !(x >= low && x <= high) {
		if text, quoted := v.(string); quoted {
			e.fail(key, "%s = %q: want a number from %v to %v, without quotes", key, text, low, high)
			return 0
		}
		e.fail(key, "%s = %v: want a number from %v to %v", key, v, low, high)
		return 0
	}
	return x
}

// whole reads a whole number.
func (e *adjustEntry) whole(key string, needed bool, low, high float64) int {
	x := e.number(key, needed, low, high)
	if x != float64(int(x)) {
		e.fail(key, "%s = %v: want a whole number", key, x)
	}
	return int(x)
}

// atMostOne refuses keys that would say two different things at once.
func (e *adjustEntry) atMostOne(keys ...string) {
	var given []string
	for _, key := range keys {
		if _, ok := e.values[key]; ok {
			given = append(given, key)
		}
	}
	if len(given) > 1 {
		e.fail(given[1], "[[%s]] names %s; one of them is enough", e.kind, strings.Join(given, " and "))
	}
}

// finish complains of keys that nobody asked for.
func (e *adjustEntry) finish() {
	for _, key := range e.at.Order {
		if !slices.Contains(e.known, key) {
			e.fail(key, "unknown key %q in [[%s]]; want one of %s", key, e.kind, strings.Join(e.known, ", "))
		}
	}
}
