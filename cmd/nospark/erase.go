package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"nospark/grading/competency"
	"nospark/grading/competency/lists"
	"nospark/grading/evidence"
	"nospark/printouts"
	"nospark/scenarios/disk"
	"nospark/scenarios/term"
)

func newEraseCmd() *cobra.Command {
	really := false
	cmd := &cobra.Command{
		Use: "erase TERM STUDENT", Short: "Take one student out of a term: labs, entries, records, awards, lists",
		Args: args(cobra.ExactArgs(2)),
		Long: `Lists everything that the term's folder holds of one student, asks, and takes it out: the sheets stay without a name, what was handed
in, corrections, the bench's events, records, awards and lines of lists go, and what is printed from them is made anew. Copies that
earlier gradings left are deleted whole. The marks of all others stay as they are, which is checked. It says what it could not reach:
paper, mails, other systems and copies are yours to delete.`,
		Example: "  nospark export autumn 1001 --out quill.zip\n  nospark erase autumn 1001",
		RunE: func(cmd *cobra.Command, list []string) error {
			if err := noTerm(list[0]); err != nil {
				return err
			}
			s, err := findStudent(list[0], list[1])
			if err != nil {
				return err
			}
			e := &erasure{studentIn: s, out: &writer{out: cmd.OutOrStdout()}}
			return e.run(cmd.Context(), func() bool {
				return really || agreed(cmd.InOrStdin(), cmd.ErrOrStderr(), "Erase all this for good? Type yes to do so. ")
			})
		},
	}
	cmd.Flags().BoolVar(&really, "really", false, "erase without asking")
	return cmd
}

// edit is what becomes of one file: other bytes, or nothing.
type edit struct {
	path string
	what string // for people; "" where another one's says it
	data []byte // nil: the file goes, or the folder
}

func (x edit) same(o edit) bool {
	return x.path == o.path && x.what == o.what && bytes.Equal(x.data, o.data)
}

// madeAnew is what becomes of files that are printed or worked out from others.
const madeAnew = "goes; what is left is made anew"

// erasure is one run of the command. Everything is worked out before anything is written.
type erasure struct {
	*studentIn
	out      *writer
	edits    []edit // in the order in which they are done
	unsolved []string
	remake   []studentLab
	graded   map[string]map[string]string // marks of all others before, by lab and student
}

func (e *erasure) run(ctx context.Context, agreed func() bool) error {
	if err := e.plan(ctx); err != nil {
		return err
	}
	e.out.line("student %s in %s:", strings.Join(e.ids, ", "), e.dir)
	anew := 0
	for _, x := range e.edits {
		switch x.what {
		case madeAnew:
			anew++
		case "":
		default:
			e.out.line("  %s: %s", x.path, x.what)
		}
	}
	e.out.line("  %d files that are made from these go, and are made anew for the others", anew)
	if !agreed() {
		e.out.line("nothing was erased; at a terminal this asks, and --really says it beforehand")
		return e.out.err
	}
	if err := e.apply(ctx); err != nil {
		return fmt.Errorf("%w; run the same command again, then nospark reprint and grade for the labs above, and "+
			"nospark competency", err)
	}
	if err := e.makeAnew(ctx); err != nil {
		return fmt.Errorf("the student is erased, but not all is made anew: %w; mend that, then run nospark reprint and "+
			"grade for the labs above, and nospark competency", err)
	}
	e.tellRest()
	return e.out.err
}

// plan works out every edit. What tells whose something is goes last, so that an erasure that was interrupted finds
// what is left.
func (e *erasure) plan(ctx context.Context) error {
	e.graded = map[string]map[string]string{}
	var last []edit
	for _, at := range e.labs {
		edits, own, err := e.labEdits(ctx, at)
		if err != nil {
			return err
		}
		e.edits, last = append(e.edits, edits...), append(last, own...)
	}
	for _, step := range []func() error{e.recordEdits, e.awardEdits, e.listEdits, e.summaryEdits} {
		if err := step(); err != nil {
			return err
		}
	}
	e.edits = append(e.edits, last...)
	slices.SortStableFunc(e.edits, func(a, b edit) int { // the class list is asked when all else is gone
		return rankOf(filepath.Base(a.path)) - rankOf(filepath.Base(b.path))
	})
	if len(e.edits) == 0 {
		return fmt.Errorf("%s: holds nothing of student %q any more", e.dir, e.ids[0])
	}
	return nil
}

