package workbook

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// TestWithoutRows: the rows with the id are empty but for what is kept, all others stand as they were, on every sheet.
func TestWithoutRows(t *testing.T) {
	b := New("Entries", "letter", "2026-09-07")
	for _, name := range []string{"One", "Two"} {
		sh := b.AddSheet(name)
		for r, row := range [][]string{{"id", "name", "sheet"}, {"0101", "Ann", "K7-PTX"}, {"0102", "Bo", "B3-QJZ"},
			{"10101", "Cy 0101", "C3-QJZ"}} {
			for c, text := range row {
				sh.Set(r+1, c+1, TextStyle, text)
			}
		}
	}
	data, err := b.Bytes("One")
	if err != nil {
		t.Fatal(err)
	}
	isID := func(cell string) bool { return cell == "0101" }
	hasID := func(cells []string) bool { return slices.ContainsFunc(cells, isID) }
	kept, n, err := WithoutRows(data, hasID, func(cell string) bool { return cell == "K7-PTX" })
	if err != nil || n != 2 {
		t.Fatalf("%d rows, %v", n, err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(kept))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"One", "Two"} {
		rows, err := f.GetRows(name)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, row := range rows {
			got = append(got, strings.Join(row, ","))
		}
		want := "id,name,sheet|,,K7-PTX|0102,Bo,B3-QJZ|10101,Cy 0101,C3-QJZ"
		if strings.Join(got, "|") != want {
			t.Errorf("%s: %s, want %s", name, strings.Join(got, "|"), want)
		}
	}
	if kept, n, err := WithoutRows(data, func(cells []string) bool { return slices.Contains(cells, "7") }, isID); kept != nil || n != 0 ||
		err != nil {
		t.Errorf("nobody's: %d bytes, %d, %v", len(kept), n, err)
	}
	if _, _, err := WithoutRows([]byte("PK no workbook"), hasID, isID); err == nil {
		t.Error("no workbook, and no error")
	}
}
