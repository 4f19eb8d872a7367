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
	"runtime"
	"slices"
	"sync"
	"time"

	"nospark/grading"
	"nospark/printouts"
	"nospark/scenarios"
	"nospark/scenarios/disk"
)

// Who may read a file on a machine with several users: the handouts are for everybody, whatever holds a fault, a reading or a mark
// is for the instructor alone, as term.key is.
const (
	forAll        fs.FileMode = 0o644
	forInstructor fs.FileMode = 0o600
)

// output is one file of a folder and how to make its bytes.
type output struct {
	path string
	make func() ([]byte, error)
}

// writeAll makes and writes outputs for the instructor on all cores. The first error stops what has not begun; every file is whole, old or
// new.
func writeAll(ctx context.Context, dir string, outputs []output) error {
	return writeFor(ctx, forInstructor, dir, outputs)
}

// writeFor is writeAll for those whom the mode lets read.
func writeFor(ctx context.Context, mode fs.FileMode, dir string, outputs []output) error {
	var jobs []func() error
	for _, o := range outputs {
		jobs = append(jobs, func() error { return writeOne(ctx, dir, mode, o) })
	}
	return runAll(ctx, jobs)
}

// runAll does jobs on all cores. The first error, or the end of ctx, stops what has not begun.
func runAll(ctx context.Context, jobs []func() error) error {
	next := make(chan func() error)
	var mu sync.Mutex
	var found error
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for job := range next {
				if err := job(); err != nil {
					mu.Lock()
					found = errors.Join(found, err)
					mu.Unlock()
				}
			}
		})
	}
	for _, job := range jobs {
		mu.Lock()
		stop := found != nil || ctx.Err() != nil
		mu.Unlock()
		if stop {
			break
		}
		next <- job
	}
	close(next)
	wait.Wait()
	return errors.Join(found, ctx.Err())
}

