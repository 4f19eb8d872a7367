package strict

import (
	"fmt"
	"slices"

	"nospark/scenarios/spelling"
)

// Table is one TOML table with the lines of its keys. It remembers which keys were asked for: the others are unknown.
type Table struct {
	Found  *Findings
	Who    string // begins every message: `part "lamp"`; "" for none
	values map[string]any
	at     *Position
	known  []string
}

// Position is where the table and everything in it stands.
func (t *Table) Position() *Position { return t.at }

// Line is the line of a key, or of the table when it has no such key.
func (t *Table) Line(key string) int { return t.at.Key(key).Line }

// Keys gives the keys of the table in the order of the file.
func (t *Table) Keys() []string { return t.at.Order }

// Fail reports an error at a key, or at the table when it has no such key. do says how to mend it; it may be "".
func (t *Table) Fail(key, do, format string, args ...any) {
	t.FailAt(t.Line(key), do, format, args...)
}

// FailAt reports an error at a line of the table.
func (t *Table) FailAt(line int, do, format string, args ...any) {
	what := fmt.Sprintf(format, args...)
	if t.Who != "" {
		what = t.Who + ": " + what
	}
	t.Found.Fail(line, do, "%s", what)
}

// Has marks a key as known and tells whether the table has it.
func (t *Table) Has(key string) bool {
	_, has := t.Value(key)
	return has
}

// Value gives the value of a key as the TOML decoder has it, for what no reader here can read, and marks the key as
// known.
func (t *Table) Value(key string) (any, bool) {
	if !slices.Contains(t.known, key) {
		t.known = append(t.known, key)
	}
	v, has := t.values[key]
	return v, has
}

// Missing reports a required key that is not there.
func (t *Table) Missing(key string) { t.Fail(key, "", "key %q is missing", key) }

// need is Has for a required key, whose absence it reports.
func (t *Table) need(key string) bool {
	if t.Has(key) {
		return true
	}
	t.Missing(key)
	return false
}

// Finish reports the keys that nobody asked for.
func (t *Table) Finish() {
	for _, key := range t.at.Order {
		if !slices.Contains(t.known, key) {
			t.Fail(key, spelling.Suggest(key, t.known), "unknown key %q", key)
		}
	}
}

// Table reads a table below this one, named after its key; nil when left out.
func (t *Table) Table(key string) *Table {
	value, has := t.Value(key)
	if !has {
		return nil
	}
	values, ok := value.(map[string]any)
	if !ok {
		t.Fail(key, fmt.Sprintf("write %s = { key = value }", key), "%s = %s is not a table", key, Show(value))
		return nil
	}
	return &Table{Found: t.Found, Who: key, values: values, at: t.at.Key(key)}
}

// Tables reads a list of tables, either [[key]] or key = [{...}, ...], each named after its key.
func (t *Table) Tables(key string) []*Table {
	value, has := t.Value(key)
	if !has {
		return nil
	}
	var rows []map[string]any
	switch v := value.(type) {
	case []map[string]any:
		rows = v
	case []any:
		for _, item := range v {
			if row, ok := item.(map[string]any); ok {
				rows = append(rows, row)
			}
		}
		if len(rows) != len(v) {
			t.Fail(key, "", "%s is not a list of tables only", key)
			return nil
		}
	case map[string]any:
		t.Fail(key, fmt.Sprintf("write [[%s]] with two brackets", key), "[%s] is one table, not one of several", key)
		return nil
	default:
		t.Fail(key, "", "%s = %s is not a list of tables", key, Show(value))
		return nil
	}
	list := make([]*Table, len(rows))
	for i, row := range rows {
		list[i] = &Table{Found: t.Found, Who: key, values: row, at: t.at.Key(key).Item(i)}
	}
	return list
}
