package tabular

import "fmt"

// Table is a text whose first row that is not blank names the columns.
type Table struct {
	Text
	Heading Row
	Rows    []Row // below the heading, with as many cells each; blank ones are left out
}

// ReadTable takes a text with headings apart. Rows that cannot be split for
// sure or have too many cells are told as findings and left out.
func ReadTable(data []byte, opts Options) (Table, error) {
	text, err := Read(data, opts)
	if err != nil {
		return Table{}, err
	}
	t := Table{Text: text}
	for _, row := range text.Rows {
		switch n := len(t.Heading.Cells); {
		case row.Blank(), row.broken:
		case n == 0:
			t.Heading = row
		// Too many cells are nearly always a name with a comma in it. Guessing which
		// cells belong together would shift what follows.
		case len(row.Cells) > n && !(Row{Cells: row.Cells[n:]}).Blank():
			t.Findings = append(t.Findings, Finding{row.Line, fmt.Sprintf(
				"%d cells, but only %d headings; a cell with the separator %q in it needs quotes around it",
				len(row.Cells), n, text.separator)})
		default:
			t.Rows = append(t.Rows, fit(row, n))
		}
	}
	if t.Heading.Cells == nil && len(t.Findings) == 0 {
		t.Findings = append(t.Findings, Finding{0, "is empty; the first line has to name the columns"})
	}
	return t, nil
}

// fit makes a row n cells long: spreadsheets leave empty cells at the end out.
func fit(row Row, n int) Row {
	for len(row.Cells) < n {
		row.Cells = append(row.Cells, "")
	}
	row.Cells = row.Cells[:n]
	return row
}
