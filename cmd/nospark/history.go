package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"nospark/grading/evidence"
	"nospark/scenarios/disk"
)

// What a grading replaces is kept in LAB/graded/history, the last few of them, each in a folder of its own. Purging
// the lab deletes them with it.
const (
	historyFolder = "history"
	historyNote   = "README.txt" // written last and deleted first: a folder without it is what a crash left
	historyKept   = 5
)

// readRecords reads the records that the term has of the lab.
func (g *graded) readRecords() error {
	g.recordsBefore = nil
	if g.dir == "" {
		return nil
	}
	dir := filepath.Join(g.dir, recordsFolder)
	files, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	start, end := disk.EscapeName(g.lab.Name)+"-", "-"+disk.EscapeName(g.lab.Term)+".json"
	for _, f := range files {
		name := f.Name()
		rest, ours := strings.CutPrefix(name, start)
		section, ours2 := strings.CutSuffix(rest, end)
		if !ours || !ours2 || strings.Contains(section, "-") { // dashes of a section are escaped
			continue
		}
		data, err := disk.Read(filepath.Join(dir, name), evidence.LargestRecord)
		if err != nil {
			return err
		}
		g.recordsBefore = append(g.recordsBefore, disk.File{Path: name, Data: data})
	}
	return nil
}

// keepHistory copies what an earlier grading wrote before anything of it is replaced. Where this grading says the same
// nothing is kept, and a grading that was interrupted finds the copy that it made.
func (g *graded) keepHistory(folder string, records []disk.File) error {
	dir := filepath.Join(folder, "graded")
	before := g.recordsBefore
	if g.dir == "" {
		data, err := os.ReadFile(filepath.Join(dir, "gradebook.csv"))
		if err != nil {
			return ignoreMissing(err)
		}
		if now, err := g.gradebookCSV(); err != nil || bytes.Equal(now, data) {
			return err
		}
		before = []disk.File{{Path: "gradebook.csv", Data: data}}
	}
	if len(before) == 0 || sameFiles(before, records) {
		return nil
	}
	var all []byte
	for _, f := range before {
		all = append(append(all, f.Path...), f.Data...)
	}
	entries, err := historyOf(folder)
	if err != nil {
		return err
	}
	mark, number := "-"+fingerprint(all)[:8], 1
	for _, e := range entries {
		if strings.HasSuffix(e, mark) {
			return nil
		}
		fmt.Sscanf(filepath.Base(e), "%d", &number)
		number++
	}
	to := filepath.Join(dir, historyFolder, fmt.Sprintf("%04d%s", number, mark))
	kept, err := g.gradedFiles(dir)
	if err != nil {
		return err
	}
	for _, f := range g.recordsBefore {
		kept = append(kept, disk.File{Path: filepath.Join(recordsFolder, f.Path), Data: f.Data})
	}
	note := "An earlier grading of this lab. nospark grade LAB --undo brings the last one back.\n"
	kept = append(kept, disk.File{Path: historyNote, Data: []byte(note)})
	for i := range kept {
		kept[i].Path = filepath.Join(to, kept[i].Path)
	}
	return writeFiles(forInstructor, kept...)
}

// gradedFiles reads what the last grading wrote. A workbook that the instructor has edited is not ours to keep or
// replace.
func (g *graded) gradedFiles(dir string) ([]disk.File, error) {
	stamp, _ := os.ReadFile(filepath.Join(dir, stampFile)) // none: nothing was written yet
	var files []disk.File
	book := disk.File{Path: "results.xlsx"}
	for _, name := range outputsIn(dir) {
		isBook := isResults(name)
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			return nil, err
		}
		switch {
		case !isBook:
			files = append(files, disk.File{Path: name, Data: data})
		case strings.Contains(string(stamp), fingerprint(data)):
			book.Data = data
		}
	}
	if book.Data != nil {
		files = append(files, book)
	}
	return files, nil
}

// outputsIn lists the files of a folder that have names as grading gives them, from there.
func outputsIn(dir string) []string {
	var names []string
	for _, pattern := range []string{"*", "pages/*-debrief.html", "text/*-debrief.txt"} {
		found, _ := filepath.Glob(filepath.Join(escaped(dir), filepath.FromSlash(pattern))) // the pattern is sound
		for _, path := range found {
			name, err := filepath.Rel(dir, path)
			if err == nil && isFile(path) && (isTwin(name) || isResults(name) || isDebriefs(name) ||
				slices.Contains([]string{"overview.pdf", "gradebook.csv", "problems.csv"}, name)) {
				names = append(names, name)
			}
		}
	}
	return names
}

func isResults(name string) bool {
	return strings.HasPrefix(name, "results") && strings.HasSuffix(name, ".xlsx")
}

func isDebriefs(name string) bool {
	return strings.HasPrefix(name, "debriefs") && strings.HasSuffix(name, ".pdf")
}

// isTwin tells the debriefs on a screen and as plain text, one for each student.
func isTwin(name string) bool { return filepath.Base(name) != name }

