package submission

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"
)

// SheetName is the worksheet of the entry workbook that is read. A workbook without it is read from the first
// worksheet with a header.
const SheetName = "Entry"

// Bounds of an unpacked workbook. Worksheets are trimmed before they are parsed (see trimSheet), so only the other
// parts need a bound of their own: parsing makes them some twenty times larger in memory.
const (
	maxUnzipped  = 32 << 20
	maxOtherPart = 4 << 20
	maxParts     = 1000
)

// brokenCell stands for a cell that cannot be read on its own. It is no step and no id, so whatever needs it is
// remarked.
const brokenCell = "#cell?"

// ReadWorkbook reads the rows of an entry workbook (.xlsx), wherever in the first rows its header stands. name is
// used in places only. A file that cannot be read yields no rows and a remark, whatever is wrong with it.
func ReadWorkbook(name string, data []byte) (rows []Row, remarks []Remark) {
	if len(data) > maxFileBytes {
		return nil, []Remark{tooLarge(name)}
	}
	// The library panics on some damaged files. They are the user's data, not our bug.
	defer func() {
		if p := recover(); p != nil {
			rows, remarks = nil, []Remark{damaged(name, fmt.Errorf("%v", p))}
		}
	}()
	if bytes.HasPrefix(data, []byte{0xd0, 0xcf, 0x11, 0xe0}) {
		return nil, []Remark{{name, "the file is an old .xls workbook or protected by a password",
			"save it as .xlsx without a password"}}
	}
	if err := checkParts(data); err != nil {
		return nil, []Remark{damaged(name, err)}
	}
	limits := excelize.Options{UnzipSizeLimit: maxUnzipped, UnzipXMLSizeLimit: maxUnzipped}
	book, err := excelize.OpenReader(bytes.NewReader(data), limits)
	if err != nil {
		return nil, []Remark{damaged(name, err)}
	}
	defer book.Close()
	book.CharsetReader = onlyUTF8
	size, err := trimParts(book)
	if err != nil {
		return nil, []Remark{damaged(name, err)}
	}
	sheet, err := entrySheet(book, size)
	if err != nil {
		return nil, []Remark{damaged(name, err)}
	}
	rows, remarks = table{file: name, rows: readCells(book, sheet, size)}.read()
	top := extent{rows: min(size.rows, maxHeaderRow), columns: size.columns}
	for _, other := range book.GetSheetList() {
		if other != sheet && findHeader(readCells(book, other, top)).row > 0 {
			remarks = append(remarks, Remark{name,
				fmt.Sprintf("worksheet %s looks like an entry form too; only %s was read", quote(other), quote(sheet)),
				"save it as a file of its own, or move its rows"})
		}
	}
	if size.cut {
		remarks = append(remarks, Remark{name,
			fmt.Sprintf("something stands below row %d or right of column %d; it was not read", maxRows, maxColumns),
			"remove it or split the file"})
	}
	return rows, remarks
}

// damaged is the one answer to whatever is wrong with a file: the user can only save it anew.
func damaged(name string, err error) Remark {
	return Remark{name, "the workbook cannot be read: " + quote(err.Error()),
		"open it in a spreadsheet program and save it again as .xlsx"}
}

// checkParts refuses a package that is too large when unpacked. The sizes it trusts are enforced by the zip reader.
func checkParts(data []byte) error {
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return err
	}
	if len(archive.File) > maxParts {
		return fmt.Errorf("%d parts, at most %d expected", len(archive.File), maxParts)
	}
	for _, part := range archive.File {
		name := strings.ToLower(strings.ReplaceAll(part.Name, `\`, "/"))
		parsed := strings.HasSuffix(name, ".xml") || strings.HasSuffix(name, ".rels")
		ownBound := strings.HasPrefix(name, "xl/worksheets/") || name == "xl/sharedstrings.xml"
		if parsed && !ownBound && part.UncompressedSize64 > maxOtherPart {
			return fmt.Errorf("part %s has %d bytes, at most %d expected", part.Name, part.UncompressedSize64, maxOtherPart)
		}
	}
	return nil
}

// onlyUTF8 refuses every other encoding, so that what is trimmed as UTF-8 cannot be parsed as something else later.
func onlyUTF8(charset string, input io.Reader) (io.Reader, error) {
	if strings.EqualFold(charset, "utf-8") || strings.EqualFold(charset, "us-ascii") {
		return input, nil
	}
	return nil, errors.New("encoding " + charset)
}

// trimParts trims every worksheet of the book before anything parses it. The extent is that of all worksheets together.
func trimParts(book *excelize.File) (size extent, err error) {
	book.Pkg.Range(func(key, value any) bool {
		part, ok := value.([]byte)
		if !ok || !bytes.Contains(part, []byte("sheetData")) {
			return true
		}
		var one extent
		if part, one, err = trimSheet(part); err != nil {
			err = fmt.Errorf("%v: %w", key, err)
			return false
		}
		size = extent{max(size.rows, one.rows), max(size.columns, one.columns), size.cut || one.cut}
		book.Pkg.Store(key, part)
		return true
	})
	return size, err
}

// entrySheet finds the worksheet to read.
func entrySheet(book *excelize.File, size extent) (string, error) {
	sheets := book.GetSheetList()
	for _, sheet := range sheets {
		if strings.EqualFold(strings.TrimSpace(sheet), SheetName) {
			return sheet, nil
		}
	}
	for _, sheet := range sheets {
		if findHeader(readCells(book, sheet, size)).row > 0 {
			return sheet, nil
		}
	}
	return "", fmt.Errorf("no worksheet named %s", SheetName)
}

// readCells reads a trimmed worksheet cell by cell, each as shown. It asks for named cells only: the calls of the
// library that return whole rows allocate what the file claims to need.
func readCells(book *excelize.File, sheet string, size extent) [][]string {
	cells := make([][]string, size.rows)
	for r := range cells {
		for c := 1; c <= size.columns; c++ {
			name, _ := excelize.CoordinatesToCellName(c, r+1) // both are at least 1
			value, err := book.GetCellValue(sheet, name)
			if err != nil {
				value = brokenCell
			}
			if value != "" {
				cells[r] = append(cells[r], make([]string, c-len(cells[r]))...)
				cells[r][c-1] = plainNumber(book, sheet, name, value)
			}
		}
	}
	return cells
}

// plainNumber undoes how a spreadsheet shows a number that is an id: 9.00123E+11 is 900123456789, 12,345 is 12345. A
// format that adds leading zeros is kept, since those belong to the id.
func plainNumber(book *excelize.File, sheet, name, shown string) string {
	if strings.Trim(shown, "0123456789") == "" {
		return shown
	}
	raw, err := book.GetCellValue(sheet, name, excelize.Options{RawCellValue: true})
	if err != nil || raw == shown {
		return shown
	}
	v, err := strconv.ParseFloat(raw, 64)
	if err != nil || v != math.Trunc(v) || math.Abs(v) >= 1e15 {
		return shown
	}
	return strconv.FormatFloat(v, 'f', 0, 64)
}
