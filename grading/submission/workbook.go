package submission

import (
	"bytes"
	"fmt"
	"strings"
)

// SheetName is the worksheet of the entry workbook that is read. A workbook without it is read from the first worksheet
// with a header.
const SheetName = "Entry"

// brokenCell stands for a cell that cannot be read on its own. It is no step and no id, so whatever needs it is
// remarked.
const brokenCell = "#cell?"

// ReadWorkbook reads the rows of an entry workbook (.xlsx), wherever in the first rows its header stands. name is
// used in places only. A file that cannot be read yields no rows and a remark, whatever is wrong with it.
func ReadWorkbook(name string, data []byte) ([]Row, []Remark) {
	if len(data) > maxFileBytes {
		return nil, []Remark{tooLarge(name)}
	}
	if bytes.HasPrefix(data, []byte{0xd0, 0xcf, 0x11, 0xe0}) {
		return nil, []Remark{{name, "the file is an old .xls workbook or protected by a password",
			"save it as .xlsx without a password"}}
	}
	book, err := openBook(data)
	if err != nil {
		return nil, []Remark{damaged(name, err)}
	}
	sheet, form, err := book.entrySheet()
	if err != nil {
		return nil, []Remark{damaged(name, err)}
	}
	n := &notes{}
	if form.cut {
		n.add(name, fmt.Sprintf("something stands below row %d or right of column %d; it was not read", maxRows,
			maxColumns),
			"remove it or split the file")
	}
	for _, other := range book.sheets {
		if other == sheet {
			continue
		}
		top, err := book.read(other.part, maxHeaderRow)
		if err == nil && findHeader(top.rows).row > 0 {
			n.add(name,
				fmt.Sprintf("worksheet %s looks like an entry form too; only %s was read", quote(other.name),
					quote(sheet.name)),
				"save it as a file of its own, or move its rows")
		}
	}
	rows := table{file: name, rows: form.rows}.read(n)
	return rows, n.remarks(name)
}

// damaged is the one answer to whatever is wrong with a file: the user can only save it anew.
func damaged(name string, err error) Remark {
	return Remark{name, "the workbook cannot be read: " + clipped(err.Error(), 150),
		"open it in a spreadsheet program and save it again as .xlsx"}
}

// entrySheet finds the worksheet to read.
func (b *book) entrySheet() (worksheet, grid, error) {
	for _, sheet := range b.sheets {
		if strings.EqualFold(strings.TrimSpace(sheet.name), SheetName) {
			found, err := b.read(sheet.part, maxRows)
			return sheet, found, err
		}
	}
	for _, sheet := range b.sheets {
		found, err := b.read(sheet.part, maxRows)
		if err != nil {
			return sheet, grid{}, err
		}
		if findHeader(found.rows).row > 0 {
			return sheet, found, nil
		}
	}
	return worksheet{}, grid{}, fmt.Errorf("no worksheet named %s", SheetName)
}
