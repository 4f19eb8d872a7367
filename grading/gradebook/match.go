package gradebook

import (
	"strings"

	"golang.org/x/text/unicode/norm"

	"nospark/scenarios/roster"
)

// matching finds marks by the ids of an export.
type matching struct {
	exact map[string]Mark
	bare  map[string][]Mark // by the id as a spreadsheet leaves it
	own   map[string]bool   // ids of the export: whoever stands there is meant by no other line
}

// newMatching takes the marks and the ids of the export.
func newMatching(marks []Mark, export []string) matching {
	ids := matching{map[string]Mark{}, map[string][]Mark{}, map[string]bool{}}
	for _, id := range export {
		ids.own[idKey(id)] = true
	}
	for _, m := range marks {
		ids.exact[idKey(m.StudentID)] = m
		bare := roster.BareID(idKey(m.StudentID))
		ids.bare[bare] = append(ids.bare[bare], m)
	}
	return ids
}

// ids are the cells of a column, below its heading.
func (t *template) ids(column int) []string {
	var list []string
	for _, l := range t.lines[1:] {
		list = append(list, t.at(l, column))
	}
	return list
}

// find takes an id as it is before one without its zeros: "007" and "7" may be two people.
func (ids matching) find(id string) (Mark, bool) {
	if m, ok := ids.exact[idKey(id)]; ok {
		return m, true
	}
	same := ids.bare[roster.BareID(idKey(id))]
	if idKey(id) != "" && len(same) == 1 && !ids.own[idKey(same[0].StudentID)] {
		return same[0], true
	}
	return Mark{}, false
}

// idKey makes ids comparable as package roster does. Some gradebooks put a number sign in front of ids, so that
// spreadsheets leave their zeros alone.
func idKey(id string) string {
	id = strings.ToLower(norm.NFC.String(strings.TrimSpace(id)))
	if bare := strings.TrimPrefix(id, "#"); bare != "" {
		return bare
	}
	return id
}
