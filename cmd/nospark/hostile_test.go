package main

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"nospark/scenarios/term"
	"nospark/scenarios/testrun"
)

// rough are names that spreadsheets, printers, terminals and web pages could take for something else. Source of the
// formulas: OWASP, "CSV Injection".
var rough = []string{`=HYPERLINK("http://example.invalid","x")`, "@SUM(A1:A9)", "+1+1", "-1+1|x", `=cmd|'/c x'!A0`,
	"\uff1d1+1", "<script>x</script>",
	"&amp;&lt;", `a"b'c`, "$(touch x)", "`touch x`", "%s%n%p", "{{.}}", "../../x", "O'Neil", "𝔘𝔫𝔦", "אבג", "e\u0301", "𝟙🙂", strings.Repeat("W", 150)}

// A class with such names, sections and entries goes through a whole term: no cell of a CSV file begins like a formula, no workbook has a
// formula with anything of theirs, nothing appears outside the term, and every document can be read.
func TestRoughNames(t *testing.T) {
	testrun.Slow(t, "builds a large class")
	root := t.TempDir()
	dir := filepath.Join(root, "term")
	nospark(t, "new", dir)
	var list, entry bytes.Buffer
	roster, entries := csv.NewWriter(&list), csv.NewWriter(&entry)
	roster.Write([]string{"id", "name", "section"})
	entries.Write([]string{"id", "name", "repair", "step 1"})
	for i, name := range rough {
		id := string(rune('a'+i)) + "=1"
		roster.Write([]string{id, name, rough[i/7]})
		entries.Write([]string{id, name, name, name})
		entries.Write([]string{name, name, name, name}) // nobody's
	}
	roster.Flush()
	entries.Flush()
	put(t, filepath.Join(dir, "roster.csv"), list.String())
	plan := filepath.Join(dir, "plans", "week01.toml")
	put(t, plan, "title = \"=1+1 <b>&amp;\"\ndate = 2026-09-07\npack = \"lamp\"\nspares = 1\nlarge_print = [\"a=1\"]\n")
	nospark(t, "build", plan)
	folder := filepath.Join(dir, term.LabsFolder, "week01")
	put(t, filepath.Join(folder, "entries", "class.csv"), entry.String())
	nospark(t, "grade", folder)
	nospark(t, "competency", dir)
	nospark(t, "competency", dir, "--codes")

	formula := regexp.MustCompile(`<f[ >][^<]*</f>`)
	kinds := map[string]int{}
	for _, path := range filesBelow(t, root) {
		if !strings.HasPrefix(path, dir+string(filepath.Separator)) {
			t.Errorf("%s is outside the term", path)
		}
		kinds[filepath.Ext(path)]++
		switch {
		case strings.HasSuffix(path, ".csv") && strings.Contains(path, "graded"):
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
			if err != nil {
				t.Errorf("%s: %v", path, err)
			}
			for _, row := range rows {
				for _, cell := range row {
					if bare := strings.TrimSpace(cell); bare != "" && strings.ContainsAny(bare[:1], "=+-@\t\r") || strings.HasPrefix(bare, "\uff1d") {
						t.Errorf("%s has the cell %q", path, cell)
					}
				}
			}
		case strings.HasSuffix(path, ".xlsx"):
			for _, f := range formula.FindAll(parts(t, path), -1) {
				for _, bad := range []string{"HYPERLINK", "cmd|", "SUM(A1:A9)", "script", "touch"} {
					if bytes.Contains(f, []byte(bad)) {
						t.Errorf("%s has the formula %s", path, f)
					}
				}
			}
		case strings.HasSuffix(path, ".pdf"):
			program(t, "qpdf", "--check", path)
		}
	}
	for kind, least := range map[string]int{".pdf": 10, ".xlsx": 4, ".csv": 3, ".json": 3, ".txt": 40} {
		if kinds[kind] < least {
			t.Errorf("%d files %s, want at least %d", kinds[kind], kind, least)
		}
	}
	if out := string(program(t, "pdftotext", "-layout", filepath.Join(folder, "handouts", "worksheets.pdf"), "-")); !strings.Contains(out, `=HYPERLINK("http://example.invalid","x")`) {
		t.Error("a name is not on its sheet as it is")
	}
}

// parts is all XML of a workbook.
func parts(t testing.TB, path string) []byte {
	t.Helper()
	r, err := zip.OpenReader(path)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	var all bytes.Buffer
	for _, f := range r.File {
		part, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.Copy(&all, part); err != nil {
			t.Fatal(err)
		}
	}
	return all.Bytes()
}

// A roster of a cell of ten megabytes, of bytes that are no text, or with ids that lead elsewhere is refused with its line, and nothing is
// written.
func TestRoughRosters(t *testing.T) {
	dir, plan := schoolTerm(t, 1)
	before := listing(t, dir)
	check := func(name, text, want string) {
		t.Helper()
		put(t, filepath.Join(dir, "roster.csv"), text)
		said := fails(t, "build", plan)
		if !strings.Contains(said, want) || len(said) > 3000 {
			t.Errorf("%s: %.300q", name, said)
		}
		put(t, filepath.Join(dir, "roster.csv"), strings.Join([]string{"id,name,section", "100000,Student 0000,S00", ""}, "\n"))
		if after := listing(t, dir); strings.Join(before, "\n") != strings.Join(after, "\n") {
			t.Errorf("%s: something was written", name)
		}
	}
	check("a huge cell", "id,name\n1,"+strings.Repeat("x", 10<<20)+"\n", "roster.csv:2: name of student \"1\" \"xxxxxxxxxxxxxxxxxxxx\"... has 10485760 characters, at most 200")
	check("a huge id", "id,name\n"+strings.Repeat("1", 5<<20)+",x\n", "roster.csv")
	check("a control character", "id,name\n1,a\x07b\n", "roster.csv:2: name of student \"1\"")
	check("a zero byte", "id,name\n1,a\x00b\n", "is not a text file")
	check("a path", "id,name\n../../x,a\n", "roster.csv:2: id: name \"../../x\" contains '/'")
	check("a path for another system", "id,name\n..\\x,a\n", "roster.csv:2: id: name \"..\\\\x\" contains '\\\\'")
	check("an option", "id,name\n--help,a\n", "begins with '-'")
	check("a device", "id,name\nNUL,a\n", "is the name of a device on Windows")
	check("a quote that never ends", "id,name\n1,\"a\n", "roster.csv:2: ")
	check("nothing", "", "roster.csv")
}
