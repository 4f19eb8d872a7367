package lists

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"nospark/grading/evidence"
	"nospark/scenarios/tabular"
)

// namedColumn is a column of a list that a school writes, found by its heading.
type namedColumn struct {
	heading string // as it is told in messages
	lone    bool   // the column may be missing
	empty   bool   // its cells may be empty
}

// namedRow has a row's cells in the order of the columns that were asked for.
type namedRow struct {
	place string // "aliases.csv:3"
	line  int
	cells []string
}

// readNamed reads a list with named columns, in whatever order and encoding. The error joins all that is wrong, by
// line, and nothing is returned in part: what counts for whom is never guessed.
func readNamed(path string, data []byte, columns []namedColumn) ([]namedRow, error) {
	var all, folded, must []string
	for _, c := range columns {
		all, folded = append(all, c.heading), append(folded, tabular.Fold(c.heading))
		if !c.empty {
			must = append(must, c.heading)
		}
	}
	want := strings.Join(all, ",")
	t, err := tabular.ReadTable(data, tabular.Options{Known: func(h string) bool { return slices.Contains(folded, h) }})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	if t.Heading.Cells == nil {
		return nil, fmt.Errorf("%s: is empty; its first line is %s", path, want)
	}
	at := make([]int, len(columns))
	for i, c := range columns {
		if at[i] = tabular.Find(t.Heading.Cells, folded[i:i+1]); at[i] < 0 && !c.lone {
			return nil, fmt.Errorf("%s:%d: heading %q; want %s", path, t.Heading.Line, strings.Join(t.Heading.Cells,
				","), want)
		}
	}
	var found []error
	for _, f := range t.Findings {
		found = append(found, fmt.Errorf("%s:%d: %s", path, f.Line, f.What))
	}
	var list []namedRow
	for _, row := range t.Rows {
		n := namedRow{place: fmt.Sprintf("%s:%d", path, row.Line), line: row.Line, cells: make([]string, len(columns))}
		bad := false
		for i, c := range columns {
			if at[i] >= 0 {
				n.cells[i] = row.Cells[at[i]]
			}
			bad = bad || n.cells[i] == "" && !c.empty || len(n.cells[i]) > evidence.LongestText
		}
		if bad {
			found = append(found, fmt.Errorf("%s: %q; want %s, none of them empty or long", n.place,
				strings.Join(row.Cells, ","), strings.Join(must, ",")))
		}
		list = append(list, n)
	}
	if len(found) > 0 {
		return nil, errors.Join(found...)
	}
	return list, nil
}
