package main

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"nospark/grading/adjust"
	"nospark/grading/attempt"
	"nospark/grading/attempt/journal"
	"nospark/grading/handin"
	"nospark/grading/submission"
	"nospark/printouts/workbook"
	"nospark/scenarios/disk"
	"nospark/scenarios/lab"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
)

// labEdits are those of one lab, and apart those that take away what tells whose the rest is.
func (e *erasure) labEdits(ctx context.Context, at studentLab) (edits, last []edit, err error) {
	before := len(e.edits)
	if err := e.entryEdits(at); err != nil {
		return nil, nil, err
	}
	if err := e.benchEdit(at); err != nil {
		return nil, nil, err
	}
	path := filepath.Join(at.folder, adjustFile)
	if data, err := os.ReadFile(path); err == nil {
		if kept, gone := e.withoutBlocks(data, at.codes); len(gone) > 0 {
			e.edits = append(e.edits, edit{path, many(len(gone), "block"), kept})
		}
	}
	edits = slices.Clone(e.edits[before:])
	e.edits = e.edits[:before]
	if len(at.codes) == 0 && len(edits) == 0 {
		return nil, nil, nil
	}
	e.remake = append(e.remake, at)
	if isFile(filepath.Join(at.folder, "graded", "gradebook.csv")) {
		g, err := readGraded(ctx, at.folder)
		if err != nil {
			return nil, nil, err
		}
		e.graded[at.folder] = othersMarks(g, e.studentIn)
	}
	more, err := e.madeFrom(at)
	if err != nil {
		return nil, nil, err
	}
	edits = append(edits, more...)
	if len(at.codes) == 0 {
		return edits, nil, nil
	}
	own, err := e.labEdit(at)
	return edits, []edit{own}, err
}

// labEdit takes the student's name off the sheets, as if they were spares: what they hide stays, and so do the readings
// and the marks of all others.
func (e *erasure) labEdit(at studentLab) (edit, error) {
	path := labFile(at.folder)
	if seal := at.lab.Verify(e.term.ID, e.key[:]); seal != lab.Sealed {
		return edit{}, fmt.Errorf("%s: is %s, so it cannot be written anew; restore it, or erase in its own term", path,
			seal)
	}
	l := *at.lab
	l.Sheets = slices.Clone(l.Sheets)
	for i := range l.Sheets {
		if x := &l.Sheets[i]; slices.Contains(at.codes, x.Code) {
			x.Student, x.Name, x.Family, x.Section, x.LargePrint = "", "", "", "", false
		}
	}
	l.Seal = l.SealUnder(e.key[:])
	data, err := l.Encode()
	return edit{path, fmt.Sprintf("sheet %s without a name", strings.Join(at.codes, ", ")), data}, err
}