func rankOf(name string) int {
	return map[string]int{"lab.json": 1, lists.AliasesFile: 2, "roster.csv": 3}[name]
}

// recordEdits take the student out of the term's own records.
func (e *erasure) recordEdits() error {
	files, err := e.records()
	if err != nil {
		return err
	}
	for _, f := range files {
		before := len(f.record.Students)
		r := *f.record
		r.Students = slices.Clone(r.Students)
		r.Students = slices.DeleteFunc(r.Students, func(x evidence.Entry) bool { return e.named(x.Student) })
		switch {
		case len(r.Students) == before:
		case !f.own:
			e.unsolved = append(e.unsolved, f.path+": is a record of another term; its instructor has to erase there")
		case len(r.Students) == 0:
			e.edits = append(e.edits, edit{f.path, "the record goes, nobody else is in it", nil})
		default:
			data, err := r.Encode(e.key)
			if err != nil {
				return err
			}
			e.edits = append(e.edits, edit{f.path, fmt.Sprintf("%d of %d entries", before-len(r.Students), before),
				data})
		}
	}
	return nil
}

// awardEdits take the student's lines out of the register, whose chain is made anew.
func (e *erasure) awardEdits() error {
	r, err := readRegister(e.dir, e.key)
	if err != nil {
		return err
	}
	rest := slices.Clone(r.awards)
	rest = slices.DeleteFunc(rest, func(a lists.Award) bool { return e.named(a.Student) })
	n := len(r.awards) - len(rest)
	if n == 0 {
		return nil
	}
	path := filepath.Join(e.dir, lists.AwardsFile)
	data, err := lists.AddAwards(path, nil, e.key, rest)
	if err != nil {
		return err
	}
	chained, err := lists.ParseAwards(path, data, e.key)
	if err != nil {
		return err
	}
	before, after := lists.SealOf(r.awards, e.key), lists.SealOf(chained, e.key)
	seal := filepath.Join(e.dir, lists.AwardsSeal)
	e.edits = append(e.edits, edit{seal, "", []byte(before + after)},
		edit{path, many(n, "line") + "; the others are chained anew", data},
		edit{seal, "", []byte(after)})
	return nil
}

// listEdits take the student's lines out of lists that are no lab's.
func (e *erasure) listEdits() error {
	paths, err := e.tables()
	if err != nil {
		return err
	}
	for _, path := range paths {
		if strings.HasPrefix(path, filepath.Join(e.dir, term.LabsFolder)+string(os.PathSeparator)) || isSummary(path) {
			continue // done with the lab, or made anew
		}
		if err := e.listEdit(path, nil); err != nil {
			return err
		}
	}
	return nil
}

// listEdit takes the student's lines out of one list.
func (e *erasure) listEdit(path string, codes []string) error {
	data, err := disk.Read(path, packLimit)
	if err != nil {
		return err
	}
	kept, gone, err := e.withoutLines(data, codes)
	switch {
	case err != nil:
		e.unsolved = append(e.unsolved, fmt.Sprintf("%s: %v", path, err))
	case len(gone) > 0:
		e.edits = append(e.edits, edit{path, many(len(gone), "line"), kept})
	}
	return nil
}

// summaries are what is made from the records of a term.
var summaries = []string{"competency.xlsx", "competency-codes.xlsx", "coordinator.html", "sign-offs*.pdf",
	"evidence.csv", "evidence-codes.csv"}

func isSummary(path string) bool {
	return slices.ContainsFunc(summaries, func(pattern string) bool {
		fits, err := filepath.Match(pattern, filepath.Base(path))
		return err == nil && fits
	})
}

