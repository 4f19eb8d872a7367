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
	"strings"
	"sync"
	"time"

	"nospark/printouts"
	"nospark/scenarios/build"
	"nospark/scenarios/disk"
	"nospark/scenarios/lab"
)

// Who may read a file on a machine with several users: the handouts are for everybody, whatever holds a fault, a
// reading or a mark is for the instructor alone, as term.key is.
const (
	forAll        fs.FileMode = 0o644
	forInstructor fs.FileMode = 0o600
)

// output is one file of a folder and how to make its bytes.
type output struct {
	path string
	make func() ([]byte, error)
}

// writing are the jobs that make and write documents; nothing is written any more once ctx has ended.
func writing(ctx context.Context, folder string, documents []printouts.Job) []func() error {
	var jobs []func() error
	for _, d := range documents {
		jobs = append(jobs, func() error {
			files, err := d.Make()
			if err != nil {
				return err
			}
			if err := ctx.Err(); err != nil {
				return err
			}
			return writeDocuments(folder, files)
		})
	}
	return jobs
}

// writeDocuments writes the files of one kind of document.
func writeDocuments(folder string, files []printouts.File) error {
	if len(files) == 0 {
		return nil
	}
	var all []disk.File
	for _, f := range files {
		all = append(all, disk.File{Path: filepath.Join(folder, filepath.FromSlash(f.Path)), Data: f.Data})
	}
	return writeFiles(files[0].Mode, all...)
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
func writeOne(ctx context.Context, dir string, o output) error {
	data, err := o.make()
	if err != nil {
		return fmt.Errorf("%s: %w", filepath.Base(o.path), err)
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	return writeFiles(forInstructor, disk.File{Path: filepath.Join(dir, filepath.FromSlash(o.path)), Data: data})
}

// writeFiles leaves files alone that have the same bytes already and that nobody else may read, and makes the folders
// of the others.
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
func writeLab(lab *lab.Lab, folder string) error {
	data, err := lab.Encode()
	if err != nil {
		return err
	}
	return disk.Write(labFile(folder), data, forInstructor)
}

// printLab writes everything that follows from a lab, and the entry form for the sheets that have none yet.
// Unless it is asked for, a booklet that was printed with another lab of the term is not among it.
func printLab(ctx context.Context, lab *lab.Lab, folder string, booklet bool) ([]form, build.Paper, error) {
	documents, stale := printouts.AtBuild(lab)
	of := ""
	if !booklet {
		var err error
		if of, err = bookletPrinted(documents, folder); err != nil {
			return nil, build.Paper{}, err
		}
	}
	count := &paperCount{used: build.Paper{BookletOf: of}}
	var due []printouts.Job
	for _, d := range documents {
		if of == "" || !served(d.Name, folder, of) {
			due = append(due, count.watch(d))
		}
	}
	if err := runAll(ctx, writing(ctx, folder, due)); err != nil {
		return nil, build.Paper{}, err
	}
	if err := drop(folder, stale...); err != nil {
		return nil, build.Paper{}, err
	}
	if err := dropOutdated(folder); err != nil {
		return nil, build.Paper{}, err
	}
	forms, err := writeForms(lab, folder)
	return forms, count.used, err
}

// dropOutdated takes away what earlier versions wrote elsewhere: the partners' papers beside the students' own, and
// the booklet under its old name.
func dropOutdated(folder string) error {
	for _, pattern := range []string{"readings*.pdf", "text/*-readings.txt", "reprints/*-readings.pdf",
		"reference.pdf"} {
		// the pattern is sound
		old, _ := filepath.Glob(filepath.Join(escaped(folder), "handouts", filepath.FromSlash(pattern)))
		for _, path := range old {
			if err := os.Remove(path); err != nil {
				return err
			}
		}
	}
	return nil
}

// drop removes documents of a time when the lab still fitted one of each.
func drop(dir string, names ...string) error {
	for _, name := range names {
		if err := os.Remove(filepath.Join(dir, filepath.FromSlash(name))); err != nil &&
			!errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return nil
}

// tellBuild says what was reached and where things lie.
func tellBuild(out io.Writer, b *built, folder string) error {
	w, lab, r := &writer{out: out}, b.lab, b.report
	cases := 0
	w.line("%s: %d sheets, %d new", lab.Title, r.Kept+r.Added, r.Added)
	for _, c := range r.Complaints {
		w.line("  complaint %s: %d suspects, %d different faults, %d repairs, %d checks to make; best play takes "+
			"%.1f minutes on average",
			c.ID, c.Hypotheses, c.Faults, c.Repairs, c.Checks, c.Reference/10)
		cases += c.Cases
		if c.Cases > 1 {
			w.line("    %d cases in which a sheet may begin", c.Cases)
		}
	}
	w.line("  best play takes %.1f to %.1f minutes from where the sheets begin, mean %.1f", r.Low/10, r.High/10,
		r.Mean/10)
	w.line("  a sheet's own case leaves %.1f bits open about its repair; all other sheets, debriefs and earlier labs "+
		"tell %.2f bits of that", r.Learned.Bits, r.Learned.Others)
	w.line("  whoever knows the list guesses a repair first with a chance of %.2f, at most %.2f, and would earn %.0f "+
		"on average", r.Learned.First, r.Learned.Most, r.List)
	for _, f := range r.Faults {
		if f.Sheets > 0 {
			w.line("  %3d x %s", f.Sheets, f.Label)
		}
	}
	if cases > 1 && r.Same > 0 {
		w.line("  %d pairs of neighbors have sheets that begin alike", r.Same)
	}
	for _, n := range r.Notes {
		w.line("  note: %s", n)
	}
	if r.Kept > 0 && r.Added > 0 {
		tellAdded(w, lab, r, folder)
	} else {
		tellPaper(w, r.Paper, folder)
	}
	w.line("online  %s, %s", filepath.Join(folder, "handouts", "pages"), filepath.Join(folder, "handouts", "text"))
	w.line("keep    %s (never for students)", filepath.Join(folder, "instructor"))
	for _, text := range toFill(b.forms, filepath.Join(folder, "entries")) {
		w.line("%s", text)
	}
	w.line("then    nospark grade %s", folder)
	return w.err
}

// tellPaper says what is to be printed for a lab.
func tellPaper(w *writer, p build.Paper, folder string) {
	w.line("print   %s", filepath.Join(folder, "handouts"))
	w.line("        %s (for the partners)", filepath.Join(folder, "partners"))
	w.line("paper   %d sheets: %d for worksheets and %d for booklets on both sides, %d for readings on one, %d for "+
		"the instructor", p.Sheets,
		p.Worksheets, p.Booklets, p.Readings, p.Instructor)
	if p.BookletOf != "" {
		w.line("        the booklets printed with lab %s serve again; nospark build --booklet prints more", p.BookletOf)
	}
}

// mostAdded is how many new sheets are named, with what prints each of them.
const mostAdded = 12

// tellAdded says which sheets are new: all others may be on paper already.
func tellAdded(w *writer, l *lab.Lab, r *build.Report, folder string) {
	for i, s := range l.Sheets[r.Kept:] {
		if i == mostAdded {
			w.line("        and %d more; the entry form below names them all", r.Added-mostAdded)
			break
		}
		whose := "a spare"
		if s.Student != "" {
			whose = "student " + strings.TrimSpace(s.Student+" "+s.Name)
		}
		w.line("new     sheet %s, %s: nospark reprint %s %s", s.Code, whose, folder, s.Code)
	}
	w.line("paper   only these need printing, and the pairing in %s; the whole lab would take %d sheets",
		filepath.Join(folder, "instructor"), r.Paper.Sheets)
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
