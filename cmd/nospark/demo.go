package main

import (
	"bytes"
	"context"
	"embed"
	"encoding/csv"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"nospark/grading"
	"nospark/grading/players"
	"nospark/grading/submission"
	"nospark/scenarios/build"
	"nospark/scenarios/disk"
	"nospark/scenarios/draw"
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

//go:embed demo/*
var demoFiles embed.FS

// The demo's term has a fixed key, so that two demos are the same bytes. It protects nothing.
const (
	demoTerm   = "demo-term-000"
	demoDate   = "2026-09-01"
	demoRetain = "2031-09-01"
)

// demoKey is the published key of the demo.
func demoKey() term.Key {
	var k term.Key
	copy(k[:], "the key of the demo is no secret!")
	return k
}

func newDemoCmd() *cobra.Command {
	return &cobra.Command{
		Use: "demo DIR", Short: "Build, play and grade a whole invented term", Args: args(cobra.MaximumNArgs(1)),
		Long: `Makes a term of invented labs with 24 invented students, plays the class with simulated students of four skills (best play, careful,
point after point, guesser), grades everything and sums up the competencies. The key of the demo is fixed and published, so that two
demos are the same bytes: never use its folder for a real class.`,
		Example: "  nospark demo demo",
		RunE: func(cmd *cobra.Command, list []string) error {
			dir := "demo"
			if len(list) > 0 {
				dir = list[0]
			}
			return runDemo(cmd.Context(), dir, cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
}

func runDemo(ctx context.Context, dir string, out, errOut io.Writer) error {
	if err := makeTerm(ctx, dir, demoKey(), demoTerm, demoDate, demoRetain); err != nil {
		return err
	}
	if err := os.Remove(filepath.Join(dir, "plans", "week01.toml")); err != nil {
		return err
	}
	if err := nameDemo(filepath.Join(dir, term.File)); err != nil {
		return err
	}
	plans, err := layDemo(dir)
	if err != nil {
		return err
	}
	progress := newBar(errOut, "playing a term")
	defer progress.done()
	tour := &tour{marks: map[players.Skill][]float64{}}
	for i, plan := range plans {
		progress.set(i, len(plans))
		if err := tour.week(ctx, dir, plan, i); err != nil {
			return err
		}
	}
	progress.done()
	if _, _, err := sumUp(ctx, dir, "", false, ""); err != nil {
		return err
	}
	return tour.tell(out, dir)
}

// nameDemo fills in who teaches the demo's class, and where and when.
func nameDemo(path string) error {
	text, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	named := strings.NewReplacer(`# instructor = "your name or initials"`, `instructor = "Invented Instructor"`,
		"# course", "course",
		"# campus", "campus", "# cohort", "cohort").Replace(string(text))
	return disk.Write(path, []byte(named), 0o644)
}

// layDemo writes the demo's roster and plans and gives the plans' paths in order.
func layDemo(dir string) ([]string, error) {
	files, err := demoFiles.ReadDir("demo")
	if err != nil {
		return nil, err
	}
	var plans []string
	for _, f := range files {
		text, err := demoFiles.ReadFile("demo/" + f.Name())
		if err != nil {
			return nil, err
		}
		path := filepath.Join(dir, f.Name())
		if strings.HasSuffix(f.Name(), ".toml") {
			path = filepath.Join(dir, "plans", f.Name())
			plans = append(plans, path)
		}
		if err := disk.Write(path, text, 0o644); err != nil {
			return nil, err
		}
	}
	return plans, nil
}

// tour collects what the demo has to show.
type tour struct {
	labs  []string // one line each
	marks map[players.Skill][]float64
}

// week builds, plays and grades one lab.
func (t *tour) week(ctx context.Context, dir, plan string, number int) error {
	in, _, _, err := build.Load(plan)
	if err != nil {
		return err
	}
	b, err := buildLab(ctx, in, dir, false)
	if err != nil {
		return err
	}
	lab, report := b.lab, b.report
	folder := filepath.Join(dir, term.LabsFolder, lab.Name)
	if err := playClass(lab, number, filepath.Join(folder, "entries", "class.csv")); err != nil {
		return err
	}
	g, err := gradeLab(ctx, folder, asking{})
	if err != nil {
		return err
	}
	for i, s := range g.result.Students {
		if s.Status == grading.Graded && s.Student != "" {
			skill := skillOf(i)
			t.marks[skill] = append(t.marks[skill], s.Mark)
		}
	}
	t.labs = append(t.labs, fmt.Sprintf("  %-8s %-34s %2d faults on its sheets, %.1f to %.1f minutes", lab.Name,
		lab.Title, hidden(report), report.Low/10, report.High/10))
	return nil
}

// hidden counts the faults that some sheet hides.
func hidden(r *build.Report) int {
	n := 0
	for _, f := range r.Faults {
		if f.Sheets > 0 {
			n++
		}
	}
	return n
}

// skillOf deals the skills out along the roster.
func skillOf(student int) players.Skill {
	skills := players.All()
	return skills[student%len(skills)]
}

// playClass writes what the simulated students hand in. In the second lab one is absent and one copies a wrong letter,
// as happens.
func playClass(lab *lab.Lab, number int, path string) error {
	class, err := players.New(lab)
	if err != nil {
		return err
	}
	var text bytes.Buffer
	w := csv.NewWriter(&text)
	if err := w.Write([]string{"id", "sheet", "repair", "reasoning", "safe", "steps"}); err != nil {
		return err
	}
	key := demoKey()
	for i := range lab.Sheets {
		if lab.Sheets[i].Student == "" || number == 1 && i == 5 {
			continue
		}
		stream := draw.New(key[:], "play", lab.Name, lab.Sheets[i].Student)
		row := class.Play(i, skillOf(i), stream.Intn)
		if number == 1 && i == 9 && len(row.Steps) > 0 {
			row.Steps[0].Letters = "ZZ"
		}
		if err := w.Write(entryOf(row, stream, skillOf(i))); err != nil {
			return err
		}
	}
	w.Flush()
	return disk.Write(path, text.Bytes(), 0o644)
}

// entryOf writes a row as a person would key it in. The instructor's columns follow the skill loosely.
func entryOf(row submission.Row, stream *draw.Stream, skill players.Skill) []string {
	reasoning := map[players.Skill]int{players.Expert: 4, players.Careful: 3, players.Walker: 2,
		players.Guesser: 0}[skill]
	safe := "yes"
	if stream.Intn(12) == 0 {
		safe = "no"
	}
	fields := []string{row.Student, row.Sheet, row.Repair, fmt.Sprint(max(0, reasoning-stream.Intn(2))), safe}
	for _, s := range row.Steps {
		fields = append(fields, fmt.Sprintf("%03d%s%s", s.Line, s.Letters, s.Judged))
	}
	return fields
}

func (t *tour) tell(out io.Writer, dir string) error {
	w := &writer{out: out}
	w.line("An invented term is in %s. Its key is published: never use it for a real class.\n", dir)
	w.line("Labs")
	for _, l := range t.labs {
		w.line("%s", l)
	}
	w.line("\nMean mark by skill of the simulated students")
	for _, skill := range players.All() {
		if len(t.marks[skill]) == 0 {
			continue
		}
		sum := 0.0
		for _, m := range t.marks[skill] {
			sum += m
		}
		w.line("  %-14s %5.1f  (%d sheets)", skill, sum/float64(len(t.marks[skill])), len(t.marks[skill]))
	}
	first := filepath.Join(dir, term.LabsFolder, "week01")
	w.line("\nLook at")
	for _, l := range [][2]string{
		{"the diagram and specifications", "handouts/booklet.pdf"}, {"the students' own sheets",
			"handouts/worksheets.pdf"},
		{"what the partners hold", "partners/readings.pdf"}, {"the answers", "instructor/key.pdf"},
		{"the entry form", "entries/entry.xlsx"},
		{"the marks", "graded/results.xlsx"}, {"what each student gets back", "graded/debriefs.pdf"},
	} {
		w.line("  %-32s %s", l[0], filepath.Join(first, filepath.FromSlash(l[1])))
	}
	w.line("  %-32s %s", "the term", filepath.Join(dir, "competency.xlsx"))
	return w.err
}
