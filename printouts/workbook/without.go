package workbook

import (
	"bytes"

	"github.com/xuri/excelize/v2"
)

// WithoutRows empties the cells of every row of a workbook that drop wants gone, but for the cells that keep holds on
// to; all other rows stay as they are. It gives the number of rows that it emptied, and no
// bytes where there is none.
func WithoutRows(data []byte, drop func(cells []string) bool, keep func(cell string) bool) ([]byte, int, error) {
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		return nil, 0, err
	}
	defer f.Close()
	n := 0
	for _, sheet := range f.GetSheetList() {
		rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
		if err != nil {
			return nil, 0, err
		}
		for r, cells := range rows {
			if !drop(cells) {
				continue
			}
			n++
			for c, cell := range cells {
				if cell == "" || keep(cell) {
					continue
				}
				if err := f.SetCellValue(sheet, Ref(r+1, c+1), nil); err != nil {
					return nil, 0, err
				}
			}
		}
	}
	if n == 0 {
		return nil, 0, nil
	}
	out, err := f.WriteToBuffer()
	if err != nil {
		return nil, 0, err
	}
	return out.Bytes(), n, nil
}
