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

	"nospark/grading"
	"nospark/printouts"
	"nospark/printouts/workbook"
	"nospark/scenarios"
	"nospark/scenarios/disk"
)

// output is one file of a folder and how to make its bytes.
type output struct {
	path string
	make func() ([]byte, error)
}

// writeAll makes and writes outputs on all cores. The first error stops what has not begun; every file is whole, old or new.
func writeAll(ctx context.Context, dir string, outputs []output) error {
	jobs := make(chan output)
	var mu sync.Mutex
	var found error
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for o := range jobs {
				if err := writeOne(dir, o); err != nil {
					mu.Lock()
					found = errors.Join(found, err)
					mu.Unlock()
				}
			}
		})
	}
	for _, o := range outputs {
		mu.Lock()
		stop := found != nil || ctx.Err() != nil
		mu.Unlock()
		if stop {
			break
		}
		jobs <- o
	}
	close(jobs)
	wait.Wait()
	return errors.Join(found, ctx.Err())
}

// writeOne leaves a file alone that has the same bytes already.
func writeOne(dir string, o output) error {
	data, err := o.make()
	if err != nil {
		return fmt.Errorf("%s: %w", filepath.Base(o.path), err)
	}
	path := filepath.Join(dir, o.path)
	if old, err := os.ReadFile(path); err == nil && bytes.Equal(old, data) {
		return nil
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	return disk.Write(path, data, 0o644)
}

// writeLab writes lab.json.
func writeLab(lab *scenarios.Lab, folder string) error {
	data, err := lab.Encode()
	if err != nil {
		return err
	}
	return disk.Write(labFile(folder), data, 0o600)
}

// sheetsPerDocument bounds the memory that one document of a large school takes.
const sheetsPerDocument = 250

// printLab writes everything that follows from a lab, and the entry form for the sheets that have none yet.
func printLab(ctx context.Context, lab *scenarios.Lab, report *scenarios.Report, folder string) error {
	h, err := lab.Handout()
	if err != nil {
		return err
	}
	outputs := []output{
		{"handouts/reference.pdf", func() ([]byte, error) { return printouts.Reference(h) }},
		{"instructor/pairing.pdf", func() ([]byte, error) { return printouts.Pairing(h) }},
		{"instructor/how-to-run.pdf", func() ([]byte, error) { return printouts.HowTo(lab) }},
		{"instructor/key.pdf", func() ([]byte, error) { return answerKey(lab) }},
		{"instructor/isolation-chart.pdf", func() ([]byte, error) { return isolationChart(lab) }},
	}
	parts := printouts.Split(h, sheetsPerDocument)
	for i, part := range parts {
		number := ""
		if len(parts) > 1 {
			number = fmt.Sprintf("-%02d", i+1)
		}
		outputs = append(outputs,
			output{"handouts/worksheets" + number + ".pdf", func() ([]byte, error) { return printouts.Worksheets(part) }},
			output{"handouts/readings" + number + ".pdf", func() ([]byte, error) { return printouts.Readings(part) }})
	}
	for i := range h.Worksheets {
		w, r := h.Worksheets[i], h.Readings[i]
		outputs = append(outputs,
			output{"handouts/text/" + w.Code + "-worksheet.txt", func() ([]byte, error) { return []byte(printouts.WorksheetText(h, w)), nil }},
			output{"handouts/text/" + w.Code + "-readings.txt", func() ([]byte, error) { return []byte(printouts.ReadingsText(h, r)), nil }})
	}
	if err := writeAll(ctx, folder, outputs); err != nil {
		return err
	}
	return writeForms(lab, report, folder)
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

// writeForms writes an entry form that is never touched again. Sheets added by a later build get a form of their own.
func writeForms(lab *scenarios.Lab, report *scenarios.Report, folder string) error {
	entries := filepath.Join(folder, "entries")
	for n := 1; ; n++ {
		name, part := "entry", *lab
		if n > 1 {
			if report.Added == 0 || report.Kept == 0 {
				return nil
			}
			name = fmt.Sprintf("entry-%d", n)
			part.Sheets = lab.Sheets[len(lab.Sheets)-report.Added:]
		}
		if _, err := os.Stat(filepath.Join(entries, name+".xlsx")); err == nil {
			continue
		}
		form, err := workbook.Entry(&part)
		if err != nil {
			return err
		}
		err = disk.WriteNew(filepath.Join(entries, name+".xlsx"), form, 0o644)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		return err
	}
}

// tellBuild says what was reached and where things lie.
func tellBuild(out io.Writer, lab *scenarios.Lab, r *scenarios.Report, folder string) error {
	w := &writer{out: out}
	w.line("%s: %d sheets, %d new", lab.Title, r.Kept+r.Added, r.Added)
	for _, c := range r.Complaints {
		w.line("  complaint %s: %d hypotheses, %d faults; best play takes %.1f minutes on average", c.ID, c.Hypotheses, c.Faults, c.Reference/10)
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
	w.line("keep    %s (never for students)", filepath.Join(folder, "instructor"))
	w.line("fill in %s", filepath.Join(folder, "entries", "entry.xlsx"))
	w.line("then    nospark grade %s", folder)
	return w.err
}

// writer remembers the first error.
type writer struct {
	out io.Writer
	err error
}

func (w *writer) line(format string, args ...any) {
	if w.err == nil {
		_, w.err = fmt.Fprintf(w.out, format+"\n", args...)
	}
}
