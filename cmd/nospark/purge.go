package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"nospark/grading/competency"
	"nospark/grading/evidence"
	"nospark/scenarios/disk"
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

func newPurgeCmd() *cobra.Command {
	before := ""
	cmd := &cobra.Command{
		Use: "purge TERM", Short: "Delete labs and records of days that need not be kept any longer",
		Args: args(cobra.ExactArgs(1)),
		Long: `Lists every lab, record and gathered file of TERM whose day lies before the given one, with the workbooks, pages and lists made from
records, asks, and deletes them. When nothing is left that needs them, class list, aliases, signatures and the register of awards go
too. What stays is residue.csv: counts per lab and competency without anybody, none below 5. Without --before the day is retain_until of
term.toml. What was printed or copied elsewhere is not reached.`,
		Example: "  nospark purge autumn --before 2026-07-01",
		RunE: func(cmd *cobra.Command, list []string) error {
			if err := noTerm(list[0]); err != nil {
				return err
			}
			day, err := purgeDay(list[0], before, time.Now().Format(time.DateOnly))
			if err != nil {
				return err
			}
			old, notes, err := oldFiles(list[0], day)
			if err != nil {
				return err
			}
			for _, n := range notes {
				fmt.Fprintf(cmd.ErrOrStderr(), "nospark: %s\n", disk.ShowName(n))
			}
			more, err := followers(list[0], day, old)
			if err != nil {
				return err
			}
			return purge(cmd.Context(), cmd.InOrStdin(), cmd.OutOrStdout(), list[0], append(old, more...), day)
		},
	}
	cmd.Flags().StringVar(&before, "before", "", "day like 2026-07-01; that day itself is kept")
	return cmd
}

func purgeDay(dir, before, today string) (string, error) {
	if before == "" {
		autumn, err := term.Read(dir)
		if err != nil {
			return "", err
		}
		if autumn.RetainUntil == "" {
			return "", usageError{errors.New("give a day with --before, or retain_until in term.toml")}
		}
		if today <= autumn.RetainUntil {
			return "", fmt.Errorf("%s: retain_until says that everything is kept until %s; to delete what is older "+
				"than another day, give it with --before",
				filepath.Join(dir, term.File), autumn.RetainUntil)
		}
		return autumn.RetainUntil, nil
	}
	if _, err := time.Parse(time.DateOnly, before); err != nil {
		return "", usageError{fmt.Errorf("--before %q: want a day like 2026-07-01", before)}
	}
	return before, nil
}

// oldFiles lists the folders of labs and the files of records before a day. What cannot be read has no day that
// could be trusted: it is kept, with a note.
func oldFiles(dir, day string) (old, notes []string, err error) {
	labs, err := filepath.Glob(filepath.Join(escaped(dir), term.LabsFolder, "*"))
	if err != nil {
		return nil, nil, err
	}
	records, err := filepath.Glob(filepath.Join(escaped(dir), recordsFolder, "*.json"))
	if err != nil {
		return nil, nil, err
	}
	gathered := gatheredIn(dir)
	add := func(path, date string, err error) {
		switch {
		case errors.Is(err, fs.ErrNotExist):
			notes = append(notes, path+": is no lab, so it is kept")
		case err != nil:
			notes = append(notes, fmt.Sprintf("%v (kept)", err))
		case date < day:
			old = append(old, path)
		}
	}
	labs = withoutLinks(labs, &notes)
	records = withoutLinks(records, &notes)
	for _, path := range labs {
		lab, err := lab.Read(labFile(path))
		if err != nil {
			add(path, "", err)
			continue
		}
		add(path, lab.Date, nil)
	}
	for _, path := range records {
		data, err := disk.Read(path, evidence.LargestRecord)
		if err != nil {
			add(path, "", err)
			continue
		}
		r, err := evidence.Decode(path, data)
		if err != nil {
			add(path, "", err)
			continue
		}
		add(path, r.Date, nil)
	}
	for _, path := range withoutLinks(gathered, &notes) {
		data, err := disk.Read(path, evidence.LargestRecord)
		var until string
		if err == nil {
			if until, err = competency.GatheredUntil(data); err != nil {
				err = fmt.Errorf("%s: %w", path, err)
			}
		}
		add(path, until, err)
	}
	return old, notes, nil
}

// withoutLinks leaves out links, with a note: deleting one would leave what it leads to.
func withoutLinks(paths []string, notes *[]string) []string {
	return slices.DeleteFunc(paths, func(path string) bool {
		target, err := os.Readlink(path)
		if err == nil {
			*notes = append(*notes, fmt.Sprintf("%s: is a link to %s, so it is kept; delete by hand what it leads to",
				path, target))
		}
		return err == nil
	})
}

// purge asks before it deletes. Anything but a plain yes keeps all.
func purge(ctx context.Context, in io.Reader, out io.Writer, dir string, old []string, day string) error {
	w := &writer{out: out}
	if len(old) == 0 {
		w.line("nothing is older than %s", day)
		return w.err
	}
	for _, path := range old {
		w.line("  %s", path)
	}
	w.line("Delete these %d for good? Type yes to do so.", len(old))
	answer, err := bufio.NewReader(in).ReadString('\n')
	if err != nil && !errors.Is(err, io.EOF) {
		return err
	}
	if strings.TrimSpace(answer) != "yes" {
		w.line("nothing was deleted; to delete, answer with the whole word yes")
		return w.err
	}
	if err := keepResidue(dir, old); err != nil {
		return err
	}
	for _, path := range old {
		if err := deleteLocked(ctx, path); err != nil {
			return err
		}
	}
	w.line("deleted; class lists under other names, seating, what was printed, mailed, gathered by others or copied is " +
		"yours to delete")
	return w.err
}

// lockAll locks a folder against all who work in it, also an open bench, which holds a lab's entries alone.
func lockAll(ctx context.Context, dir, who string) (unlock func() error, err error) {
	held, err := disk.Lock(ctx, dir, who)
	if err != nil {
		return nil, err
	}
	entries := filepath.Join(dir, "entries")
	if !isFolder(entries) {
		return held.Unlock, nil
	}
	bench, err := disk.LockShallow(ctx, entries, who)
	if err != nil {
		return nil, errors.Join(err, held.Unlock())
	}
	return func() error { return errors.Join(bench.Unlock(), held.Unlock()) }, nil
}

// deleteLocked deletes a lab or a record once nobody else is at work on it. The file that carries the lock goes last.
func deleteLocked(ctx context.Context, path string) error {
	if !isFolder(path) {
		held, err := disk.LockShallow(ctx, filepath.Dir(path), "purge")
		if err != nil {
			return err
		}
		defer held.Unlock()
		return os.Remove(path)
	}
	unlock, err := lockAll(ctx, path, "purge")
	if err != nil {
		return err
	}
	defer unlock()
	// lab.json goes last of what is in it: a purge that was interrupted is still a lab to purge.
	entries, err := os.ReadDir(path)
	if err != nil {
		return err
	}
	slices.SortFunc(entries, func(a, b os.DirEntry) int {
		return strings.Compare(purgeOrder(a.Name()), purgeOrder(b.Name()))
	})
	for _, e := range entries {
		if e.Name() == disk.LockName {
			continue
		}
		if err := os.RemoveAll(filepath.Join(path, e.Name())); err != nil {
			return err
		}
	}
	if err := unlock(); err != nil {
		return err
	}
	return os.RemoveAll(path)
}

// purgeOrder puts the folder of lab.json behind all others.
func purgeOrder(name string) string {
	if name == filepath.Dir(filepath.FromSlash(lab.File)) {
		return "\uffff"
	}
	return name
}
