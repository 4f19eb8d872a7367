package workbook

import (
	"bytes"
	"encoding/csv"

	"nospark/scenarios/lab"
	"nospark/scenarios/tabular"
)

// EntryCSV makes the form as CSV, for programs that open no workbook: a heading row and one row per sheet of the lab. It begins with a byte
// order mark, without which common spreadsheets garble names with accents. Texts that they would calculate are protected (OWASP, "CSV
// Injection"); the reader takes the protection off again.
func EntryCSV(lab *lab.Lab) ([]byte, error) {
	var out bytes.Buffer
	out.WriteString("\ufeff")
	w := csv.NewWriter(&out)
	w.UseCRLF = true
	// The same headings as in the workbook, so that the reader has one form to know.
	head := entryColumns(lab)
	rows := [][]string{head}
	for _, sheet := range lab.Sheets {
		row := make([]string, len(head))
		for i, text := range []string{sheet.Student, sheet.Name, sheet.Section, sheet.Code} {
			row[i] = tabular.Neutralize(clean(text))
		}
		rows = append(rows, row)
	}
	if err := w.WriteAll(rows); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}
