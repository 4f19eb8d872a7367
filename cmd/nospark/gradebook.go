package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"nospark/grading"
	"nospark/grading/gradebook"
	"nospark/scenarios/disk"
	"nospark/scenarios/roster"
)

// exportOptions say where marks go.
type exportOptions struct {
	template, idColumn, markColumn string
	points                         float64
	version, roster, class         string
	session, category              string
	out                            string
}

func newGradebookCmd() *cobra.Command {
	var o exportOptions
	cmd := &cobra.Command{
		Use: "gradebook LAB", Short: "Carry marks into the school's gradebook", Args: args(cobra.ExactArgs(1)),
		Long: `Either fills one column of the gradebook's own export (--fill) and leaves every other byte of it alone, or writes a OneRoster package of
changes (--oneroster). A column worth other than 100 points gets its points. Missing sheets stay blank, excused students and
marks that a later grading took back are cleared, and a provisional mark stays out until you confirm it. The marks are those of grading the lab now; the lab's folder is not changed.`,
		Example: `  nospark gradebook labs/week05 --fill export.csv --id-column "Student ID" --mark-column "Lab 5" --out upload.csv
  nospark gradebook labs/week05 --oneroster 1.2 --roster oneroster.zip --session term-2026 --out week05.zip`,
		RunE: func(cmd *cobra.Command, list []string) error {
			if err := o.check(); err != nil {
				return usageError{err}
			}
			data, notes, err := exportMarks(cmd.Context(), list[0], o, time.Now())
			if err != nil {
				return err
			}
			for _, n := range notes {
				fmt.Fprintf(cmd.ErrOrStderr(), "nospark: %s\n", n)
			}
			if _, err := os.Stat(o.out); err == nil {
				return fmt.Errorf("%s: exists already; give another name with --out", o.out)
			} else if !errors.Is(err, fs.ErrNotExist) {
				return err
			}
			return writeOut(o.out, data, forInstructor)
		},
	}
	f := cmd.Flags()
	f.StringVar(&o.template, "fill", "", "the gradebook's own export, a CSV file")
	f.StringVar(&o.idColumn, "id-column", "id", "with --fill: heading of the column with the students' ids")
	f.StringVar(&o.markColumn, "mark-column", "", "with --fill: heading of the column to fill")
	f.Float64Var(&o.points, "points", 0, "with --fill: what the column is worth, where the export does not say it")
	f.StringVar(&o.version, "oneroster", "", "version of the OneRoster package: 1.1 or 1.2")
	f.StringVar(&o.roster, "roster", "", "with --oneroster: the OneRoster folder or zip that the class came from")
	f.StringVar(&o.class, "class", "",
		"with --oneroster: sourcedId, code or title of the class, when there are several")
	f.StringVar(&o.session, "session", "", "with --oneroster: sourcedId of the term or grading period")
	f.StringVar(&o.category, "category", "Labs", "with --oneroster: what the gradebook files the lab under")
	f.StringVar(&o.out, "out", "", "file to write")
	cmd.MarkFlagsMutuallyExclusive("fill", "oneroster")
	cmd.MarkFlagsOneRequired("fill", "oneroster")
	return cmd
}

// check finds what is missing beside the chosen way.
func (o exportOptions) check() error {
	switch {
	case o.out == "":
		return errors.New("--out is missing: the file to write")
	case o.template != "" && o.markColumn == "":
		return errors.New("--mark-column is missing: the heading of the column to fill")
	case o.points < 0 || o.points > 1e6:
		return fmt.Errorf("--points %v: want a number above 0", o.points)
	case o.version != "" && o.roster == "":
		return errors.New("--roster is missing: the OneRoster folder or zip that the class came from")
	}
	return nil
}

func exportMarks(ctx context.Context, folder string, o exportOptions, now time.Time) (data []byte, notes []string,
	err error) {
	g, err := readGraded(ctx, folder)
	if err != nil {
		return nil, nil, err
	}
	before, err := earlierMarks(folder)
	if err != nil {
		return nil, nil, err
	}
	var marks []gradebook.Mark
	for _, row := range g.marks() {
		if row.Status == string(grading.Provisional) {
			notes = append(notes, fmt.Sprintf("student %s: the mark is provisional and stays out; confirm or correct "+
				"it in %s", row.StudentID, adjustFile))
			row.Has, row.Absence = false, gradebook.Undecided
		}
		if !row.Has && before[row.StudentID] &&
			(row.Absence == gradebook.NotHanded || row.Absence == gradebook.Unfinished) {
			row.Absence = gradebook.Withdrawn
		}
		delete(before, row.StudentID)
		marks = append(marks, row.Mark)
	}
	for _, id := range slices.Sorted(maps.Keys(before)) { // under an id that the lab has no more
		if slices.ContainsFunc(marks,
			func(m gradebook.Mark) bool { return roster.BareID(m.StudentID) == roster.BareID(id) }) {
			continue // the same student with the zeros that the id had lost
		}
		marks = append(marks, gradebook.Mark{StudentID: id, Absence: gradebook.Withdrawn})
	}
	var more []string
	if o.template != "" {
		data, more, err = fillTemplate(o, marks)
	} else {
		data, more, err = onerosterPackage(g, o, marks, now)
	}
	return data, append(notes, more...), err
}

