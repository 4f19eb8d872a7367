package page

import (
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"nospark/printouts/page/typeset"
	"nospark/scenarios/testrun"
)

var update = flag.Bool("update", false, "rewrite the expected texts in testdata")

// run runs a program of qpdf or poppler on a PDF, whose name stands as "PDF" in its arguments. Without the program the
// test is skipped on a workbench and fails in continuous integration.
func run(t *testing.T, pdf []byte, program string, args ...string) string {
	t.Helper()
	testrun.Program(t, program)
	name := filepath.Join(t.TempDir(), "sample.pdf")
	if err := os.WriteFile(name, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	for i := range args {
		args[i] = strings.Replace(args[i], "PDF", name, 1)
	}
	out, err := exec.Command(program, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", program, err, out)
	}
	return string(out)
}

// TestTextOnPaper compares what a reader finds on the pages of the sample with testdata, without counting spaces:
// versions of pdftotext differ in them.
func TestTextOnPaper(t *testing.T) {
	check := func(name string, o Options) {
		t.Helper()
		got := run(t, sample(t, o), "pdftotext", "-layout", "PDF", "-")
		got = regexp.MustCompile(` {2,}`).ReplaceAllString(got, "  ")
		got = regexp.MustCompile(`\n\s*\n`).ReplaceAllString(strings.ReplaceAll(got, "\f", "\n---- page ----\n"), "\n")
		file := filepath.Join("testdata", name+".txt")
		if *update {
			if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if g, w := strings.Split(got, "\n"), strings.Split(string(want), "\n"); got != string(want) {
			for i := range min(len(g), len(w)) {
				if g[i] != w[i] {
					t.Fatalf("%s, line %d: got %q, want %q", file, i+1, g[i], w[i])
				}
			}
			t.Fatalf("%s: %d lines, want %d", file, len(g), len(w))
		}
	}
	check("letter", Options{})
	check("a4", Options{Paper: "a4"})
	check("large", Options{LargePrint: true})
}

// TestReadingOrder looks for phrases in the order in which a reader comes to them, in the three orders that pdftotext
// offers.
func TestReadingOrder(t *testing.T) {
	d := New(Options{Date: sampleDate})
	sampleSheet(d)
	sampleReadings(d)
	pdf, err := d.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	phrases := []string{"Sheet K7Q", "Worksheet", "Name", "Partner", "Date", "The customer says", "It cranks as always",
		"Secondary voltage", "licensed for it",
		"Tests and their lines", "battery + post", "514", "switch, battery side", "coil", "Your record", "I expect",
		"Mind the cautions", "page 1 of 2",
		"Conclusion", "The repair is number", "page 2 of 2", "Readings", "For the partner", "001", "002", "page 1 of 2"}
	for _, mode := range []string{"-raw", "-layout", "-nopgbrk"} {
		text := strings.Join(strings.Fields(run(t, pdf, "pdftotext", mode, "PDF", "-")), " ")
		rest := text
		for _, p := range phrases {
			at := strings.Index(rest, p)
			if at < 0 {
				t.Errorf("pdftotext %s: %q is missing or too early", mode, p)
				break
			}
			rest = rest[at+len(p):]
		}
	}
}

func TestFileIsSound(t *testing.T) {
	for _, o := range []Options{{}, {Paper: "a4"}, {LargePrint: true}, {FrontPages: true}} {
		out := run(t, sample(t, o), "qpdf", "--check", "PDF")
		if !strings.Contains(out, "No syntax or stream encoding errors") || strings.Contains(out, "WARNING") {
			t.Errorf("%+v: %s", o, out)
		}
	}
}

func TestFontsAreEmbedded(t *testing.T) {
	lines := strings.Split(strings.TrimSpace(run(t, sample(t, Options{}), "pdffonts", "PDF")), "\n")[2:]
	if len(lines) != typeset.Faces {
		t.Errorf("%d fonts, want %d", len(lines), typeset.Faces)
	}
	for _, line := range lines {
		// name, type (two words), encoding, embedded, subset, unicode, object (two words)
		if f := strings.Fields(line); len(f) < 7 || f[4] != "yes" || f[6] != "yes" {
			t.Errorf("not embedded, or without a map to Unicode: %s", line)
		}
	}
}

func TestPaper(t *testing.T) {
	check := func(o Options, frame Frame, want string) {
		t.Helper()
		o.Date = sampleDate
		d := New(o)
		d.Section(frame).Para("one")
		pdf, err := d.Bytes()
		if err != nil {
			t.Fatal(err)
		}
		if out := run(t, pdf, "pdfinfo", "PDF"); !strings.Contains(out, want) {
			t.Errorf("want %q in %s", want, out)
		}
	}
	check(Options{}, Frame{}, "612 x 792 pts")
	check(Options{Paper: "a4"}, Frame{}, "595.28 x 841.89 pts")
	check(Options{}, Frame{Landscape: true}, "792 x 612 pts")
	check(Options{Title: "Übung (5)"}, Frame{}, "Übung (5)")
}

// TestFrontPages: a section of an odd number of pages is followed by an empty back.
func TestFrontPages(t *testing.T) {
	d := New(Options{Date: sampleDate, FrontPages: true})
	for range 2 {
		d.Section(Frame{Name: "One"}).Para("one page")
	}
	pdf, err := d.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	pages := strings.Split(run(t, pdf, "pdftotext", "PDF", "-"), "\f")
	if len(pages) != 4 || strings.TrimSpace(pages[1]) != "" || !strings.Contains(pages[2], "one page") ||
		!strings.Contains(pages[2], "page 1 of 1") {
		t.Errorf("pages %q", pages)
	}
}

// TestOutline: every named section is in the outline, at its page, and no page is lost behind the last of them.
func TestOutline(t *testing.T) {
	d := New(Options{Date: sampleDate})
	for i, name := range []string{"First (1)", "Second, lying", "Third"} {
		f := d.Section(Frame{Name: name, Landscape: i == 1})
		f.Para("one")
		f.Turn()
		f.Para("two")
	}
	pdf, err := d.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	if out := run(t, pdf, "pdfinfo", "PDF"); !regexp.MustCompile(`Pages: +6\n`).MatchString(out) {
		t.Errorf("want 6 pages: %s", out)
	}
	out := run(t, pdf, "qpdf", "--json", "--json-key=outlines", "PDF")
	got := regexp.MustCompile(`"(?:destpageposfrom1|title)": .*`).FindAllString(out, -1)
	want := []string{`"destpageposfrom1": 1,`, `"title": "First (1)"`, `"destpageposfrom1": 3,`,
		`"title": "Second, lying"`, `"destpageposfrom1": 5,`, `"title": "Third"`}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("outline %q, want %q", got, want)
	}
}