// writeOne makes and writes one output; nothing is written any more once ctx has ended.
func writeOne(ctx context.Context, dir string, mode fs.FileMode, o output) error {
	data, err := o.make()
	if err != nil {
		return fmt.Errorf("%s: %w", filepath.Base(o.path), err)
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	return writeFiles(mode, disk.File{Path: filepath.Join(dir, filepath.FromSlash(o.path)), Data: data})
}

// writeFiles leaves files alone that have the same bytes already and that nobody else may read, and makes the folders of the
// others.
func writeFiles(mode fs.FileMode, files ...disk.File) error {
	var other []disk.File
	for _, f := range files {
		if old, err := os.ReadFile(f.Path); err == nil && bytes.Equal(old, f.Data) && isWithin(f.Path, mode) {
			continue
		}
		if err := os.MkdirAll(filepath.Dir(f.Path), 0o755); err != nil {
			return err
		}
		other = append(other, f)
	}
	return disk.WriteMany(other, mode)
}

// longestWrite is far more than writing one file takes; a temporary file that is older is what a crash left.
const longestWrite = 10 * time.Minute

// writeOut writes a file where the user wants it, which may be anywhere and is under no lock.
func writeOut(path string, data []byte, mode fs.FileMode) error {
	_ = disk.ClearStale(filepath.Dir(path), time.Now().Add(-longestWrite)) // what cannot be cleared disturbs nobody
	return disk.Write(path, data, mode)
}

// isWithin tells whether a file lets nobody do more than a mode. Where the system has no such modes it always does.
func isWithin(path string, mode fs.FileMode) bool {
	info, err := os.Stat(path)
	return err == nil && (runtime.GOOS == "windows" || info.Mode().Perm()&^mode == 0)
}

// writeLab writes lab.json.
func writeLab(lab *scenarios.Lab, folder string) error {
	data, err := lab.Encode()
	if err != nil {
		return err
	}
	return disk.Write(labFile(folder), data, forInstructor)
}

// sheetsPerDocument bounds the memory that one document of a large school takes.
const sheetsPerDocument = 200

// partsOf cuts a lab into labs of at most n sheets, where it can between two sections. What is printed of a part is made from the part
// alone and given up once it is written, so memory does not grow with the school.
func partsOf(lab *scenarios.Lab, n int) []*scenarios.Lab {
	var parts []*scenarios.Lab
	for from := 0; from < len(lab.Sheets); {
		to := min(from+n, len(lab.Sheets))
		for at := to; to < len(lab.Sheets) && at > from+n/2; at-- {
			if lab.Sheets[at-1].Section != lab.Sheets[at].Section {
				to = at
				break
			}
		}
		part := *lab
		part.Sheets = lab.Sheets[from:to]
		parts = append(parts, &part)
		from = to
	}
	return parts
}

// printLab writes everything that follows from a lab, and the entry form for the sheets that have none yet.
func printLab(ctx context.Context, lab *scenarios.Lab, folder string) ([]form, error) {
	one := *lab // enough for the pages that are the same for everyone
	one.Sheets = nil
	outputs := []output{
		{"instructor/key.pdf", func() ([]byte, error) { return answerKey(lab) }},
		{"instructor/how-to-run.pdf", func() ([]byte, error) { return printouts.HowTo(lab) }},
		{"instructor/isolation-chart.pdf", func() ([]byte, error) { return isolationChart(lab) }},
	}
	handouts := []output{{"handouts/reference.pdf", ofHandout(&one, printouts.Reference)}}
	var texts []func() error
	parts := partsOf(lab, sheetsPerDocument)
	for i, part := range parts {
		number := ""
		if len(parts) > 1 {
			number = fmt.Sprintf("-%02d", i+1)
		}
		outputs = append(outputs, output{"instructor/pairing" + number + ".pdf", ofHandout(part, printouts.Pairing)})
		handouts = append(handouts,
			output{"handouts/worksheets" + number + ".pdf", ofHandout(part, printouts.Worksheets)})
		outputs = append(outputs, output{"partners/readings" + number + ".pdf", ofHandout(part, printouts.Readings)})
		texts = append(texts, func() error { return writeTexts(ctx, part, folder) })
	}
	if err := errors.Join(writeAll(ctx, folder, outputs), writeFor(ctx, forAll, folder, handouts), runAll(ctx, texts)); err != nil {
		return nil, err
	}
	if len(parts) > 1 {
		if err := drop(folder, "handouts/worksheets.pdf", "partners/readings.pdf", "instructor/pairing.pdf"); err != nil {
			return nil, err
		}
	}
	if err := dropReadings(folder); err != nil {
		return nil, err
	}
	return writeForms(lab, folder)
}

// dropReadings takes the partners' papers away from where earlier versions wrote them, beside the students' own.
func dropReadings(folder string) error {
	for _, pattern := range []string{"readings*.pdf", "text/*-readings.txt", "reprints/*-readings.pdf"} {
		old, _ := filepath.Glob(filepath.Join(escaped(folder), "handouts", filepath.FromSlash(pattern))) // the pattern is sound
		for _, path := range old {
			if err := os.Remove(path); err != nil {
				return err
			}
		}
	}
	return nil
}

// ofHandout makes a document of what students may see of a lab.
func ofHandout(lab *scenarios.Lab, make func(scenarios.Handout) ([]byte, error)) func() ([]byte, error) {
	return func() ([]byte, error) {
		h, err := lab.Handout()
		if err != nil {
			return nil, err
		}
		return make(h)
	}
}

// writeTexts writes the plain-text twins of the sheets.
func writeTexts(ctx context.Context, lab *scenarios.Lab, folder string) error {
	h, err := lab.Handout()
	if err != nil {
		return err
	}
	var sheets, readings []disk.File
	for i, w := range h.Worksheets {
		sheets = append(sheets, disk.File{Path: filepath.Join(folder, "handouts", "text", w.Code+"-worksheet.txt"),
			Data: []byte(printouts.WorksheetText(h, w))})
		readings = append(readings, disk.File{Path: filepath.Join(folder, "partners", "text", w.Code+"-readings.txt"),
			Data: []byte(printouts.ReadingsText(h, h.Readings[i]))})
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	return errors.Join(writeFiles(forAll, sheets...), writeFiles(forInstructor, readings...))
}

// drop removes documents of a time when the lab still fitted one of each.
func drop(dir string, names ...string) error {
	for _, name := range names {
		if err := os.Remove(filepath.Join(dir, filepath.FromSlash(name))); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return nil
}

func answerKey(lab *scenarios.Lab) ([]byte, error) {
	key, err := grading.NewKey(lab)
	if err != nil {
		return nil, err
	}
	return printouts.Key(lab, key)
}

// isolationChart draws best play for every complaint that some sheet has.
func isolationChart(lab *scenarios.Lab) ([]byte, error) {
	var trees []*grading.Tree
	for c := range lab.Complaints {
		if !slices.ContainsFunc(lab.Sheets, func(s scenarios.Sheet) bool { return s.Complaint == c }) {
			continue
		}
		tree, err := grading.LabTree(lab, c)
		if err != nil {
			return nil, err
		}
		trees = append(trees, tree)
	}
	return printouts.Chart(printouts.Cover{Program: lab.Program, Date: lab.Date, Paper: lab.Paper}, trees...)
}

// tellBuild says what was reached and where things lie.
func tellBuild(out io.Writer, b *built, folder string) error {
	w, lab, r := &writer{out: out}, b.lab, b.report
	w.line("%s: %d sheets, %d new", lab.Title, r.Kept+r.Added, r.Added)
	for _, c := range r.Complaints {
		w.line("  complaint %s: %d suspects, %d different faults; best play takes %.1f minutes on average", c.ID, c.Hypotheses, c.Faults, c.Reference/10)
	}
	fair := "fair"
	if !r.Fair {
		fair = "not fair: choose a narrower difficulty in the plan"
	}
	w.line("  difficulty %s to %s minutes, mean %.1f, spread %.0f %% of the mean (%s)", minutes(r.Low), minutes(r.High), r.Mean/10,
		100*float64(r.High-r.Low)/r.Mean, fair)
	for _, f := range r.Faults {
		w.line("  %3d x %s", f.Sheets, f.Label)
	}
	if r.Clashes > 0 {
		w.line("  %d pairs of neighbours share a fault", r.Clashes)
	}
	for _, n := range r.Notes {
		w.line("  note: %s", n)
	}
	w.line("print   %s", filepath.Join(folder, "handouts"))
	w.line("        %s (for the partners)", filepath.Join(folder, "partners"))
	w.line("keep    %s (never for students)", filepath.Join(folder, "instructor"))
	for _, text := range toFill(b.forms, filepath.Join(folder, "entries")) {
		w.line("%s", text)
	}
	w.line("then    nospark grade %s", folder)
	return w.err
}

// writer remembers the first error. Names of files may hold anything; what is printed of them is harmless.
type writer struct {
	out io.Writer
	err error
}

func (w *writer) line(format string, args ...any) {
	if w.err == nil {
		for i, a := range args {
			if text, ok := a.(string); ok {
				args[i] = disk.ShowName(text)
			}
		}
		_, w.err = fmt.Fprintf(w.out, format+"\n", args...)
	}
}
