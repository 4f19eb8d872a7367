package lists

import "nospark/scenarios/disk"

// AliasesFile is the list of changed ids in the folder of a term.
const AliasesFile = "aliases.csv"

// Alias says that two ids are one student.
type Alias struct {
	Place string // "aliases.csv:3"
	Old   string // id as in older records
	ID    string // the id that counts
}

// sizeLimit bounds a list: two thousand students have some 50 KB.
const sizeLimit = 8 << 20

// ReadAliases reads the columns old,id of the file at path. An alias joins the evidence of two ids, so nothing is
// guessed: the error joins all that is wrong, by line.
func ReadAliases(path string) ([]Alias, error) {
	data, err := disk.Read(path, sizeLimit)
	if err != nil {
		return nil, err
	}
	return parseAliases(path, data)
}

func parseAliases(path string, data []byte) ([]Alias, error) {
	rows, err := readNamed(path, data, []namedColumn{{heading: "old"}, {heading: "id"}})
	var list []Alias
	for _, r := range rows {
		list = append(list, Alias{Place: r.place, Old: r.cells[0], ID: r.cells[1]})
	}
	return list, err
}

// Resolve gives the id that counts, over several changes; false for one that comes back to itself.
func Resolve(to map[string]string, id string) (string, bool) {
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
