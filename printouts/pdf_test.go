package printouts

import (
	"bytes"
	"compress/zlib"
	"crypto/sha1"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"nospark/scenarios/testrun"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// tool runs an outside program. Where it is missing the test is skipped, but not on the build server.
func tool(t testing.TB, name string, args ...string) string {
	t.Helper()
	testrun.Program(t, name)
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out)
	}
	return string(out)
}

// saved puts a PDF into a file for the outside programs.
func saved(t testing.TB, pdf []byte) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "out.pdf")
	if err := os.WriteFile(name, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// must fails the test on an error.
func must(t testing.TB) func(pdf []byte, err error) []byte {
	return func(pdf []byte, err error) []byte {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return pdf
	}
}

// pagesOf gives the text of each page as it lies on paper.
func pagesOf(t testing.TB, pdf []byte) []string {
	t.Helper()
	text := tool(t, "pdftotext", "-layout", saved(t, pdf), "-")
	return strings.Split(strings.TrimSuffix(text, "\f"), "\f")
}

var stream = regexp.MustCompile(`(?s)stream\r?\n(.*?)\r?\nendstream`)

// formUse is a page's reference to what it has in common with others. The PDF library names it by its hash.
var formUse = regexp.MustCompile(`/TPL([0-9a-f]{40}) Do`)

// contents gives the decompressed drawing operations of each page, those of its forms included. Fonts and
// character maps are left out.
func contents(t testing.TB, pdf []byte) []string {
	t.Helper()
	var pages []string
	forms := map[string]string{}
	for _, m := range stream.FindAllSubmatchIndex(pdf, -1) {
		r, err := zlib.NewReader(bytes.NewReader(pdf[m[2]:m[3]]))
		if err != nil {
			continue
		}
		content, err := io.ReadAll(r)
		if err != nil || !bytes.Contains(content, []byte(" Td ")) {
			continue
		}
		begin := bytes.LastIndex(pdf[:m[0]], []byte(" obj"))
		if bytes.Contains(pdf[begin:m[0]], []byte("/Subtype /Form")) {
			forms[fmt.Sprintf("%x", sha1.Sum(content))] = string(content)
			continue
		}
		pages = append(pages, string(content))
	}
	for i := range pages {
		pages[i] = formUse.ReplaceAllStringFunc(pages[i], func(use string) string {
			content, is := forms[formUse.FindStringSubmatch(use)[1]]
			if !is {
				t.Fatalf("page %d: %s is not in the file", i+1, use)
			}
			return content
		})
	}
	return pages
}

// golden compares with a file that a person can read; -update rewrites it.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got == string(want) {
		return
	}
	a, b := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	for i := range max(len(a), len(b)) {
		if i >= len(a) || i >= len(b) || a[i] != b[i] {
			t.Fatalf("%s differs from line %d on; -update rewrites it\n got %q\nwant %q", path, i+1, at(a, i), at(b, i))
		}
	}
}

func at(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return "(end)"
}
