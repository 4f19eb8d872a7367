package submission

import (
	"fmt"

	"nospark/scenarios/tabular"
)

// ReadCSV reads the rows of a CSV file. name is used in places only. Whatever encoding and separator package tabular
// knows will do, and any order of columns. Every row that can be read is returned, everything else is remarked.
func ReadCSV(name string, data []byte) ([]Row, []Remark) {
	if len(data) > maxFileBytes {
		return nil, []Remark{tooLarge(name)}
	}
	text, err := tabular.Read(data, tabular.Options{Known: isHeading, Rows: maxRows, Columns: maxColumns})
	if err != nil {
		return nil, []Remark{{name, "the file " + err.Error(),
			"open it in a spreadsheet program and save it as CSV, UTF-8"}}
	}
	t := table{file: name}
	var filled size
	for _, row := range text.Rows {
		for _, cell := range row.Cells {
			if err := filled.add(cell); err != nil {
				return nil, []Remark{{name, "the file has " + err.Error() + " and was not read",
					"remove what is not an entry"}}
			}
		}
		t.rows = append(t.rows, row.Cells)
	}
	n := &notes{}
	if text.Cut {
		n.add(name, fmt.Sprintf("the file goes on after row %d or column %d; the rest was not read", maxRows,
			maxColumns),
			"split the file")
	}
	for _, f := range text.Findings {
		n.add(fmt.Sprintf("%s, line %d", name, f.Line), f.What,
			"look at that row; nothing, if it was read as it was meant")
	}
	rows := t.read(n)
	return rows, n.remarks(name)
}
