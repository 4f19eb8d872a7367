package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"nospark/scenarios/testrun"
)

// TestSheetsOfPaper counts what a class of 22 holds in its hands, from the pages of the files and from what stands on
// them: at most 75 sheets for the first lab of a pack and 50 for each later one, both bounds our own. Two students
// share a booklet; what says so is printed on one side, the rest on both. Key and isolation chart are read on a
// screen, spares are printed when somebody needs one, and debriefs are pages for a browser. A build gives the same
// number.
func TestSheetsOfPaper(t *testing.T) {
	testrun.Slow(t, "builds a large class")
	const students = 22
	dir := filepath.Join(t.TempDir(), "term")
	command(t, exitDone, "new", dir)
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	class := "id,name,section\n"
	for i := range students {
		class += fmt.Sprintf("s%02d,Testina Example %c,A\n", i, 'A'+i)
	}
	write("roster.csv", class)
	for week, most := range []int{75, 50}[:testrun.Times(t, 2, 1)] {
		plan := fmt.Sprintf("plans/week%d.toml", week)
		write(plan, fmt.Sprintf("title = \"Week %d\"\ndate = 2026-10-05\npack = \"single-coil\"\n", week))
		said := command(t, exitDone, "build", filepath.Join(dir, plan))
		lab := filepath.Join(dir, "labs", fmt.Sprintf("week%d", week))
		sheets := 0
		printed := map[string]int{"handouts/worksheets.pdf": 1, "partners/readings.pdf": 1, "instructor/pairing.pdf": 1,
			"instructor/how-to-run.pdf": 1, "handouts/booklet.pdf": students / 2}
		if week > 0 {
			if _, err := os.Stat(filepath.Join(lab, "handouts", "booklet.pdf")); err == nil {
				t.Error("the booklet is printed again")
			}
			delete(printed, "handouts/booklet.pdf")
		}
		for name, copies := range printed {
			all := pages(t, filepath.Join(lab, filepath.FromSlash(name)))
			n := (len(all) + 1) / 2
			if strings.Contains(all[0], "one side") {
				n = len(all)
			}
			t.Logf("week %d: %s, %d pages, %d sheets, %d copies", week, name, len(all), n, copies)
			sheets += n * copies
		}
		if sheets > most {
			t.Errorf("week %d takes %d sheets of paper, want at most %d", week, sheets, most)
		}
		if want := fmt.Sprintf("paper   %d sheets: ", sheets); !strings.Contains(said, want) {
			t.Errorf("week %d takes %d sheets of paper; the build says\n%s", week, sheets, said)
		}
	}
}
