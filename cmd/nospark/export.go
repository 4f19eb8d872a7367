package main

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"nospark/grading/attempt"
	"nospark/grading/attempt/journal"
	"nospark/grading/competency"
	"nospark/grading/evidence"
	"nospark/grading/submission"
	"nospark/scenarios/disk"
	"nospark/scenarios/tabular"
)

func newExportCmd() *cobra.Command {
	out := ""
	cmd := &cobra.Command{
		Use: "export TERM STUDENT", Short: "Gather everything that a term holds of one student, readable",
		Args: args(cobra.ExactArgs(2)),
		Long: `Writes a folder, or a zip where --out ends with .zip, with everything that the term's folder holds of one student: sheets, what was
handed in, the bench's events, corrections, marks, debriefs, records, standings, awards and lines of lists. Texts, tables and pages;
about.txt says which is which. It holds hidden faults: of labs still in use it is not yet for the student.`,
		Example: "  nospark export autumn 1001 --out quill.zip",
		RunE: func(cmd *cobra.Command, list []string) error {
			if err := noTerm(list[0]); err != nil {
				return err
			}
			if out == "" {
				return usageError{errors.New("--out is missing: the folder or .zip to write")}
			}
			if _, err := os.Lstat(out); err == nil {
				return fmt.Errorf("%s: exists already; give another name with --out", out)
			}
			s, err := findStudent(list[0], list[1])
			if err != nil {
				return err
			}
			x := &exported{studentIn: s}
			if err := x.gather(cmd.Context()); err != nil {
				return err
			}
			if err := x.write(out); err != nil {
				return err
			}
			w := &writer{out: cmd.OutOrStdout()}
			w.line("%d files of student %s in %s", len(x.files), strings.Join(s.ids, ", "), out)
			return w.err
		},
	}
	cmd.Flags().StringVar(&out, "out", "", "folder or .zip to write")
	return cmd
}

// exported collects files, by their names in the folder.
type exported struct {
	*studentIn
	files []disk.File
}

func (x *exported) add(name string, data []byte) {
	x.files = append(x.files, disk.File{Path: name, Data: data})
}

func (x *exported) gather(ctx context.Context) error {
	for _, at := range x.labs {
		if err := x.ofLab(ctx, at); err != nil {
			return err
		}
	}
	for _, step := range []func() error{x.ofRecords, x.ofTerm, x.ofLists} {
		if err := step(); err != nil {
			return err
		}
	}
	slices.SortFunc(x.files, func(a, b disk.File) int { return strings.Compare(a.Path, b.Path) })
	x.add("about.txt", []byte(fmt.Sprintf(aboutExport, strings.Join(x.ids, ", "), strings.Join(x.names, ", "),
		x.term.Program)))
	return nil
}

// aboutExport says which file is what.
const aboutExport = `What a term of nospark holds of student %s (%s), %s.

student.txt    where the student stands in each competency, and the awards
records.json   the entries of all graded labs: marks, hidden fault, concluded repair, evidence; minutes are tenths
lists.csv      lines of other lists of the term in which the student stands
labs/NAME/     of each lab: the worksheet, the readings and the debrief as pages and texts,
               handed-in.csv  what was keyed in or handed in, a line a row
               bench.json     what was done on a phone, in order; "at" is seconds since 1970
               adjust.toml    what the instructor corrected or decided

Not in here: paper, mails, marks in other systems, files that were gathered for a department (the student stands there
under a pseudonym), and practice on the student's own device.
`

// ofLab takes the sheets, what was handed in, events, corrections and the debrief.
func (x *exported) ofLab(ctx context.Context, at studentLab) error {
	to := "labs/" + at.lab.Name + "/"
	if err := x.ofSheets(at, to); err != nil {
		return err
	}
	if err := x.ofEntries(ctx, at, to); err != nil {
		return err
	}
	if data, err := os.ReadFile(filepath.Join(at.folder, adjustFile)); err == nil {
		if _, blocks := x.withoutBlocks(data, at.codes); len(blocks) > 0 {
			x.add(to+adjustFile, []byte(strings.Join(blocks, "\n\n")+"\n"))
		}
	}
	return x.ofBench(at, to)
}

// ofSheets takes what was printed for the student.
func (x *exported) ofSheets(at studentLab, to string) error {
	for _, code := range at.codes {
		for _, pattern := range []string{"handouts/*/", "partners/*/", "graded/*/"} {
			found, err := filepath.Glob(filepath.Join(escaped(at.folder), filepath.FromSlash(pattern+code+"-*")))
			if err != nil {
				return err
			}
			for _, path := range found {
				data, err := os.ReadFile(path)
				if err != nil {
					return err
				}
				x.add(to+filepath.Base(path), data)
			}
		}
	}
	return nil
}

