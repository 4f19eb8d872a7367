package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/scenarios/testrun"
)

// command runs one command line and returns what it printed.
func command(t *testing.T, want int, line ...string) string {
	t.Helper()
	var out, errOut bytes.Buffer
	if got := run(context.Background(), line, strings.NewReader(""), &out, &errOut); got != want {
		t.Fatalf("nospark %s: exit status %d, want %d\n%s%s", strings.Join(line, " "), got, want, out.String(),
			errOut.String())
	}
	return out.String()
}

// pages gives the text of a PDF as a person reads it, page by page; options may ask for another order of the words.
// Source of the reading: poppler's pdftotext.
func pages(t *testing.T, pdf string, options ...string) []string {
	t.Helper()
	testrun.Program(t, "pdftotext")
	if len(options) == 0 {
		options = []string{"-layout"}
	}
	out, err := exec.Command("pdftotext", append(options, pdf, "-")...).Output()
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(strings.TrimSuffix(string(out), "\f"), "\f")
}

// termFor makes a term with a class of three and one plan, and builds it.
func termFor(t *testing.T, plan string) (lab string) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "term")
	command(t, exitDone, "new", dir)
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("roster.csv", "id,name,section\n1001,Ada Quill,A\n1002,Bert Ostrow,A\n1003,Cleo Carver,A\n")
	write("plans/week01.toml", plan)
	command(t, exitDone, "build", filepath.Join(dir, "plans", "week01.toml"))
	return filepath.Join(dir, "labs", "week01")
}

// A student who has nothing but the printed sheets commits to a test, finds its line, has the partner read it out,
// writes it down and is graded on it.
func TestStudentFromPaperAlone(t *testing.T) {
	testrun.Slow(t, "builds a large class")
	lab := termFor(t, "title = \"No start\"\ndate = 2026-09-07\npack = \"single-coil\"\ncomplaint = \"no-start\"\n")
	worksheets := pages(t, filepath.Join(lab, "handouts", "worksheets.pdf"))
	readings := pages(t, filepath.Join(lab, "partners", "readings.pdf"))
	reference := strings.Join(pages(t, filepath.Join(lab, "handouts", "booklet.pdf")), "\n")

	repair := regexp.MustCompile(`\b(\d\d[A-Z]{2})\b +Replace the CKP sensor`).FindStringSubmatch(reference)
	if repair == nil {
		t.Fatal("the booklet has no code for the CKP sensor")
	}
	code := regexp.MustCompile(`[A-Z]\d-[A-Z]{3}`).FindString(worksheets[0])
	// the commitment: key on, volts to battery negative, at point 9, where the specification says "less than 0.5 V below the
	// battery reading"
	row := regexp.MustCompile(`(?m)^ *9 +coil positive terminal +(?:feed +)?[\d.]+ +(\d{3})\b`).FindStringSubmatch(worksheets[0])
	if row == nil {
		t.Fatalf("no grid row for point 9 in\n%s", worksheets[0])
	}
	var partner string
	for _, page := range readings {
		if strings.Contains(page, code) {
			partner = page
		}
	}
	answer := regexp.MustCompile(row[1] + ` ([A-Z]{2}) +([-\d.]+) V, battery ([-\d.]+) V`).FindStringSubmatch(partner)
	if answer == nil {
		t.Fatalf("the readings sheet of %s does not answer line %s", code, row[1])
	}
	var reading, battery float64
	fmt.Sscan(answer[2], &reading)
	fmt.Sscan(answer[3], &battery)
	verdict := "+"
	if battery-reading >= 0.5 {
		verdict = "-"
	}
	entry := fmt.Sprintf("id,repair,step 1\n1001,%s,%s%s%s\n", repair[1], row[1], answer[1], verdict)
	if err := os.WriteFile(filepath.Join(lab, "entries", "class.csv"), []byte(entry), 0o644); err != nil {
		t.Fatal(err)
	}

	var result grading.Result
	if err := json.Unmarshal([]byte(command(t, exitDone, "grade", lab, "--json")), &result); err != nil {
		t.Fatal(err)
	}
	student := result.Students[0]
	if student.Student != "1001" || student.Status != grading.Graded || len(student.Steps) != 1 {
		t.Fatalf("graded %+v", student)
	}
	if step := student.Steps[0]; step.State != grading.Counted || !step.Agrees ||
		!strings.HasPrefix(step.Reading, answer[2]+" V") {
		t.Errorf("the step was graded as %+v", step)
	}
	if len(result.Problems) != 0 {
		t.Errorf("problems: %+v", result.Problems)
	}
}