// entryEdits take out what the student handed in.
func (e *erasure) entryEdits(at studentLab) error {
	files, err := os.ReadDir(filepath.Join(at.folder, "entries"))
	if err != nil {
		return ignoreMissing(err)
	}
	for _, f := range files {
		path := filepath.Join(at.folder, "entries", f.Name())
		switch ext := strings.ToLower(filepath.Ext(f.Name())); {
		case f.IsDir(), strings.HasPrefix(f.Name(), "."):
		case e.ownFile(at, f.Name()):
			e.edits = append(e.edits, edit{path, "the student's own file goes", nil})
		case ext == ".csv", ext == ".tsv":
			err = e.listEdit(path, at.codes)
		case ext == ".xlsx":
			err = e.bookEdit(path, at.codes)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// ownFile tells a file that speaks for the student alone, as grading has it. Where its name means somebody else too, or
// the instructor trusts it, lines are taken out of it instead.
func (e *erasure) ownFile(at studentLab, name string) bool {
	speakers := handin.Speakers(at.lab, name)
	if submission.IsForm(name) || len(speakers) != 1 || !e.named(speakers[0]) {
		return false
	}
	path := filepath.Join(at.folder, adjustFile)
	text, err := os.ReadFile(path)
	if err != nil {
		return errors.Is(err, fs.ErrNotExist)
	}
	decided, err := adjust.Read(path, text)
	return err == nil && !slices.ContainsFunc(decided.Trust, func(t adjust.Trust) bool { return t.File == name })
}

// bookEdit empties the student's rows of a workbook; a sheet's code stays, by which the form is known to have it.
func (e *erasure) bookEdit(path string, codes []string) error {
	data, err := os.ReadFile(path)
	if err != nil {
		return ignoreMissing(err)
	}
	isCode := func(cell string) bool { return slices.Contains(codes, strings.ToUpper(strings.TrimSpace(cell))) }
	// somebody else can have worked on the student's sheet: then the id says so
	isOther := func(cell string) bool { return e.others[roster.FoldID(cell)] }
	own := func(cells []string) bool {
		return slices.ContainsFunc(cells, e.named) ||
			slices.ContainsFunc(cells, isCode) && !slices.ContainsFunc(cells, isOther)
	}
	kept, n, err := workbook.WithoutRows(data, own, isCode)
	switch {
	case err != nil:
		e.unsolved = append(e.unsolved, fmt.Sprintf("%s: cannot be read (%v); take the student's row out by hand", path,
			err))
	case n > 0:
		e.edits = append(e.edits, edit{path, many(n, "row"), kept})
	}
	return nil
}

// benchEdit takes the student's events out of what the bench recorded.
func (e *erasure) benchEdit(at studentLab) error {
	path := filepath.Join(at.folder, filepath.FromSlash(journal.File))
	data, err := os.ReadFile(path)
	if err != nil {
		return ignoreMissing(err)
	}
	kept, gone, err := journal.Without(path, data, e.journalIn(at), e.ownEvent(at, data))
	if err == nil && len(gone) > 0 {
		e.edits = append(e.edits, edit{path, many(len(gone), "event") + "; the others are chained anew", kept})
	}
	return err
}

func (s *studentIn) journalIn(at studentLab) journal.Lab {
	return journal.Lab{Name: at.lab.Name, Term: at.lab.Term, Key: journal.KeyFor(s.key[:], at.lab.Name)}
}

// ownEvent tells the events of the student's sheets, spares that the desk gave out among them.
func (s *studentIn) ownEvent(at studentLab, data []byte) func(attempt.Event) bool {
	codes := slices.Clone(at.codes)
	// what is wrong with the journal is told by whoever goes through it for good
	_, _, _ = journal.Without("", data, s.journalIn(at), func(x attempt.Event) bool {
		if x.Kind == attempt.Give && s.is(x.Student) {
			codes = append(codes, x.Sheet)
		}
		return false
	})
	return func(x attempt.Event) bool {
		return x.Sheet != "" && slices.Contains(codes, x.Sheet) || s.is(x.Student)
	}
}

// madeFrom lists what goes because it was made from what is erased. It is made anew, but for copies of earlier
// gradings.
func (e *erasure) madeFrom(at studentLab) (edits []edit, err error) {
	add := func(what string, patterns ...string) {
		for _, pattern := range patterns {
			found, globErr := filepath.Glob(filepath.Join(escaped(at.folder), filepath.FromSlash(pattern)))
			if globErr != nil {
				err = globErr
			}
			for _, path := range found {
				edits = append(edits, edit{path, what, nil})
			}
		}
	}
	for _, code := range at.codes {
		add(madeAnew, "handouts/*/"+code+"-*", "partners/*/"+code+"-*", "graded/*/"+code+"-*")
	}
	add("copies of earlier gradings go whole", "graded/history")
	add(madeAnew, "handouts/worksheets*.pdf", "handouts/so-far.pdf", "partners/readings*.pdf", "instructor/pairing.pdf",
		"instructor/claims.*", "instructor/key.pdf")
	dir := filepath.Join(at.folder, "graded")
	stamp, _ := os.ReadFile(filepath.Join(dir, stampFile)) // none: nothing was written yet
	for _, name := range outputsIn(dir) {
		path := filepath.Join(dir, name)
		data, readErr := os.ReadFile(path)
		switch {
		case readErr != nil:
			err = readErr
		case isTwin(name): // of the student's sheets they are listed above
		case isResults(name) && !strings.Contains(string(stamp), fingerprint(data)):
			e.unsolved = append(e.unsolved, path+": was edited by somebody, so it stays; take the student out by hand")
		default:
			edits = append(edits, edit{path, madeAnew, nil})
		}
	}
	add(madeAnew, "graded/"+stampFile)
	return edits, err
}

// othersMarks are the marks and states of everybody else, in words that can be compared.
func othersMarks(g *graded, s *studentIn) map[string]string {
	list := map[string]string{}
	for _, m := range g.result.Marks {
		if m.Student != "" && !s.named(m.Student) {
			list[m.Student] = string(m.Status)
			if m.Status.HasMark() {
				list[m.Student] = fmt.Sprintf("%.4f, %s", m.Mark, m.Status)
			}
		}
	}
	return list
}

// tellRest says what is not reached, and where the id or the name can still be read.
func (e *erasure) tellRest() {
	for _, text := range e.unsolved {
		e.out.line("  look: %s", text)
	}
	for _, path := range e.stillIn() {
		e.out.line("  look: %s: the id or the name still stands in it; take it out by hand", path)
	}
	e.out.line("erased. Not reached: what was printed or mailed, marks in other systems, gathered files at the " +
		"department, practice on the student's own device, and copies of this folder; those are yours to delete")
}

// stillIn looks through every file that is left, workbooks unpacked, for the name and for ids long enough to be told
// from other numbers.
func (e *erasure) stillIn() []string {
	var words []string
	for _, text := range slices.Concat(e.ids, e.names) {
		if len(text) > 3 {
			words = append(words, regexp.QuoteMeta(text))
		}
	}
	if len(words) == 0 {
		return nil
	}
	// between characters that are neither letters nor digits
	look := regexp.MustCompile(`(?i)(?:^|[^\p{L}\p{N}])(?:` + strings.Join(words, "|") + `)(?:$|[^\p{L}\p{N}])`)
	var list []string
	_ = filepath.WalkDir(e.dir, func(path string, x fs.DirEntry, err error) error { // what cannot be read stays unread
		if err != nil || x.IsDir() || x.Name() == term.KeyFile || filepath.Ext(path) == ".pdf" {
			return nil
		}
		data, err := disk.Read(path, 1<<28)
		if err == nil && look.Match(allParts(data)) {
			list = append(list, path)
		}
		return nil
	})
	return list
}

// markup is what stands between the texts of a part.
var markup = regexp.MustCompile(`<[^>]*>`)

// allParts gives the texts of a zip's parts one behind the other, and any other file as it is.
func allParts(data []byte) []byte {
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return data
	}
	var all []byte
	for _, f := range r.File {
		in, err := f.Open()
		if err != nil {
			continue
		}
		part, _ := io.ReadAll(io.LimitReader(in, 1<<26)) // as much as can be read
		in.Close()
		all = append(append(all, markup.ReplaceAll(part, []byte(" "))...), '\n')
	}
	return all
}
