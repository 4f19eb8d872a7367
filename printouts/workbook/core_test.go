package workbook

import (
	"archive/zip"
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
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
		if got := lineCount(text, width); got != want {
			t.Errorf("%q in %v takes %d lines, want %d", text, width, got, want)
		}
	}
	check("", 10, 1)
	check("one line", 10, 1)
	check("abc abc abc", 7, 2)
	check("aaaaaaaaaaaaaaaaaaaaaaa", 10, 3)
	check("漢字漢字漢字", 6, 2)
}

// Anscombe's first set (The American Statistician 27, 1973; from memory): y has mean 7.50 and, with divisor N, standard deviation 1.937.
func TestStats(t *testing.T) {
	check := func(what string, got, want float64) {
		t.Helper()
		if math.IsNaN(got) != math.IsNaN(want) || math.Abs(got-want) > 0.001 {
			t.Errorf("%s is %v, want %v", what, got, want)
		}
	}
	y := []float64{8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68}
	check("mean", mean(y), 7.5009)
	check("deviation", deviation(y), 1.9370)
	check("median", median(y), 7.58)
	check("lowest", lowest(y), 4.26)
	check("highest", highest(y), 10.84)
	check("median of two", median([]float64{1, 2}), 1.5)
	for _, f := range []func([]float64) float64{mean, median, deviation, lowest, highest} {
		check("a figure of nothing", f(nil), math.NaN())
	}
	check("spread of one value", deviation([]float64{5}), math.NaN())
	check("share of none", share(0, 0), math.NaN())
}

// The parts of a package come in the order of their names, the list of types first, all with one date.
func TestParts(t *testing.T) {
	data := results(t, sampleLab(6), sampleResult(sampleLab(6)))
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

// A value that is none of a cell is our mistake. It becomes an error and no panic, because the rows are made while a file is written.
func TestWrongValueIsAnError(t *testing.T) {
	b := newBook("t", "a4", "")
	b.sheet("s").set(1, 1, textLook, []int{1})
	if _, err := b.bytes("s"); err == nil || !strings.Contains(err.Error(), "[]int is no value of a cell") {
		t.Errorf("error %v", err)
	}
	if _, err := newBook("t", "a4", "").bytes("s"); err == nil {
		t.Error("a workbook without sheets is no error")
	}
}

// FuzzText writes any text into a cell and reads it back: it is the cleaned text, and never a formula.
func FuzzText(f *testing.F) {
	for _, seed := range []string{"", "=1+1", "+A1", "-", "@x", "_x0041_", "_x005F_x0041_", "_x1000_x0000_", "a\x00b", "\ufffe", "  x  ", "<&>\"'", "\r\n", strings.Repeat("_x005F_", 20), "𝔘😀", "e\u0301"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		b := newBook(text, "letter", "2026-10-05")
		s := b.sheet("s")
		s.set(1, 1, textLook, text)
		s.set(2, 1, wrapLook, "end")
		data, err := b.bytes("s")
		if err != nil {
			t.Fatal(err)
		}
		book := open(t, data)
		if got := value(t, book, "s", "A1"); got != clean(text) {
			t.Errorf("%q was read back as %q", clean(text), got)
		}
		if formula, err := book.GetCellFormula("s", "A1"); err != nil || formula != "" {
			t.Errorf("%q became the formula %q, %v", text, formula, err)
		}
	})
}
