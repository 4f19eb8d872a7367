package term

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"nospark/scenarios/lines"
	"nospark/scenarios/spelling"
)

// document is a TOML file being read strictly: every fault in it is collected with its line, so that one run shows all of them.
type document struct {
	file  string
	found []finding
}

type finding struct {
	line int
	err  error
}

// settings is one table of a document. The readers below take a key out of it and check its value; rest complains of what nobody took.
type settings struct {
	doc    *document
	place  *lines.Place
	values map[string]any
	known  []string
}

// readDocument decodes text. The error is one of syntax and carries its own line.
func readDocument(file, text string) (*settings, error) {
	values, slip := lines.Decode(text)
	if slip != nil {
		return nil, fmt.Errorf("%s:%d: %w", file, slip.Line, slip)
	}
	return &settings{doc: &document{file: file}, place: lines.Of(text), values: values}, nil
}

// failure is everything found wrong, by line, or nil.
func (d *document) failure() error {
	slices.SortStableFunc(d.found, func(a, b finding) int { return a.line - b.line })
	var all []error
	for _, f := range d.found {
		all = append(all, f.err)
	}
	return errors.Join(all...)
}

// fail notes what is wrong with key, or with the table itself when key is "".
func (s *settings) fail(key, format string, args ...any) {
	line := s.place.Key(key).Line
	s.doc.found = append(s.doc.found, finding{line, fmt.Errorf("%s:%d: %s", s.doc.file, line, fmt.Sprintf(format, args...))})
}

// take gives the value of key and remembers that the key is known.
func (s *settings) take(key string) (any, bool) {
	s.known = append(s.known, key)
	v, ok := s.values[key]
	return v, ok
}

func (s *settings) has(key string) bool { _, ok := s.values[key]; return ok }

// text reads a string, "" when the key is absent.
func (s *settings) text(key string) string {
	v, ok := s.take(key)
	if !ok {
		return ""
	}
	text, ok := v.(string)
	switch {
	case !ok:
		s.fail(key, "%s = %s: want text in quotes", key, show(v))
	case utf8.RuneCountInString(text) > longest:
		s.fail(key, "%s has %d characters, at most %d fit on paper", key, utf8.RuneCountInString(text), longest)
	case strings.Contains(text, "\t"):
		s.fail(key, "%s = %s contains a tab; write spaces, and / instead of a backslash in a path", key, show(v))
	case strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }):
		// A line break or a mark that turns the direction of text would end up on every sheet.
		s.fail(key, "%s = %s contains a character that does not print; write it on one line", key, show(v))
	}
	return strings.TrimSpace(text)
}

// longest is the greatest number of characters of a text; titles stand on one line of a sheet.
const longest = 200

// need is text that must be there.
func (s *settings) need(key, example string) string {
	text := s.text(key)
	if _, given := s.values[key].(string); text == "" && (given || !s.has(key)) {
		s.fail(key, "%s is missing; write for example %s = %q", key, key, example)
	}
	return text
}

// choice reads one of several words.
func (s *settings) choice(key, def string, words ...string) string {
	text := s.text(key)
	if text == "" { // absent, or of another kind and complained of already
		return def
	}
	if !slices.Contains(words, text) {
		s.fail(key, "%s = %q: want one of %s%s", key, text, Quoted(words), spelling.Ask(text, words))
		return def
	}
	return text
}

// texts reads a list of strings; repeated ones are an error.
func (s *settings) texts(key string) []string {
	v, ok := s.take(key)
	if !ok {
		return nil
	}
	list, ok := v.([]any)
	if !ok {
		s.fail(key, "%s = %s: want a list of texts, for example %s = [\"a\", \"b\"]", key, show(v), key)
		return nil
	}
	all := make([]string, 0, len(list))
	for _, item := range list {
		text, ok := item.(string)
		switch {
		case !ok:
			s.fail(key, "%s holds %s: want texts in quotes", key, show(item))
		case slices.Contains(all, text):
			s.fail(key, "%s names %q twice", key, text)
		default:
			all = append(all, text)
		}
	}
	return all
}