// historyOf lists the folders of earlier gradings, oldest first.
func historyOf(folder string) ([]string, error) {
	dir := filepath.Join(folder, "graded", historyFolder)
	entries, err := os.ReadDir(dir) // sorted by name, and so by number
	if err != nil {
		return nil, ignoreMissing(err)
	}
	var list []string
	for _, e := range entries {
		if path := filepath.Join(dir, e.Name()); isFile(filepath.Join(path, historyNote)) {
			list = append(list, path)
		}
	}
	return list, nil
}

// forgetGrading deletes a folder of the history. Its note goes first: what is left of it when that is interrupted is no
// grading any more, and must not be brought back in part.
func forgetGrading(path string) error {
	return errors.Join(os.Remove(filepath.Join(path, historyNote)), os.RemoveAll(path))
}

// clearHistory deletes what is left of folders of the history without a note.
func clearHistory(folder string) error {
	dir := filepath.Join(folder, "graded", historyFolder)
	entries, err := os.ReadDir(dir)
	for _, e := range entries {
		if path := filepath.Join(dir, e.Name()); e.IsDir() && !isFile(filepath.Join(path, historyNote)) {
			err = errors.Join(err, os.RemoveAll(path))
		}
	}
	return ignoreMissing(err)
}

// thinHistory deletes all but the last few.
func thinHistory(folder string) error {
	list, err := historyOf(folder)
	for ; err == nil && len(list) > historyKept; list = list[1:] {
		err = forgetGrading(list[0])
	}
	return err
}

func ignoreMissing(err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

// sameFiles compares names and contents, in whatever order.
func sameFiles(a, b []disk.File) bool {
	return len(a) == len(b) && !slices.ContainsFunc(a, func(f disk.File) bool {
		return !slices.ContainsFunc(b, func(o disk.File) bool {
			return o.Path == f.Path &&
				bytes.Equal(o.Data, f.Data)
		})
	})
}

// undo brings the last grading back that another one has replaced. The folder of the history goes last, so that an undo
// that was interrupted is completed by the next.
func undo(ctx context.Context, folder string, out io.Writer) error {
	g, err := openLab(folder)
	if err != nil {
		return err
	}
	held, err := disk.Lock(ctx, folder, "grade --undo "+g.lab.Name)
	if err != nil {
		return err
	}
	defer held.Unlock()
	g.checkName(folder, asking{})
	if err := g.readRecords(); err != nil {
		return err
	}
	if err := clearHistory(folder); err != nil {
		return err
	}
	list, err := historyOf(folder)
	if err != nil {
		return err
	}
	if len(list) == 0 {
		return fmt.Errorf("%s: there is no earlier grading to bring back", folder)
	}
	last := list[len(list)-1]
	dir := filepath.Join(folder, "graded")
	names, err := g.restore(ctx, last, dir)
	if err != nil {
		return err
	}
	if err := forgetGrading(last); err != nil {
		return err
	}
	_ = os.Remove(filepath.Dir(last)) // fails, as it should, while there are others
	w := &writer{out: out}
	for _, note := range g.notes {
		w.line("note: %s", note)
	}
	w.line("brought back in %s: %s", dir, strings.Join(names, ", "))
	return w.err
}

// restore writes the files of an earlier grading back and tells their names.
func (g *graded) restore(ctx context.Context, from, dir string) ([]string, error) {
	var names, back []string
	for _, name := range outputsIn(from) {
		data, err := os.ReadFile(filepath.Join(from, name))
		if err != nil {
			return nil, err
		}
		back = append(back, name)
		if isResults(name) {
			err = g.writeBook(dir, data)
			name = g.book
		} else {
			err = writeFiles(forInstructor, disk.File{Path: filepath.Join(dir, name), Data: data})
		}
		if err != nil {
			return nil, err
		}
		if !isTwin(name) {
			names = append(names, name)
		}
	}
	for _, name := range outputsIn(dir) { // a debrief that there was none of would tell what is not so any more
		if (isDebriefs(name) || isTwin(name)) && !slices.Contains(back, name) {
			if err := drop(dir, name); err != nil {
				return nil, err
			}
		}
	}
	if twins := len(back) - len(names); twins > 0 {
		names = append(names, fmt.Sprintf("%d pages and texts", twins))
	}
	records, err := os.ReadDir(filepath.Join(from, recordsFolder))
	if err != nil {
		return names, ignoreMissing(err)
	}
	var files []disk.File
	for _, e := range records {
		data, err := os.ReadFile(filepath.Join(from, recordsFolder, e.Name()))
		if err != nil {
			return nil, err
		}
		files = append(files, disk.File{Path: e.Name(), Data: data})
	}
	if g.dir == "" {
		return names, nil
	}
	noun := "records"
	if len(files) == 1 {
		noun = "record"
	}
	return append(names, fmt.Sprintf("%d %s", len(files), noun)), g.writeRecords(ctx, files)
}
