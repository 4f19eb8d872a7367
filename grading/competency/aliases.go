package competency

import (
	"nospark/scenarios/disk"
)

// AliasesFile is the list of changed ids in the folder of a term.
const AliasesFile = "aliases.csv"

// Alias says that two ids are one student.
type Alias struct {
	Place string // "aliases.csv:3"
	Old   string // id as in older records
	ID    string // the id that counts
}

// ReadAliases reads the columns old,id of the file at path. An alias joins the evidence of two ids, so nothing is
// guessed: the error joins all that is wrong, by line.
func ReadAliases(path string) ([]Alias, error) {
	data, err := disk.Read(path, signOffLimit)
	if err != nil {
		return nil, err
	}
	lines, err := parseLines(path, data, []string{"old", "id"})
	if err != nil {
		return nil, err
	}
	var list []Alias
	for _, l := range lines {
		list = append(list, Alias{Place: l.place, Old: l.cells[0], ID: l.cells[1]})
	}
	return list, nil
}

// resolveAliases gives every entry and signature the id that counts. An id may change twice; a circle is told and left
// alone.
func (g *gathering) resolveAliases() {
	to := map[string]string{}
	for _, a := range g.t.Aliases {
		if other, twice := to[a.Old]; twice && other != a.ID {
			g.problem(a.Place, "keep one of the two lines; the first counts", "id %q becomes %q here and %q before",
				a.Old, a.ID, other)
			continue
		}
		to[a.Old] = a.ID
	}
	resolve := func(id string) (string, bool) {
		now := id
		for range len(to) {
			next, changed := to[now]
			if !changed {
				return now, true
			}
			now = next
		}
		_, changed := to[now]
		if changed {
			return id, false
		}
		return now, true
	}
	for _, a := range g.t.Aliases {
		if _, ok := resolve(a.Old); !ok {
			g.problem(a.Place, "take one line of the circle out; the id stays as it is", "id %q becomes itself "+
				"in the end", a.Old)
		}
	}
	for _, r := range g.t.Records {
		taken := map[string]bool{}
		for i := range r.Students {
			taken[r.Students[i].Student] = true
		}
		for i := range r.Students {
			e := &r.Students[i]
			id, _ := resolve(e.Student)
			if id == e.Student {
				continue
			}
			if taken[id] { // two sheets of one lab cannot both be of one student
				g.problem(g.files[r], "look who had which sheet; both stay apart in this lab",
					"ids %s and %s are one student by %s, and both have a sheet", e.Student, id, AliasesFile)
				continue
			}
			taken[id] = true
			e.Student = id
		}
	}
	for i := range g.t.SignOffs {
		s := &g.t.SignOffs[i]
		s.Student, _ = resolve(s.Student)
	}
}
