package workbook

import (
	"archive/zip"
	"bytes"
	"io"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"nospark/printouts/workbook/workbooktest"
)

// The library that reads our files is the oracle; 1000 columns go beyond the first name of three letters.
func TestColumnName(t *testing.T) {
	for column := 1; column <= 1000; column++ {
		want, err := excelize.ColumnNumberToName(column)
		if err != nil {
			t.Fatal(err)
		}
		if got := columnName(column); got != want {
			t.Fatalf("column %d is %q, want %q", column, got, want)
		}
	}
}

// What comes from outside keeps its meaning and loses only what breaks a cell or turns its text around.
func TestClean(t *testing.T) {
	check := func(text, want string) {
		t.Helper()
		if got := clean(text); got != want {
			t.Errorf("clean(%q) = %q, want %q", text, got, want)
		}
	}
	check("=1+1", "=1+1") // a text cell protects it
	check("two\nlines\tand a tab", "two lines and a tab")
	check("bell\a", "bell")
	check("bad \xff byte", "bad ? byte")
	check("turned \u202e round", "turned  round")
	check("Persian \u200c joiner", "Persian \u200c joiner")
	check("_x0041_", "_x0041_")
	check("_x1000_x0000_x0000_", "_x1000_ x0000_x0000_")
	if got := clean(strings.Repeat("é", maxText)); len([]rune(got)) > maxText {
		t.Errorf("%d characters are left", len([]rune(got)))
	}
}

// A text is wrapped between words, and within one only where it is longer than a line.
func TestLineCount(t *testing.T) {
	check := func(text string, width float64, want int) {
		t.Helper()
		if got := LineCount(text, width); got != want {
			t.Errorf("%q in %v takes %d lines, want %d", text, width, got, want)
		}
	}
	check("", 10, 1)
	check("one line", 10, 1)
	check("abc abc abc", 7, 2)
	check("aaaaaaaaaaaaaaaaaaaaaaa", 10, 3)
	check("漢字漢字漢字", 6, 2)
}

// The parts of a package come in the order of their names, the list of types first, all with one date.
func TestParts(t *testing.T) {
	b := New("t", "a4", "2026-10-05")
	sheet := b.AddSheet("s")
	end := sheet.MainTable(1, []Column{{Title: "n", Style: WholeStyle}}, [][]any{{1}, {2}}, 0)
	sheet.ColumnChart("C1", Chart{Title: "n", Labels: sheet.Range(2, 1, end-1, 1), Values: sheet.Range(2, 1, end-1, 1),
		Color: SkyBlue})
	data, err := b.Bytes("s")
	if err != nil {
		t.Fatal(err)
	}
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	before := ""
	for i, part := range archive.File {
		if i == 0 && part.Name != contentTypes {
			t.Errorf("first part is %s", part.Name)
		}
		if part.Name <= before {
			t.Errorf("%s comes after %s", part.Name, before)
		}
		if part.Modified.Year() != 1980 {
			t.Errorf("%s is of %v", part.Name, part.Modified)
		}
		before = part.Name
	}
}

// A value that is none of a cell is our mistake. It becomes an error and no panic, because the rows are made while a
// file is written.
func TestWrongValueIsAnError(t *testing.T) {
	b := New("t", "a4", "")
	b.AddSheet("s").Set(1, 1, TextStyle, []int{1})
	if _, err := b.Bytes("s"); err == nil || !strings.Contains(err.Error(), "[]int is no value of a cell") {
		t.Errorf("error %v", err)
	}
	if _, err := New("t", "a4", "").Bytes("s"); err == nil {
		t.Error("a workbook without sheets is no error")
	}
}

// FuzzText writes any text into a cell and reads it back: it is the cleaned text, and never a formula.
func FuzzText(f *testing.F) {
	for _, seed := range []string{"", "=1+1", "+A1", "-", "@x", "_x0041_", "_x005F_x0041_", "_x1000_x0000_", "a\x00b",
		"\ufffe", "  x  ", "<&>\"'", "\r\n", strings.Repeat("_x005F_", 20), "𝔘😀", "e\u0301"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		b := New(text, "letter", "2026-10-05")
		s := b.AddSheet("s")
		s.Set(1, 1, TextStyle, text)
		s.Set(2, 1, WrapStyle, "end")
		data, err := b.Bytes("s")
		if err != nil {
			t.Fatal(err)
		}
		book := workbooktest.Open(t, data)
		if got := workbooktest.Value(t, book, "s", "A1"); got != clean(text) {
			t.Errorf("%q was read back as %q", clean(text), got)
		}
		if formula, err := book.GetCellFormula("s", "A1"); err != nil || formula != "" {
			t.Errorf("%q became the formula %q, %v", text, formula, err)
		}
	})
}

// TestHonestBars cuts a part at every place: the bars are found wherever the pieces part.
func TestHonestBars(t *testing.T) {
	text := "a<dataBar <dataBar x<dataBa<dataBar "
	want := strings.ReplaceAll(text, anyBar, honestBar)
	for cut := range len(text) + 1 {
		var out bytes.Buffer
		p := newPackageWriter(&out)
		w, err := p.Create("xl/worksheets/sheet1.xml")
		if err != nil {
			t.Fatal(err)
		}
		for _, piece := range []string{text[:cut], text[cut:]} {
			if n, err := w.Write([]byte(piece)); n != len(piece) || err != nil {
				t.Fatal(n, err)
			}
		}
		if err := p.Close(); err != nil {
			t.Fatal(err)
		}
		archive, err := zip.NewReader(bytes.NewReader(out.Bytes()), int64(out.Len()))
		if err != nil {
			t.Fatal(err)
		}
		r, err := archive.File[0].Open()
		if err != nil {
			t.Fatal(err)
		}
		got, err := io.ReadAll(r)
		if err != nil || string(got) != want {
			t.Fatalf("cut at %d: %q (%v), want %q", cut, got, err, want)
		}
	}
}
