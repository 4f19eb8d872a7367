package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/evidence"
	"nospark/grading/gradebook"
	"nospark/grading/handin"
	"nospark/grading/submission"
	"nospark/printouts"
	"nospark/scenarios/disk"
	"nospark/scenarios/lab"
	"nospark/scenarios/tabular"
	"nospark/scenarios/term"
)

func newGradeCmd() *cobra.Command {
	asJSON, really, back := false, false, false
	cmd := &cobra.Command{
		Use: "grade LAB", Short: "Grade what was handed in", Args: args(cobra.ExactArgs(1)),
		Long: `Reads every entry.xlsx and CSV file in LAB/entries, what the bench recorded there, and LAB/adjust.toml if there is
one, and writes LAB/graded: results.xlsx, debriefs.pdf, overview.pdf, gradebook.csv, problems.csv. A bad row never stops
the others. Grading again is safe: it works from the frozen lab alone, takes no mark
away without asking, and keeps what it replaces, which --undo brings back.

adjust.toml holds what you decide, one block each with a reason in quotes:
  [[excuse]]   student
  [[correct]]  student, step, to        what was meant at a step, like to = "214KQ+"
  [[confirm]]  student                  a provisional mark stands
  [[mark]]     student, value           a mark set by hand
  [[accept]]   repair, and student, sheet or instead_of; without any of these it is right for all
  [[drop]]     test, or line with student or sheet
  [[waive]]    repair, test or point    its checks need not be made; with student or sheet only there
  [[worked]]   student, sheet           who worked on a sheet that was meant for somebody else
  [[choose]]   student, row             which of several different rows counts, like row = "late.csv, row 2"
  [[misread]]  student, step            the partner read a wrong line out; the step costs nothing
  [[late]]     student                  the mark stays, the gradebook is told
  [[trust]]    file                     a list of your own under another name, which speaks for all
Where students have several vehicles, sheet says which one is meant, and instead_of in [[worked]] which own one is not.`,
		Example: "  nospark grade labs/week05",
		RunE: func(cmd *cobra.Command, list []string) error {
			if back {
				return undo(cmd.Context(), list[0], cmd.OutOrStdout())
			}
			g, err := gradeLab(cmd.Context(), list[0], asking{really, cmd.InOrStdin(), cmd.ErrOrStderr()})
			if err != nil {
				return err
			}
			for _, note := range g.notes {
				fmt.Fprintf(cmd.ErrOrStderr(), "nospark: %s\n", disk.ShowName(note))
			}
			if asJSON {
				return writeJSON(cmd.OutOrStdout(), g.result)
			}
			return tellGrade(cmd.OutOrStdout(), list[0], g)
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the result as JSON")
	cmd.Flags().BoolVar(&really, "really", false, "grade even if students who had a mark would have none")
	cmd.Flags().BoolVar(&back, "undo", false, "bring the last grading back that another one has replaced")
	cmd.MarkFlagsMutuallyExclusive("json", "undo")
	cmd.MarkFlagsMutuallyExclusive("really", "undo")
	return cmd
}

// graded is what grading one lab gave.
type graded struct {
	lab      *lab.Lab
	result   *grading.Result
	book     string   // name of the results workbook
	giveBack []string // names of the documents for the students
	notes    []string // for the instructor

	dir  string // of the lab's own term; "" when there is none here
	term term.Term
	key  term.Key

	recordsBefore []disk.File // of this lab in the term, by name
}

// adjustFile is the instructor's list of corrections in the folder of a lab.
const adjustFile = "adjust.toml"

func gradeLab(ctx context.Context, folder string, ask asking) (*graded, error) {
	g, err := openLab(folder)
	if err != nil {
		return nil, err
	}
	held, err := disk.Lock(ctx, folder, "grade "+g.lab.Name)
	if err != nil {
		return nil, err
	}
	defer held.Unlock()
	if err := g.grade(ctx, folder); err != nil {
		return nil, err
	}
	g.checkName(folder, ask)
	if err := g.readRecords(); err != nil {
		return nil, err
	}
	if err := g.agree(folder, ask); err != nil {
		return nil, err
	}
	records, err := g.records()
	if err != nil {
		return nil, err
	}
	if err := g.keepHistory(folder, records); err != nil {
		return nil, err
	}
	if err := g.write(ctx, folder); err != nil {
		return nil, err
	}
	if err := g.writeRecords(ctx, records); err != nil {
		return nil, err
	}
	return g, thinHistory(folder)
}

// grade reads what was handed in and what the instructor decided.
func (g *graded) grade(ctx context.Context, folder string) error {
	rows, remarks, err := submission.ReadFolder(ctx, filepath.Join(folder, "entries"))
	if err != nil {
		return err
	}
	bench, err := g.readBench(folder)
	if err != nil {
		return err
	}
	rows = append(rows, handin.BenchRows(g.lab, bench.Room)...)
	adjust, err := readAdjust(filepath.Join(folder, adjustFile))
	if err != nil {
		return err
	}
	if g.result, err = grading.Grade(g.lab, rows, adjust, remarks...); err != nil {
		return err
	}
	if !slices.ContainsFunc(g.result.Marks, func(m grading.StudentMark) bool { return m.Status != grading.Blank }) {
		g.notes = append(g.notes, fmt.Sprintf("%s: no row with an answer was found; fill in entry.xlsx or put CSV "+
			"files there",
			filepath.Join(folder, "entries")))
	}
	return nil
}

// openLab reads a lab and refuses one that was changed after it was built.
func openLab(folder string) (*graded, error) {
	lab, err := readLab(folder)
	if err != nil {
		return nil, err
	}
	g := &graded{lab: lab}
	return g, g.checkSeal(folder)
}

// checkSeal refuses a lab that was changed after it was built, and notes one that cannot be checked here.
func (g *graded) checkSeal(folder string) error {
	dir, err := term.Find(folder)
	if err != nil {
		g.notes = append(g.notes, labFile(folder)+": seal not checkable here: no term above it; no records are kept")
		return nil
	}
	if g.term, err = term.Read(dir); err != nil {
		return err
	}
	key := filepath.Join(dir, term.KeyFile)
	if _, err := os.Stat(key); errors.Is(err, fs.ErrNotExist) {
		g.notes = append(g.notes, key+": is missing; labs can be graded without it, but whether they were changed is "+
			"not checked, "+
			"no records are kept and nothing can be built; restore it from a copy")
		return nil
	}
	if g.key, err = term.ReadKey(key); err != nil {
		return err
	}
	switch g.lab.Verify(g.term.ID, g.key[:]) {
	case lab.Changed:
		return fmt.Errorf("%s: was changed after it was built; restore it from a copy (corrections belong in %s)",
			labFile(folder), adjustFile)
	case lab.OtherKey:
		return fmt.Errorf("%s: was built with another key than %s is now; restore that key from a copy",
			labFile(folder), filepath.Join(dir, term.KeyFile))
	case lab.NotCheckable:
		g.notes = append(g.notes, labFile(folder)+": seal not checkable here: it is of another term; no records are "+
			"kept")
		return nil
	}
	g.dir = dir
	return nil
}

// records encodes what the term keeps of this lab, one file per section.
func (g *graded) records() ([]disk.File, error) {
	if g.dir == "" {
		return nil, nil
	}
	var files []disk.File
	for _, r := range evidence.FromResult(g.lab, g.result, g.term) {
		data, err := r.Encode(g.key)
		if err != nil {
			return nil, err
		}
		files = append(files, disk.File{Path: r.FileName(), Data: data})
	}
	return files, nil
}

// writeRecords writes records, by their names, into the folder of the term, and takes away those of the lab that this
// grading does not make any more: a student with a corrected id has no second self. The history has what goes.
func (g *graded) writeRecords(ctx context.Context, files []disk.File) error {
	if len(files) == 0 {
		return nil
	}
	dir := filepath.Join(g.dir, recordsFolder)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	held, err := disk.Lock(ctx, dir, "grade "+g.lab.Name)
	if err != nil {
		return err
	}
	defer held.Unlock()
	var placed []disk.File
	for _, f := range files {
		placed = append(placed, disk.File{Path: filepath.Join(dir, f.Path), Data: f.Data})
	}
	if err := writeFiles(forInstructor, placed...); err != nil {
		return err
	}
	for _, old := range g.recordsBefore {
		if !slices.ContainsFunc(files, func(f disk.File) bool { return f.Path == old.Path }) {
			if err := drop(dir, old.Path); err != nil {
				return err
			}
		}
	}
	return nil
}

// recordsFolder holds the evidence of a term.
const recordsFolder = "records"

func readAdjust(path string) (adjust.Decisions, error) {
	text, err := disk.Read(path, packLimit)
	if errors.Is(err, fs.ErrNotExist) {
		return adjust.Decisions{}, nil
	}
	if err != nil {
		return adjust.Decisions{}, err
	}
	return adjust.Read(path, text)
}

// write puts the results into LAB/graded.
func (g *graded) write(ctx context.Context, folder string) error {
	dir := filepath.Join(folder, "graded")
	documents, stale := printouts.AtGrading(g.lab, g.result)
	var book []printouts.File // the one document that the instructor may have edited
	var jobs []func() error
	for _, d := range documents {
		if d.For == printouts.Student && !d.Online {
			g.giveBack = append(g.giveBack, d.Name)
		}
		if d.Keep {
			jobs = append(jobs, func() (err error) {
				book, err = d.Make()
				return err
			})
			continue
		}
		jobs = append(jobs, writing(ctx, folder, []printouts.Job{d})...)
	}
	jobs = append(jobs, func() error { return writeOne(ctx, dir, output{"problems.csv", g.problems}) })
	if err := runAll(ctx, jobs); err != nil {
		return err
	}
	// Where no records are kept the gradebook tells what was graded before, so it comes last.
	if err := writeOne(ctx, dir, output{"gradebook.csv", g.gradebookCSV}); err != nil {
		return err
	}
	if err := drop(folder, stale...); err != nil {
		return err
	}
	return g.writeBook(dir, book[0].Data)
}

func (g *graded) gradebookCSV() ([]byte, error) { return gradebook.CSV(g.marks()) }

// stampFile keeps the fingerprint of the results workbook as it was written, to know one that the instructor has
// edited since.
const stampFile = ".results.sha256"

// writeBook replaces results.xlsx only when nobody has edited it; else the new results go to the first
// results-N.xlsx that nobody has edited. Those behind it that nobody has edited are of an earlier grading and go
// away.
func (g *graded) writeBook(dir string, data []byte) error {
	stamp, _ := os.ReadFile(filepath.Join(dir, stampFile)) // none: nothing was written yet
	if !strings.Contains(string(stamp), fingerprint(data)) {
		stamp = append(stamp, fingerprint(data)+"\n"...)
		if err := disk.Write(filepath.Join(dir, stampFile), stamp, forInstructor); err != nil {
			return err
		}
	}
	name := "results.xlsx"
	for n := 2; ; n++ {
		old, err := os.ReadFile(filepath.Join(dir, name))
		ours := err == nil && strings.Contains(string(stamp), fingerprint(old))
		switch {
		case err != nil && !errors.Is(err, fs.ErrNotExist):
			return err
		case g.book == "" && (err != nil || ours):
			g.book = name
		case err != nil:
			return writeFiles(forInstructor, disk.File{Path: filepath.Join(dir, g.book), Data: data})
		case g.book == "":
			g.notes = append(g.notes, fmt.Sprintf("%s: was edited since it was written, so it stays as it is; the "+
				"new results are beside it", filepath.Join(dir, name)))
		case ours:
			if err := drop(dir, name); err != nil {
				return err
			}
		}
		name = fmt.Sprintf("results-%d.xlsx", n)
	}
}

func fingerprint(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

func (g *graded) marks() []gradebook.Row {
	absence := map[grading.Status]gradebook.Absence{grading.Blank: gradebook.NotHanded,
		grading.Incomplete: gradebook.Unfinished, grading.Excused: gradebook.Excused}
	var rows []gradebook.Row
	for _, m := range g.result.Marks {
		mark := gradebook.Mark{StudentID: m.Student, Value: m.Mark, Has: m.Status.HasMark(), Late: m.Late,
			Absence: absence[m.Status]}
		rows = append(rows, gradebook.Row{Mark: mark, Name: m.Name, Section: m.Section, Status: string(m.Status)})
	}
	return rows
}

func (g *graded) problems() ([]byte, error) {
	rows := [][]string{{"place", "what", "do"}}
	for _, p := range g.result.Problems {
		rows = append(rows, []string{p.Place, p.What, p.Do})
	}
	for _, a := range g.result.Alike {
		rows = append(rows, []string{"sheets " + a.Sheets[0] + " and " + a.Sheets[1], a.Why, "please look"})
	}
	return tabular.Encode(rows, false), nil
}

// tellGrade gives the class at a glance.
func tellGrade(out io.Writer, folder string, g *graded) error {
	w := &writer{out: out}
	count := map[grading.Status]int{}
	sum, marked := 0.0, 0
	for _, m := range g.result.Marks {
		count[m.Status]++
		if m.Status.HasMark() {
			sum += m.Mark
			marked++
		}
	}
	incomplete := ""
	if n := count[grading.Incomplete]; n > 0 {
		incomplete = fmt.Sprintf("%d incomplete, ", n)
	}
	w.line("%s: %d graded, %d provisional, %s%d blank, %d excused", g.result.Title, count[grading.Graded],
		count[grading.Provisional],
		incomplete, count[grading.Blank], count[grading.Excused])
	switch n := count[grading.Provisional]; {
	case n > 0:
		w.line("  mean mark %.1f, provisional marks among them: %d", sum/float64(marked), n)
	case marked > 0:
		w.line("  mean mark %.1f", sum/float64(marked))
	}
	for _, p := range g.result.Problems {
		w.line("  look: %s: %s; %s", p.Place, p.What, p.Do)
	}
	w.line("results %s", filepath.Join(folder, "graded", g.book))
	for _, name := range g.giveBack {
		w.line("give back %s", filepath.Join(folder, filepath.FromSlash(name)))
	}
	return w.err
}
