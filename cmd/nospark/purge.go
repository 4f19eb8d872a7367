package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"nospark/grading/evidence"
	"nospark/scenarios/disk"
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

func newPurgeCmd() *cobra.Command {
	before := ""
	cmd := &cobra.Command{
		Use: "purge TERM", Short: "Delete labs and records of days that need not be kept any longer", Args: args(cobra.ExactArgs(1)),
		Long: `Lists every lab and record of TERM whose day lies before the given one, asks, and deletes them. Without --before the day is retain_until
of term.toml. What was printed or copied elsewhere is not reached.`,
		Example: "  nospark purge autumn --before 2026-07-01",
		RunE: func(cmd *cobra.Command, list []string) error {
			if err := noTerm(list[0]); err != nil {
				return err
			}
			day, err := purgeDay(list[0], before)
			if err != nil {
				return err
			}
			old, notes, err := oldFiles(list[0], day)
			if err != nil {
				return err
			}
			for _, n := range notes {
				fmt.Fprintf(cmd.ErrOrStderr(), "nospark: %s\n", n)
			}
			return purge(cmd.InOrStdin(), cmd.OutOrStdout(), old, day)
		},
	}
	cmd.Flags().StringVar(&before, "before", "", "day like 2026-07-01; that day itself is kept")
	return cmd
}

func purgeDay(dir, before string) (string, error) {
	if before == "" {
		autumn, err := term.Read(dir)
		if err != nil {
			return "", err
		}
		if autumn.RetainUntil == "" {
			return "", usageError{errors.New("give a day with --before, or retain_until in term.toml")}
		}
		return autumn.RetainUntil, nil
	}
	if _, err := time.Parse(time.DateOnly, before); err != nil {
		return "", usageError{fmt.Errorf("--before %q: want a day like 2026-07-01", before)}
	}
	return before, nil
}

// oldFiles lists the folders of labs and the files of records before a day. What cannot be read has no day that could be trusted: it is
// kept, with a note.
func oldFiles(dir, day string) (old, notes []string, err error) {
	labs, err := filepath.Glob(filepath.Join(dir, term.LabsFolder, "*"))
	if err != nil {
		return nil, nil, err
	}
	records, err := filepath.Glob(filepath.Join(dir, recordsFolder, "*.json"))
	if err != nil {
		return nil, nil, err
	}
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
	for _, path := range labs {
		lab, err := lab.Read(labFile(path))
		if err != nil {
			add(path, "", err)
			continue
		}
		add(path, lab.Date, nil)
	}
	for _, path := range records {
		data, err := disk.Read(path, 64<<20)
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
	return old, notes, nil
}

// purge asks before it deletes. Anything but a plain yes keeps all.
func purge(in io.Reader, out io.Writer, old []string, day string) error {
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
	for _, path := range old {
		if err := os.RemoveAll(path); err != nil {
			return err
		}
	}
	w.line("deleted; competency.xlsx, coordinator.html, sign-off sheets, awards.csv, aliases.csv, signoffs.csv and roster.csv are yours to delete, and so is what was printed or copied")
	return w.err
}
