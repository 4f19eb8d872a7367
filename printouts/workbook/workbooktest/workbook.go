// Package workbooktest helps the tests of workbooks: it reads them with the library, lets LibreOffice open and print
// them, and compares them with files of rows.
package workbooktest

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"nospark/scenarios/testrun"

	"github.com/xuri/excelize/v2"
)

// Open reads a workbook with the library.
func Open(t testing.TB, data []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// Value reads a cell as shown.
func Value(t testing.TB, f *excelize.File, sheet, cell string) string {
	t.Helper()
	v, err := f.GetCellValue(sheet, cell)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Convert lets LibreOffice write workbooks in another format and returns the folder with what it wrote: book0, book1
// and so on. One start of the program does them all, since starting takes most of the time.
func Convert(t testing.TB, format string, books ...[]byte) string {
	t.Helper()
	testrun.Long(t, "starts LibreOffice")
	soffice := testrun.Program(t, "soffice")
	dir := t.TempDir()
	out := filepath.Join(dir, "out")
	args := []string{"-env:UserInstallation=file://" + filepath.Join(dir, "profile"), "--headless", "--convert-to",
		format, "--outdir", out}
	for i, data := range books {
		in := filepath.Join(dir, fmt.Sprintf("book%d.xlsx", i))
		if err := os.WriteFile(in, data, 0o600); err != nil {
			t.Fatal(err)
		}
		args = append(args, in)
	}
	if text, err := exec.Command(soffice, args...).CombinedOutput(); err != nil {
		t.Fatalf("soffice: %v\n%s", err, text)
	}
	return out
}

// allSheets makes LibreOffice write every sheet as a CSV file with raw values, after it has worked out all formulas.
const AllSheets = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1"

// ReadCSVSheet reads one of those files; book is as convert names it.
func ReadCSVSheet(t testing.TB, book, sheet string) [][]string {
	t.Helper()
	data, err := os.ReadFile(book + "-" + sheet + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(bytes.NewReader(data))
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// ForgetValues drops the values stored beside formulas, so that another program has to work them out.
func ForgetValues(t testing.TB, f *excelize.File) []byte {
	t.Helper()
	if err := f.UpdateLinkedValue(); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := f.Write(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// Cells reads all cells of a sheet; raw ones as stored, else as shown.
func Cells(t testing.TB, f *excelize.File, sheet string, raw bool) [][]string {
	t.Helper()
	rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: raw})
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// Part reads one part of a workbook's package.
func Part(t *testing.T, data []byte, name string) string {
	t.Helper()
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	r, err := archive.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// Fill types into the entry form as a person would, by heading and sheet of the lab.
func Fill(t testing.TB, data []byte, entries map[int]map[string]any) []byte {
	t.Helper()
	const form, head = "Entry", 6 // as submission looks for them
	f := Open(t, data)
	titles := Cells(t, f, form, false)[head-1]
	for sheet, cells := range entries {
		for c, title := range titles {
			v, ok := cells[title]
			if !ok {
				continue
			}
			cell, err := excelize.CoordinatesToCellName(c+1, head+1+sheet)
			if err != nil {
				t.Fatal(err)
			}
			if err := f.SetCellValue(form, cell, v); err != nil {
				t.Fatal(err)
			}
		}
	}
	var out bytes.Buffer
	if err := f.Write(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// Pages returns the text of the pages of a PDF. On paper no column may be too narrow for its numbers, which shows as a
// row of ###.
func Pages(t testing.TB, path string) []string {
	t.Helper()
	pdftotext := testrun.Program(t, "pdftotext")
	text, err := exec.Command(pdftotext, "-layout", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(text), "###") {
		t.Errorf("%s: a column is too narrow", path)
	}
	return strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
}
