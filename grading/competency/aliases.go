package competency

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"nospark/grading/evidence"
	"nospark/scenarios/disk"
	"nospark/scenarios/tabular"
)

// AliasesFile is the list of changed ids in the folder of a term.
const AliasesFile = "aliases.csv"

// Alias says that two ids are one student.
type Alias struct {
	Place string // "aliases.csv:3"
	Old   string // id as in older records
	ID    string // the id that counts
}

// aliasLimit bounds the file: two thousand students have some 50 KB.
const aliasLimit = 8 << 20

// ReadAliases reads the columns old,id of the file at path. An alias joins the evidence of two ids, so nothing is
// guessed: the error joins all that is wrong, by line.
func ReadAliases(path string) ([]Alias, error) {
	data, err := disk.Read(path, aliasLimit)
	if err != nil {
		return nil, err
	}
	return parseAliases(path, data)
}

func parseAliases(path string, data []byte) ([]Alias, error) {
	head := []string{"old", "id"}
	t, err := tabular.ReadTable(data, tabular.Options{Known: func(h string) bool { return slices.Contains(head, h) }})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	if t.Heading.Cells == nil {
		return nil, fmt.Errorf("%s: is empty; its first line is old,id", path)
	}
	at := [2]int{tabular.Find(t.Heading.Cells, head[:1]), tabular.Find(t.Heading.Cells, head[1:])}
	if at[0] < 0 || at[1] < 0 {
		return nil, fmt.Errorf("%s:%d: heading %q; want old,id", path, t.Heading.Line, strings.Join(t.Heading.Cells,
			","))
	}
	var found []error
	for _, f := range t.Findings {
		found = append(found, fmt.Errorf("%s:%d: %s", path, f.Line, f.What))
	}
	var list []Alias
	for _, row := range t.Rows {
		a := Alias{Place: fmt.Sprintf("%s:%d", path, row.Line), Old: row.Cells[at[0]], ID: row.Cells[at[1]]}
		if a.Old == "" || a.ID == "" || len(a.Old)+len(a.ID) > evidence.LongestText {
			found = append(found, fmt.Errorf("%s: %q; want old,id, none of them empty or long", a.Place,
				strings.Join(row.Cells, ",")))
		}
		list = append(list, a)
	}
	if len(found) > 0 {
		return nil, errors.Join(found...)
	}
	return list, nil
}

// resolve gives the id that counts, over several changes; false for one that comes back to itself.
func resolve(to map[string]string, id string) (string, bool) {
	now := id
	for range len(to) {
		next, changed := to[now]
		if !changed {
			return now, true
		}
		now = next
	}
	if _, changed := to[now]; changed {
		return id, false
	}
	return now, true
}
