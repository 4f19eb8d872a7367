package strict

import (
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"nospark/scenarios/spelling"
)

// longest is the greatest number of characters of a text: it ends up on one line of a sheet.
const longest = 200

// maxItems is the greatest number of texts in a list.
const maxItems = 300

// Text reads a required text of one line.
func (t *Table) Text(key string) string {
	if !t.need(key) {
		return ""
	}
	return t.TextOr(key, "")
}

// TextLike is Text with an example for somebody who left the key out.
func (t *Table) TextLike(key, example string) string {
	if !t.Has(key) {
		t.Fail(key, fmt.Sprintf("write for example %s = %q", key, example), "key %q is missing", key)
	}
	return t.TextOr(key, "")
}

// TextOr reads a text of one line that may be left out. Blanks around it do not count.
func (t *Table) TextOr(key, otherwise string) string {
	value, has := t.Value(key)
	if !has {
		return otherwise
	}
	text, ok := value.(string)
	if !ok {
		t.Fail(key, "write it in quotes", "%s = %s is not a text", key, Show(value))
		return otherwise
	}
	return t.oneLine(key, t.Line(key), text)
}

// IDOr reads an id that may be left out. A whole number needs no quotes; leading zeros do, as the decoder says itself.
func (t *Table) IDOr(key, otherwise string) string {
	if value, _ := t.Value(key); value != nil {
		if n, ok := value.(int64); ok {
			return fmt.Sprint(n)
		}
	}
	return t.TextOr(key, otherwise)
}

// ID reads a required id.
func (t *Table) ID(key string) string {
	if !t.need(key) {
		return ""
	}
	return t.IDOr(key, "")
}

// oneLine checks a text and gives it without the blanks around it. What does not print is refused: a line break or a
// mark that turns the direction of text would end up on every sheet, and an invisible mark would make two equal names
// differ.
func (t *Table) oneLine(key string, line int, text string) string {
	switch n := utf8.RuneCountInString(text); {
	case strings.TrimSpace(text) == "":
		t.FailAt(line, "", "%s = %q is empty", key, text)
	case n > longest:
		t.FailAt(line, "", "%s = %q... has %d characters, at most %d fit on a sheet", key, string([]rune(text)[:20]), n,
			longest)
	case strings.Contains(text, "\t"):
		t.FailAt(line, "write spaces, and / instead of a backslash in a path", "%s = %q contains a tab", key, text)
	case strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }):
		t.FailAt(line, "write it on one line", "%s = %q contains a character that does not print", key, text)
	}
	return strings.TrimSpace(text)
}

// Choice reads a required text that must be one of the known ones; "" when it is not.
func (t *Table) Choice(key string, known []string) string {
	if !t.need(key) {
		return ""
	}
	return t.ChoiceOr(key, known, "")
}

// ChoiceOr reads a text that must be one of the known ones and may be left out.
func (t *Table) ChoiceOr(key string, known []string, otherwise string) string {
	text := t.TextOr(key, "")
	if text == "" { // left out, or complained of already
		return otherwise
	}
	if !slices.Contains(known, text) {
		t.Fail(key, spelling.Suggest(text, known), "%s = %q is not known", key, text)
		return otherwise
	}
	return text
}

// Texts reads a list of different texts with the line of each; nil when left out. Items that are no texts are reported
// and left out.
func (t *Table) Texts(key string) (list []string, lines []int) {
	all, at := t.Repeatable(key)
	if all == nil {
		return nil, nil
	}
	list = []string{}
	for i, text := range all {
		if slices.Contains(list, text) {
			t.FailAt(at[i], "", "%s names %q twice", key, text)
			continue
		}
		list, lines = append(list, text), append(lines, at[i])
	}
	return list, lines
}

// Repeatable reads a list of texts in which one may stand twice, such as the pins of a part.
func (t *Table) Repeatable(key string) (list []string, lines []int) {
	value, has := t.Value(key)
	if !has {
		return nil, nil
	}
	values, ok := value.([]any)
	if !ok {
		t.Fail(key, `write ["one", "two"]`, "%s = %s is not a list of texts", key, Show(value))
		return nil, nil
	}
	if len(values) > maxItems {
		t.Fail(key, "", "%s has %d entries, at most %d are allowed", key, len(values), maxItems)
		return nil, nil
	}
	list = []string{} // not nil: an empty list was written
	for i, v := range values {
		line := t.at.Key(key).Item(i).Line
		text, ok := v.(string)
		if !ok {
			t.FailAt(line, "write it in quotes", "%s in %s is not a text", Show(v), key)
			continue
		}
		list = append(list, t.oneLine(key, line, text))
		lines = append(lines, line)
	}
	return list, lines
}

// Flag reads true or false that may be left out.
func (t *Table) Flag(key string, otherwise bool) bool {
	value, has := t.Value(key)
	if !has {
		return otherwise
	}
	b, ok := value.(bool)
	if !ok {
		t.Fail(key, "write true or false without quotes", "%s = %s is neither true nor false", key, Show(value))
		return otherwise
	}
	return b
}

// Date reads a day, in quotes or as a TOML date, and gives it as 2006-01-02; "" when left out or wrong.
func (t *Table) Date(key string) string {
	const do = "write year, month and day: 2026-10-05"
	value, has := t.Value(key)
	if !has {
		return ""
	}
	day, ok := value.(time.Time)
	if text, quoted := value.(string); quoted {
		var err error
		day, err = time.Parse(time.DateOnly, text)
		ok = err == nil
	}
	if !ok {
		t.Fail(key, do, "%s = %s: want a day that exists", key, Show(value))
		return ""
	}
	if year := day.Year(); year < 1900 || year > 9998 {
		t.Fail(key, "", "%s = %s: want a year from 1900 to 9998", key, day.Format(time.DateOnly))
		return ""
	}
	return day.Format(time.DateOnly)
}
