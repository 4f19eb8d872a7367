package pack

import (
	"fmt"

	"nospark/scenarios/spelling"
	"nospark/scenarios/strict"
)

// names are the ids of one kind of thing, in the order of the file.
type names struct {
	what  string // "part"
	ids   []string
	index map[string]int
	lines []int
}

// id reads the id of a table, makes it begin all messages of the table, and refuses one that is taken. Every table
// gets an entry, so that indexes agree with the order of the file even when an id is wrong.
func (n *names) id(t *strict.Table) string {
	t.Who = n.what
	id := t.Text("id")
	t.Who = fmt.Sprintf("%s %q", n.what, id)
	if id != "" && !safe(id) {
		t.Fail("id", safeWords, "id %q cannot be part of a name", id)
	}
	if n.index == nil {
		n.index = map[string]int{}
	}
	if first, taken := n.index[id]; taken && id != "" {
		t.Fail("id", "", "id %q is taken by the %s in line %d", id, n.what, n.lines[first])
	} else {
		n.index[id] = len(n.ids)
	}
	n.ids = append(n.ids, id)
	n.lines = append(n.lines, t.Line(""))
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

// safeWords says what a safe id is.
const safeWords = "use letters, digits, '-' and '_', at most 40, a letter or digit first"

// find is where every reference of a pack is resolved. It looks an id up and reports an unknown one with the
// nearest known name; -1 then.
func (n *names) find(t *strict.Table, id string, line int) int {
	if i, ok := n.index[id]; ok && id != "" {
		return i
	}
	t.FailAt(line, spelling.Suggest(id, n.ids), "%s %q is not declared", n.what, id)
	return -1
}

// ref reads a key that names one thing; -1 when left out or unknown.
func (n *names) ref(t *strict.Table, key string) int {
	id := t.TextOr(key, "")
	if id == "" {
		return -1
	}
	return n.find(t, id, t.Line(key))
}

// need is ref for a required key.
func (n *names) need(t *strict.Table, key string) int {
	if !t.Has(key) {
		t.Missing(key)
	}
	return n.ref(t, key)
}

// refs reads a list of names without repetition; nil when left out. Unknown ones are reported and left out.
func (n *names) refs(t *strict.Table, key string) []int {
	ids, lines := t.Texts(key)
	var found []int
	for i, id := range ids {
		if k := n.find(t, id, lines[i]); k >= 0 {
			found = append(found, k)
		}
	}
	if ids != nil && len(ids) == 0 {
		t.Fail(key, "", "%s is empty", key)
	}
	return found
}
