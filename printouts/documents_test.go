package printouts

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"testing"

	"nospark/grading"
)

// TestGoldenDocuments: which documents exist, for whom and with what mode.
func TestGoldenDocuments(t *testing.T) {
	var b strings.Builder
	for _, d := range documents() {
		fmt.Fprintf(&b, "%-36s %-12s %04o\n", d.path, d.reader, d.mode)
	}
	golden(t, "documents.txt", b.String())
}

// TestModes: what lies among the handouts may be read by everybody, all else by the instructor alone; and whatever
// is made at a build for students lies there, whatever is for partners in a folder of its own.
func TestModes(t *testing.T) {
	for _, d := range documents() {
		mode := fs.FileMode(0o600)
		if strings.HasPrefix(d.path, "handouts/") {
			mode = 0o644
		}
		if d.mode != mode {
			t.Errorf("%s: mode %o, want %o", d.path, d.mode, mode)
		}
		folder, _, _ := strings.Cut(d.path, "/")
		want := map[Reader]string{Student: "handouts", Partner: "partners", Instructor: "instructor"}[d.reader]
		if (d.due == atBuild || d.due == reprint) && folder != want {
			t.Errorf("%s is for the %s", d.path, d.reader)
		}
	}
}

// TestJobs: the files of each occasion, and what a large school's take the place of.
func TestJobs(t *testing.T) {
	lab, result := lampClass(t)
	names := func(jobs []Job) string {
		var all []string
		for _, j := range jobs {
			all = append(all, j.Name)
		}
		return strings.Join(all, " ")
	}
	jobs, stale := AtBuild(lab)
	const want = "instructor/key.pdf instructor/how-to-run.pdf instructor/isolation-chart.pdf " +
		"instructor/pairing.pdf handouts/booklet.pdf handouts/worksheets.pdf partners/readings.pdf " +
		"handouts/pages/booklet.html handouts/pages/*-worksheet.html partners/pages/*-readings.html " +
		"handouts/text/booklet.txt handouts/text/*-worksheet.txt partners/text/*-readings.txt"
	if got := names(jobs); got != want || len(stale) != 0 {
		t.Errorf("a build makes %q and drops %q", got, stale)
	}
	for i, path := range map[int]string{8: "handouts/pages/*-worksheet.html", 11: "handouts/text/*-worksheet.txt"} {
		files, err := jobs[i].Make()
		if err != nil || len(files) != len(lab.Sheets) ||
			files[0].Path != strings.Replace(path, "*", lab.Sheets[0].Code, 1) || !jobs[i].Online {
			t.Errorf("twins of the sheets: %d files, %v", len(files), err)
		}
	}
	guests := *lab
	guests.Sheets = slices.Clone(lab.Sheets)
	guests.Sheets[1].Student, guests.Sheets[1].Name = "", ""
	with, _ := AtBuild(&guests)
	if got := names(with); !strings.Contains(got, "handouts/worksheets.pdf handouts/worksheets-spares.pdf "+
		"partners/readings.pdf partners/readings-spares.pdf") {
		t.Errorf("with a spare a build makes %q", got)
	}
	paper := map[string]int{}
	for _, j := range with[4:9] {
		files, err := j.Make()
		if err != nil || len(files) != 1 {
			t.Fatalf("%s: %d files, %v", j.Name, len(files), err)
		}
		text := strings.Join(pagesOf(t, files[0].Data), "\n")
		paper[j.Name] = files[0].Sheets
		if spare := strings.Contains(j.Name, "-spares"); j.Name != Booklet &&
			(strings.Contains(text, guests.Sheets[1].Code) != spare ||
				strings.Contains(text, guests.Sheets[0].Code) == spare) {
			t.Errorf("%s holds the wrong sheets", j.Name)
		}
	}
	if n := len(lab.Sheets) - 1; paper["partners/readings.pdf"] != n || paper["partners/readings-spares.pdf"] != 0 ||
		paper["handouts/worksheets-spares.pdf"] != 0 {
		t.Errorf("sheets of paper: %v", paper)
	}
	for i := range guests.Sheets {
		guests.Sheets[i].Student = ""
	}
	if with, _ = AtBuild(&guests); names(with) != want {
		t.Errorf("for guests alone a build makes %q", names(with))
	}
	school := *lab
	for range 40 {
		school.Sheets = append(school.Sheets, lab.Sheets...)
	}
	jobs, stale = AtBuild(&school)
	if got := names(jobs); !strings.Contains(got, "handouts/worksheets-01.pdf handouts/worksheets-02.pdf "+
		"partners/readings-01.pdf") ||
		fmt.Sprint(stale) != "[instructor/pairing.pdf handouts/worksheets.pdf partners/readings.pdf]" {
		t.Errorf("a school's build makes %q and drops %q", got, stale)
	}
	jobs, stale = AtGrading(lab, result)
	if got := names(jobs); got != "graded/results.xlsx graded/overview.pdf graded/debriefs.pdf "+
		"graded/pages/*-debrief.html graded/text/*-debrief.txt" ||
		len(stale) != 0 || !jobs[0].Keep {
		t.Errorf("a grading makes %q and drops %q", got, stale)
	}
	many := *result
	many.Students = make([]grading.StudentResult, 201)
	if jobs, stale = AtGrading(lab, &many); !strings.Contains(names(jobs),
		"debriefs-01.pdf graded/debriefs-02.pdf") || len(stale) != 1 {
		t.Errorf("a school's grading makes %q and drops %q", names(jobs), stale)
	}
	code := lab.Sheets[0].Code
	jobs, err := AtReprint(lab, code)
	if got := names(jobs); err != nil || got != "handouts/reprints/"+code+"-worksheet.pdf "+
		"partners/reprints/"+code+"-readings.pdf" {
		t.Errorf("a reprint makes %q, %v", got, err)
	}
	if _, err = AtReprint(lab, "none"); err == nil || !strings.Contains(err.Error(), `"none"`) {
		t.Errorf("error of a missing sheet: %v", err)
	}
	term := signOffTerm(t, 2, 2)
	if got := names(AtSummary(term, true)); got != "competency.xlsx coordinator.html sign-offs-A.pdf evidence.csv" {
		t.Errorf("a summary makes %q", got)
	}
	if got := names(AtSummary(term, false)); got != "competency-codes.xlsx evidence-codes.csv" {
		t.Errorf("a summary without names makes %q", got)
	}
}
