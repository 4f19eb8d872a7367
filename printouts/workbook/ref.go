package workbook

import "fmt"

// Ref names a cell: "C7".
func Ref(row, column int) string { return columnName(column) + fmt.Sprint(row) }

// FixedRef names a cell so that it stays the same when a formula is copied: "$C$7".
func FixedRef(row, column int) string { return fmt.Sprintf("$%s$%d", columnName(column), row) }

// columnName is "A" for 1, "AA" for 27.
func columnName(column int) string {
	name := ""
	for ; column > 0; column = (column - 1) / 26 {
		name = string(rune('A'+(column-1)%26)) + name
	}
	return name
}