// ofEntries takes the rows that were keyed in or handed in.
func (x *exported) ofEntries(ctx context.Context, at studentLab, to string) error {
	rows, _, err := submission.ReadFolder(ctx, filepath.Join(at.folder, "entries")) // grading tells what is wrong
	if err != nil {
		return err
	}
	table := [][]string{{"place", "id", "name", "sheet", "repair", "reasoning", "safe", "steps"}}
	for _, r := range rows {
		if r.Empty() || !x.is(r.Student) && !slices.Contains(at.codes, strings.ToUpper(r.Sheet)) &&
			(r.File == "" || !x.isFileOf(r.File)) {
			continue
		}
		line := []string{r.Place, r.Student, r.Name, r.Sheet, r.Repair, judged(r.Reasoning), judged(r.Safe)}
		for _, s := range r.Steps {
			line = append(line, s.Text)
		}
		table = append(table, line)
	}
	x.addTable(to+"handed-in.csv", table)
	return nil
}

// judged writes a column of the instructor's; it is empty where nothing was written.
func judged(v int) string {
	if v < 0 {
		return ""
	}
	return fmt.Sprint(v)
}

func (x *exported) ofBench(at studentLab, to string) error {
	path := filepath.Join(at.folder, filepath.FromSlash(journal.File))
	data, err := os.ReadFile(path)
	if err != nil {
		return ignoreMissing(err)
	}
	var events []attempt.Event
	if _, events, err = journal.Without(path, data, x.journalIn(at), x.ownEvent(at, data)); err != nil ||
		len(events) == 0 {
		return err
	}
	return x.addJSON(to+"bench.json", events)
}

// ofRecords takes the student's entries out of all records, also those of other terms.
func (x *exported) ofRecords() error {
	type entry struct {
		Lab, Title, Date, Section, Term, Pack string
		Entry                                 evidence.Entry
	}
	files, err := x.records()
	if err != nil {
		return err
	}
	var list []entry
	for _, f := range files {
		for _, e := range f.record.Students {
			if x.named(e.Student) {
				r := f.record
				list = append(list, entry{r.Lab, r.Title, r.Date, r.Section, r.Term, r.Pack, e})
			}
		}
	}
	if len(list) == 0 {
		return nil
	}
	return x.addJSON("records.json", list)
}

// ofTerm says where the student stands.
func (x *exported) ofTerm() error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\nid: %s\nname: %s\n\n", competency.OnPaper, strings.Join(x.ids, ", "), strings.Join(x.names, ", "))
	autumn, _, err := gatherTerm(x.dir, "", time.Now().Format(time.DateOnly), nil)
	if err != nil {
		fmt.Fprintf(&b, "No standing can be told: %v\n", err)
		x.add("student.txt", []byte(b.String()))
		return nil
	}
	for i := range autumn.Students {
		s := &autumn.Students[i]
		if !x.named(s.ID) {
			continue
		}
		fmt.Fprintf(&b, "section: %s\nsheets with a mark: %d, not handed in: %d\n\n", s.Section, s.Sheets, s.Missing)
		for c, standing := range s.Standings {
			fmt.Fprintf(&b, "%-28s %s; met %d of the last %d, %d opportunities, oldest first %s\n",
				autumn.Competencies[c].Title, standing.Status, standing.MetInWindow, standing.Window,
				len(standing.Opportunities), standing.History(len(standing.Opportunities)))
		}
	}
	for _, a := range autumn.Awards {
		if x.named(a.Student) {
			fmt.Fprintf(&b, "\n%s: %s of %s by %s\n  rule: %s\n  evidence: %s\n", a.Date, a.What, a.Competency, a.By,
				a.Rule, a.Evidence)
		}
	}
	x.add("student.txt", []byte(b.String()))
	return nil
}

// ofLists takes the student's lines out of all other lists: class list, seating, aliases, gradebook.
func (x *exported) ofLists() error {
	paths, err := x.tables()
	if err != nil {
		return err
	}
	table := [][]string{{"file", "line"}}
	for _, path := range paths {
		data, err := disk.Read(path, packLimit)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return err
		}
		_, lines, err := x.withoutLines(data, x.codesAt(path))
		if err != nil {
			lines = []string{"cannot be read: " + err.Error()}
		}
		name, err := filepath.Rel(x.dir, path)
		if err != nil {
			return err
		}
		for _, line := range lines {
			table = append(table, []string{filepath.ToSlash(name), line})
		}
	}
	x.addTable("lists.csv", table)
	return nil
}

// addTable adds a table that has more than its headings.
func (x *exported) addTable(name string, table [][]string) {
	if len(table) > 1 {
		x.add(name, tabular.Encode(table, false))
	}
}

func (x *exported) addJSON(name string, value any) error {
	data, err := json.MarshalIndent(value, "", "  ")
	x.add(name, append(data, '\n'))
	return err
}

// write makes the folder or the zip.
func (x *exported) write(out string) error {
	if strings.ToLower(filepath.Ext(out)) != ".zip" {
		for i := range x.files {
			x.files[i].Path = filepath.Join(out, filepath.FromSlash(x.files[i].Path))
		}
		return writeFiles(forInstructor, x.files...)
	}
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, f := range x.files {
		part, err := w.CreateHeader(&zip.FileHeader{Name: f.Path, Method: zip.Deflate, Modified: time.Now()})
		if err != nil {
			return err
		}
		if _, err := part.Write(f.Data); err != nil {
			return err
		}
	}
	if err := w.Close(); err != nil {
		return err
	}
	return writeOut(out, b.Bytes(), forInstructor)
}
