package workbooktest

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the golden files anew")

// Golden compares all cells of a workbook with a file of testdata: text that a person can compare, a line per row.
func Golden(t *testing.T, name string, data []byte) {
	t.Helper()
	f := Open(t, data)
	var b strings.Builder
	for _, sheet := range f.GetSheetList() {
		fmt.Fprintf(&b, "== %s\n", sheet)
		for _, row := range Cells(t, f, sheet, false) {
			line := strings.ReplaceAll(strings.Join(row, " | "), "\n", " / ")
			b.WriteString(strings.TrimRight(line, " |") + "\n")
		}
	}
	path := filepath.Join("testdata", name+".txt")
	if *update {
		if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got := b.String(); got != string(want) {
		t.Errorf("%s differs from %s:\n%s", name, path, difference(got, string(want)))
	}
}

// difference shows the first lines that differ.
func difference(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			return fmt.Sprintf("line %d\n got: %s\nwant: %s", i+1, g[i], w[i])
		}
	}
	return fmt.Sprintf("%d lines, want %d", len(g), len(w))
}