func fillTemplate(o exportOptions, marks []gradebook.Mark) ([]byte, []string, error) {
	template, err := disk.Read(o.template, 64<<20)
	if err != nil {
		return nil, nil, err
	}
	data, remarks, err := gradebook.FillTemplate(template,
		gradebook.Columns{ID: o.idColumn, Mark: o.markColumn, Worth: o.points}, marks)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", o.template, err)
	}
	var notes []string
	for _, r := range remarks {
		notes = append(notes, o.template+": "+r.String())
	}
	return data, notes, nil
}

func onerosterPackage(g *graded, o exportOptions, marks []gradebook.Mark, now time.Time) ([]byte, []string, error) {
	list, sourced, err := sourcedIDs(o, marks)
	if err != nil {
		return nil, nil, err
	}
	var notes []string
	var known []gradebook.Mark
	for _, m := range marks {
		id := sourced[m.StudentID]
		if id == "" {
			if m.Has {
				notes = append(notes, fmt.Sprintf("%s: student %q is not in the class, so the mark stays out", o.roster,
					m.StudentID))
			}
			continue
		}
		m.StudentID = id
		known = append(known, m)
	}
	date, err := time.Parse(time.DateOnly, g.lab.Date)
	if err != nil {
		return nil, nil, err
	}
	session := o.session
	if session == "" && len(list.Class.TermSourcedIDs) == 1 {
		session = list.Class.TermSourcedIDs[0]
	}
	data, err := gradebook.Package{Version: o.version, TermID: g.lab.Term, Lab: g.lab.Name, Title: g.lab.Title,
		Category:       o.category,
		ClassSourcedID: list.Class.SourcedID, SchoolSourcedID: list.Class.SchoolSourcedID, SessionSourcedID: session,
		Assigned: date, Due: date, Scored: date, Modified: now, Max: 100, Marks: known}.Zip()
	return data, notes, err
}

// sourcedIDs reads the class and by which of its columns the lab knows the students: the one that has most of them. Ids
// are matched as everywhere, without regard to case and, where nobody else can be meant, leading zeros.
func sourcedIDs(o exportOptions, marks []gradebook.Mark) (list roster.Roster, sourced map[string]string, err error) {
	many := map[string]int{} // students of the lab by the id as a spreadsheet leaves it
	for _, m := range marks {
		many[roster.BareID(m.StudentID)]++
	}
	for _, column := range []string{"sourcedId", "identifier", "username"} {
		class, err := roster.Read(o.roster, roster.Options{Class: o.class, IDColumn: column})
		if err != nil {
			if sourced == nil {
				return list, nil, err
			}
			continue // not everybody has an id there
		}
		exact, bare := map[string]string{}, map[string][]string{}
		for _, s := range class.Students {
			exact[roster.FoldID(s.ID)] = s.SourcedID
			bare[roster.BareID(s.ID)] = append(bare[roster.BareID(s.ID)], s.SourcedID)
		}
		found, taken := map[string]string{}, map[string]bool{}
		for _, m := range marks {
			if id := exact[roster.FoldID(m.StudentID)]; id != "" {
				found[m.StudentID] = id
				taken[id] = true
			}
		}
		for _, m := range marks { // what stands there as it is comes first: "007" and "7" may be two people
			ids := bare[roster.BareID(m.StudentID)]
			if found[m.StudentID] == "" && len(ids) == 1 && many[roster.BareID(m.StudentID)] == 1 && !taken[ids[0]] {
				found[m.StudentID] = ids[0]
			}
		}
		if sourced == nil || len(found) > len(sourced) {
			list, sourced = class, found
		}
	}
	if len(sourced) == 0 && len(marks) > 0 {
		return list, nil, fmt.Errorf("%s: none of the %d students of the lab is in the class, such as %q; is it the "+
			"class's own package?",
			o.roster, len(marks), marks[0].StudentID)
	}
	return list, sourced, nil
}

// earlierMarks lists who had a mark in an earlier grading of the lab that the history still has: it may stand in
// another system by now. Where the last one that was written had a mark and this one has none, agree has asked.
func earlierMarks(folder string) (map[string]bool, error) {
	had := map[string]bool{}
	list, err := historyOf(folder)
	for _, dir := range list {
		var ids []string
		if ids, err = marksBefore(filepath.Join(dir, "gradebook.csv")); err != nil {
			return nil, err
		}
		for _, id := range ids {
			had[id] = true
		}
	}
	return had, err
}

// readGraded grades a lab in memory.
func readGraded(ctx context.Context, folder string) (*graded, error) {
	g, err := openLab(folder)
	if err != nil {
		return nil, err
	}
	if err := errors.Join(g.grade(ctx, folder), g.readRecords()); err != nil {
		return nil, err
	}
	return g, g.agree(folder, asking{}) // marks that are gone here would be gone in the gradebook
}
