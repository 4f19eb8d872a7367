package submission

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
)

// Worksheet reads a worksheet of a workbook (.xlsx) as texts, within the bounds of entries: the one of that name, else
// the first. Cells with a date show their day, 2026-12-04, whatever the format shows of it.
func Worksheet(data []byte, name string) ([][]string, error) {
	if len(data) > maxFileBytes {
		return nil, fmt.Errorf("has more than %d bytes", maxFileBytes)
	}
	if bytes.HasPrefix(data, []byte{0xd0, 0xcf, 0x11, 0xe0}) {
		return nil, fmt.Errorf("is an old .xls workbook or protected by a password; save it as .xlsx without a password")
	}
	b, err := openBook(data)
	if err != nil {
		return nil, fmt.Errorf("cannot be read as a workbook: %s", clipped(err.Error(), 150))
	}
	b.days = true
	if len(b.sheets) == 0 {
		return nil, fmt.Errorf("has no worksheet")
	}
	part := b.sheets[0].part
	for _, sheet := range b.sheets {
		if strings.EqualFold(strings.TrimSpace(sheet.name), name) {
			part = sheet.part
		}
	}
	found, err := b.read(part, maxRows)
	if err != nil {
		return nil, fmt.Errorf("cannot be read as a workbook: %s", clipped(err.Error(), 150))
	}
	if found.cut {
		return nil, fmt.Errorf("has something below row %d or right of column %d", maxRows, maxColumns)
	}
	return found.rows, nil
}

// day is the day of a date as a workbook counts it: from 30 December 1899, or from 1904 where the workbook says so
// (ECMA-376 part 1, date systems). Days before March 1900, which the two ways to count tell apart, are none.
func (b *book) day(text string) string {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || v < 61 || v >= 2958466 { // the end of the year 9999
		return "#date?"
	}
	first := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)
	if b.from04 {
		first = time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	return first.AddDate(0, 0, int(math.Floor(v))).Format(time.DateOnly)
}