// summaryEdits delete what is made anew, and empty the student's rows of the form to sign.
func (e *erasure) summaryEdits() error {
	for _, pattern := range summaries {
		found, err := filepath.Glob(filepath.Join(escaped(e.dir), pattern))
		if err != nil {
			return err
		}
		for _, path := range found {
			e.edits = append(e.edits, edit{path, madeAnew, nil})
		}
	}
	if err := e.bookEdit(filepath.Join(e.dir, lists.SignBook), nil); err != nil {
		return err
	}
	return filepath.WalkDir(e.dir, func(path string, x os.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(path, competency.GatheredEnd) {
			e.unsolved = append(e.unsolved, path+": is signed and under pseudonyms; have it gathered and mailed anew, and "+
				"the old one deleted")
		}
		return err
	})
}

// apply does the edits under the locks of what they touch, if nothing has changed since they were worked out.
func (e *erasure) apply(ctx context.Context) error {
	folders := []string{}
	for _, at := range e.remake {
		folders = append(folders, at.folder)
	}
	if dir := filepath.Join(e.dir, recordsFolder); isFolder(dir) {
		folders = append(folders, dir)
	}
	for _, dir := range folders {
		unlock, err := lockAll(ctx, dir, "erase")
		if err != nil {
			return err
		}
		defer unlock()
	}
	held, err := disk.LockShallow(ctx, e.dir, "erase")
	if err != nil {
		return err
	}
	defer held.Unlock()
	now := &erasure{studentIn: e.studentIn, out: e.out}
	if err := now.plan(ctx); err != nil {
		return err
	}
	if !slices.EqualFunc(e.edits, now.edits, edit.same) {
		return errors.New("something has changed since this was listed, and nothing was erased")
	}
	for _, x := range e.edits {
		if err := ctx.Err(); err != nil {
			return err
		}
		if x.data == nil {
			err = os.RemoveAll(x.path)
		} else {
			mode := forInstructor
			if info, statErr := os.Stat(x.path); statErr == nil {
				mode = info.Mode().Perm()
			}
			err = disk.Write(x.path, x.data, mode)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// makeAnew prints and grades what was touched, and compares the marks of all others with those before.
func (e *erasure) makeAnew(ctx context.Context) error {
	for _, at := range e.remake {
		l, err := readLab(at.folder)
		if err != nil {
			return err
		}
		if _, _, err := printLab(ctx, l, at.folder, false); err != nil {
			return err
		}
		if err := writeClaims(l, e.key, e.term.Bench, at.folder); err != nil {
			return err
		}
		before, wasGraded := e.graded[at.folder]
		if !wasGraded {
			continue
		}
		g, err := gradeLab(ctx, at.folder, asking{really: true, out: io.Discard})
		if err != nil {
			return err
		}
		after := othersMarks(g, e.studentIn)
		for id, mark := range before {
			if after[id] != mark {
				e.unsolved = append(e.unsolved, fmt.Sprintf("%s: the mark of student %s was %s and is %s now; look why",
					at.folder, id, mark, after[id]))
			}
		}
		e.out.line("%s: made anew; the marks of %d others were compared with those before", at.folder, len(before))
	}
	return e.sumUpAnew(ctx)
}

// sumUpAnew makes those summaries anew that there were; without a record there is nothing to sum up.
func (e *erasure) sumUpAnew(ctx context.Context) error {
	had := map[bool]bool{} // with names, with codes
	for _, x := range e.edits {
		if x.what == madeAnew && isSummary(x.path) {
			had[!strings.Contains(filepath.Base(x.path), "-codes.")] = true
		}
	}
	if len(had) == 0 {
		return nil
	}
	autumn, _, err := gatherTerm(e.dir, "", time.Now().Format(time.DateOnly), nil)
	if err != nil {
		e.out.line("no competency.xlsx was made anew: %v", err)
		return nil
	}
	var found error
	for _, names := range []bool{true, false} {
		if had[names] {
			found = errors.Join(found, runAll(ctx, writing(ctx, e.dir, printouts.AtSummary(autumn, names))))
		}
	}
	return found
}

// many counts things in words.
func many(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
