package submission

import (
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// What happens to a form on its way: a worksheet renamed or added, a column deleted. Every row is read or told about.
func TestCarelessWorkbooks(t *testing.T) {
	check := func(name string, data []byte, rows int, want ...string) {
		t.Helper()
		got, remarks := ReadWorkbook("e.xlsx", data)
		var all []string
		for _, r := range remarks {
			all = append(all, r.Place+": "+r.What)
		}
		if len(got) != rows || strings.Join(all, "\n") != strings.Join(want, "\n") {
			t.Errorf("%s: %d rows, want %d; remarks\n%s\nwant\n%s", name, len(got), rows, strings.Join(all, "\n"),
				strings.Join(want, "\n"))
		}
	}
	form := func(sheet string, change func(f *excelize.File), columns ...string) []byte {
		return workbook(t, sheet, func(f *excelize.File, set func(string, any)) {
			for i, c := range columns {
				name, _ := excelize.CoordinatesToCellName(i+1, 1) // both are at least 1
				set(name, c)
			}
			set("A2", "1001")
			change(f)
		})
	}
	keep := func(*excelize.File) {}
	add := func(sheet string) func(f *excelize.File) {
		return func(f *excelize.File) {
			if _, err := f.NewSheet(sheet); err != nil {
				t.Fatal(err)
			}
			for cell, text := range map[string]string{"A1": "id", "B1": "repair", "A2": "1002"} {
				if err := f.SetCellValue(sheet, cell, text); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	check("as it was", form("Entry", keep, "id", "repair", "step 1", "step 2"), 1)
	check("renamed", form("Section A", keep, "id", "repair", "step 1"), 1)
	check("another form", form("Entry", add("Section B"), "id", "repair", "step 1"), 1,
		"e.xlsx: worksheet 'Section B' looks like an entry form too; only 'Entry' was read")
	check("no repair", form("Entry", keep, "id", "step 1", "step 2"), 1, "e.xlsx, row 1: there is no column repair")
	check("no first step", form("Entry", keep, "id", "repair", "step 2", "step 3"), 1,
		"e.xlsx, row 1: there is no column step 1")
	check("steps in tens", form("Entry", keep, "id", "repair", "step 10", "step 20"), 1)
}