// whole reads a whole number from low to high.
func (s *settings) whole(key string, def, low, high int) int {
	v, ok := s.take(key)
	if !ok {
		return def
	}
	n, ok := v.(int64)
	if !ok || n < int64(low) || n > int64(high) {
		s.fail(key, "%s = %s: want a whole number from %d to %d", key, show(v), low, high)
		return def
	}
	return int(n)
}

// flag reads true or false.
func (s *settings) flag(key string, def bool) bool {
	v, ok := s.take(key)
	if !ok {
		return def
	}
	b, ok := v.(bool)
	if !ok {
		s.fail(key, "%s = %s: want true or false", key, show(v))
		return def
	}
	return b
}

// minutes reads a number of minutes with at most one decimal and gives tenths.
func (s *settings) minutes(key string, v any) (int64, bool) {
	var x float64
	switch n := v.(type) {
	case int64:
		x = float64(n)
	case float64:
		x = n
	default:
		s.fail(key, "%s holds %s: want minutes", key, show(v))
		return 0, false
	}
	tenths := math.Round(x * 10)
	if !(x >= 0 && x <= 1000) || math.Abs(x*10-tenths) > 1e-6 {
		s.fail(key, "%s holds %s: want minutes from 0 to 1000 with at most one decimal", key, show(v))
		return 0, false
	}
	return int64(tenths), true
}

// date reads a day, as text or as a TOML date, and gives it as 2006-01-02; "" when absent or wrong.
func (s *settings) date(key string) string {
	v, ok := s.take(key)
	if !ok {
		return ""
	}
	var day time.Time
	switch d := v.(type) {
	case time.Time:
		day = d
	case string:
		var err error
		if day, err = time.Parse(time.DateOnly, d); err != nil {
			s.fail(key, "%s = %q: want a day that exists; write year, month and day: 2026-10-05", key, d)
			return ""
		}
	default:
		s.fail(key, "%s = %s: want a day, written 2026-10-05", key, show(v))
		return ""
	}
	if year := day.Year(); year < 1900 || year > 9998 {
		s.fail(key, "%s = %s: want a year from 1900 to 9998", key, day.Format(time.DateOnly))
		return ""
	}
	return day.Format(time.DateOnly)
}

// child opens a table inside this one; nil when absent.
func (s *settings) child(key string) *settings {
	v, ok := s.take(key)
	if !ok {
		return nil
	}
	values, ok := v.(map[string]any)
	if !ok {
		s.fail(key, "%s = %s: want a table, written [%s]", key, show(v), key)
		return nil
	}
	return &settings{doc: s.doc, place: s.place.Key(key), values: values}
}

// children opens an array of tables.
func (s *settings) children(key string) []*settings {
	v, ok := s.take(key)
	if !ok {
		return nil
	}
	list, ok := v.([]map[string]any)
	if !ok {
		s.fail(key, "%s = %s: want tables, each written [[%s]]", key, show(v), key)
		return nil
	}
	var all []*settings
	for i, values := range list {
		all = append(all, &settings{doc: s.doc, place: s.place.Key(key).Item(i), values: values})
	}
	return all
}

// rest complains of every key that no reader asked for.
func (s *settings) rest() {
	for _, key := range s.place.Order {
		if !slices.Contains(s.known, key) {
			s.fail(key, "unknown key %q%s", key, spelling.Ask(key, s.known))
		}
	}
}

// show prints a TOML value for an error, shortened.
func show(v any) string {
	text := fmt.Sprintf("%v", v)
	if s, ok := v.(string); ok {
		text = strconv.Quote(s)
	}
	if len(text) > 60 {
		text = strings.ToValidUTF8(text[:60], "") + "..."
	}
	return text
}

// quoted joins words for an error: "a", "b", "c".
func Quoted(words []string) string {
	all := make([]string, len(words))
	for i, w := range words {
		all[i] = strconv.Quote(w)
	}
	return strings.Join(all, ", ")
}
