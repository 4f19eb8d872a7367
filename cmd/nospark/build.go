package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"nospark/grading/competency"
	"nospark/grading/competency/lists"
	"nospark/grading/players"
	"nospark/printouts"
	"nospark/scenarios/build"
	"nospark/scenarios/disk"
	"nospark/scenarios/lab"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
)

// labFile is the path of lab.json, given the folder of a lab.
func labFile(dir string) string { return filepath.Join(dir, lab.File) }

func newBuildCmd() *cobra.Command {
	asJSON, booklet := false, false
	cmd := &cobra.Command{
		Use: "build PLAN", Short: "Build and print the lab of a plan, or add sheets to it",
		Args: args(cobra.ExactArgs(1)),
		Long: `Builds labs/NAME from a plan: handouts for the students, the instructor's key, the entry form. A second build adds sheets for new
students and spares; it never changes a sheet that may have been printed and never touches what was handed in.`,
		Example: "  nospark build plans/week05.toml",
		RunE: func(cmd *cobra.Command, list []string) error {
			b, folder, err := buildPlan(cmd.Context(), list[0], booklet, cmd.ErrOrStderr())
			if err != nil {
				return err
			}
			if asJSON {
				return writeJSON(cmd.OutOrStdout(), b.report)
			}
			return tellBuild(cmd.OutOrStdout(), b, folder)
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the report as JSON")
	cmd.Flags().BoolVar(&booklet, "booklet", false, "print the booklet again that was printed with another lab of "+
		"the pack")
	return cmd
}

// buildPlan builds the lab of the plan at path and gives its folder too. Remarks and progress go to errOut.
func buildPlan(ctx context.Context, path string, booklet bool, errOut io.Writer) (b *built, folder string, err error) {
	if err := noPlan(path); err != nil {
		return nil, "", err
	}
	in, dir, remarks, err := build.Load(path)
	if err != nil {
		return nil, "", err
	}
	for _, r := range remarks {
		fmt.Fprintf(errOut, "nospark: %s\n", remarkText(r))
	}
	bar := newBar(errOut, "building")
	in.Progress = bar.set
	b, err = buildLab(ctx, in, dir, booklet)
	bar.done()
	if err != nil {
		return nil, "", err
	}
	return b, filepath.Join(dir, term.LabsFolder, b.lab.Name), nil
}

func remarkText(r roster.Remark) string { return fmt.Sprint(r) }

// built is what building one lab gave.
type built struct {
	lab    *lab.Lab
	report *build.Report
	forms  []form // in the order of the lab's sheets
}

// buildLab builds a lab into its folder of the term at dir. lab.json is written first: every other file follows from
// it, so a build that was interrupted is completed by the next. A booklet that another lab of the term has on paper is
// printed again only if it is asked for.
func buildLab(ctx context.Context, in build.Input, dir string, booklet bool) (*built, error) {
	folder := filepath.Join(dir, term.LabsFolder, in.Plan.Name)
	for _, sub := range []string{"handouts", "partners", "instructor", "entries"} {
		if err := os.MkdirAll(filepath.Join(folder, sub), 0o755); err != nil {
			return nil, err
		}
	}
	held, err := disk.Lock(ctx, folder, "build "+in.Plan.Name)
	if err != nil {
		return nil, err
	}
	defer held.Unlock()
	if in.Previous, err = previousLab(folder); err != nil { // another build may have ended since the plan was read
		return nil, err
	}
	var known []string
	in.History, known = pastOf(&in, dir)
	classNotes, err := sameClass(&in, known)
	if err != nil {
		return nil, err
	}
	lab, report, err := build.Lab(ctx, in)
	if err != nil {
		if in.Previous == nil {
			discardEmpty(folder)
		}
		return nil, err
	}
	notes, err := strangeNames(lab)
	if err != nil {
		return nil, err
	}
	report.Notes = slices.Concat(report.Notes, classNotes, hiddenNotes(&in.Plan, lab), notes)
	if report.List, err = knowingTheList(lab); err != nil {
		return nil, err
	}
	if report.List >= littleToProve && len(in.Plan.Instruments)+len(in.Plan.Conditions)+len(in.Plan.Forbid) > 0 {
		report.Notes = append(report.Notes, "the tests that the plan leaves make few of the checks, so a repair can often be "+
			"named without a test of the part; worksheets list what cannot be checked. More instruments or conditions make "+
			"proof worth more")
	}
	if err := writeLab(lab, folder); err != nil {
		return nil, err
	}
	forms, paper, err := printLab(ctx, lab, folder, booklet)
	if err != nil {
		return nil, err
	}
	report.Paper = paper
	return &built{lab, report, forms}, writeClaims(lab, in.Key, in.Term.Bench, folder)
}

// previousLab reads the lab that is in its folder already, nil for none.
func previousLab(folder string) (*lab.Lab, error) {
	lab, err := lab.Read(labFile(folder))
	if !errors.Is(err, fs.ErrNotExist) {
		return lab, err
	}
	for _, trace := range []string{"handouts/*.pdf", "partners/*.pdf", "entries/*", "graded/*"} {
		// the pattern is sound
		if found, _ := filepath.Glob(filepath.Join(escaped(folder), filepath.FromSlash(trace))); len(found) > 0 {
			return nil, fmt.Errorf("%s: is missing, but %s was made from it; restore it from a copy: a new one would "+
				"hide other faults behind the printed sheets",
				labFile(folder), found[0])
		}
	}
	return nil, nil
}

// pastOf tells what the class has had in earlier labs of the term, and the ids under which. Records that cannot be read
// say nothing here; the competency command names them.
func pastOf(in *build.Input, dir string) (past term.History, ids []string) {
	o := competency.Options{Term: in.Term, Key: &in.Key}
	// none, or the competency command names what is wrong
	o.Aliases, _ = lists.ReadAliases(filepath.Join(dir, lists.AliasesFile))
	term, err := competency.Read(filepath.Join(dir, recordsFolder), o)
	if err != nil {
		return nil, nil
	}
	for _, s := range term.Students {
		ids = append(ids, s.ID)
	}
	return term.History(in.Plan.Date, in.Plan.Name), ids
}

// discardEmpty takes away the folders of a lab that was not built; one with anything in it stays.
func discardEmpty(folder string) {
	for _, sub := range []string{"handouts", "partners", "instructor", "entries", ""} {
		_ = os.Remove(filepath.Join(folder, sub)) // fails, as it should, when something is in it
	}
}

// strangeNames warns of names that the fonts cannot print.
func strangeNames(lab *lab.Lab) ([]string, error) {
	names := make([]string, len(lab.Sheets))
	for i := range lab.Sheets {
		names[i] = lab.Sheets[i].Name
	}
	counts, err := printouts.Unprintable(names)
	var notes []string
	for i, n := range counts {
		if n > 0 {
			notes = append(notes, fmt.Sprintf("student %s: %d characters of the name cannot be printed and appear as "+
				"□ beside the id", lab.Sheets[i].Student, n))
		}
	}
	return notes, err
}

// littleToProve is the mark of somebody who proves nothing from which on proof is worth little in a lab.
const littleToProve = 90

// knowingTheList is what a student would earn on average who knows the whole list with its weights, and proves nothing.
func knowingTheList(lab *lab.Lab) (float64, error) {
	class, err := players.New(lab)
	if err != nil {
		return 0, err
	}
	marks, err := class.Measure(players.List, 2)
	sum := 0.0
	for _, m := range marks {
		sum += m / float64(len(marks))
	}
	return sum, err
}
