package pack

import (
	"fmt"
	"slices"

	"nospark/scenarios/spelling"
)

// names are the ids of one kind of thing, in the order of the file.
type names struct {
	what  string // "part"
	ids   []string
	index map[string]int
	lines []int
}

// id reads the id of a table, makes it begin all messages of the table, and refuses one that is taken. Every table gets an entry, so
// that indexes agree with the order of the file even when an id is wrong.
func (n *names) id(t *table) string {
	t.who = n.what
	id := t.text("id")
	t.who = fmt.Sprintf("%s %q", n.what, id)
	if id != "" && !safe(id) {
		t.fail("id", "use letters, digits, '-' and '_', at most 40, a letter or digit first", "id %q cannot be part of a name", id)
	}
	if n.index == nil {
		n.index = map[string]int{}
	}
	if first, taken := n.index[id]; taken && id != "" {
		t.fail("id", "", "id %q is taken by the %s in line %d", id, n.what, n.lines[first])
	} else {
		n.index[id] = len(n.ids)
	}
	n.ids = append(n.ids, id)
	n.lines = append(n.lines, t.place.Line)
	return id
}

// safe tells whether an id can stand in codes, file names and columns: no dots, which join the parts of a test's id.
func safe(id string) bool {
	for i, c := range []byte(id) {
		letter := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9'
		if !letter && (i == 0 || c != '-' && c != '_') {
			return false
		}
	}
	return id != "" && len(id) <= 40
}

// find is where every reference of a pack is resolved. It looks an id up and reports an unknown one with the nearest known name; -1 then.
func (t *table) find(n *names, id string, line int) int {
	if i, ok := n.index[id]; ok && id != "" {
		return i
	}
	t.r.fail(line, spelling.Suggest(id, n.ids), "%s: %s %q is not declared", t.who, n.what, id)
	return -1
}

// ref reads a key that names one thing; -1 when left out or unknown.
func (t *table) ref(key string, n *names) int {
	if !t.has(key) {
		return -1
	}
	id := t.textOr(key, "")
	if id == "" {
		return -1
	}
	return t.find(n, id, t.line(key))
}

// refs reads a list of names without repetition; nil when left out. Unknown ones are reported and left out.
func (t *table) refs(key string, n *names) []int {
	ids, at := t.texts(key)
	var found []int
	for i, id := range ids {
		switch k := t.find(n, id, at[i]); {
		case k < 0:
		case slices.Contains(found, k):
			t.r.fail(at[i], "", "%s: %s names %q twice", t.who, key, id)
		default:
			found = append(found, k)
		}
	}
	if ids != nil && len(at) == 0 {
		t.fail(key, "", "%s is empty", key)
	}
	return found
}

// oneOf reads a text that must be one of the known ones; "" when it is not.
func (t *table) oneOf(key string, known []string) string {
	s := t.text(key)
	if s != "" && !slices.Contains(known, s) {
		t.fail(key, spelling.Suggest(s, known), "%s = %q is not known", key, s)
		return ""
	}
	return s
}
