package main

import (
	"bufio"
	"context"
	"crypto/rand"
	"embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"
	xterm "golang.org/x/term"

	"nospark/scenarios/disk"
	"nospark/scenarios/term"
)

//go:embed start/*
var start embed.FS

func newNewCmd() *cobra.Command {
	return &cobra.Command{
		Use: "new DIR", Short: "Make an empty term folder with commented files and a fresh key",
		Args:    args(cobra.ExactArgs(1)),
		Example: "  nospark new autumn",
		RunE: func(cmd *cobra.Command, list []string) error {
			years := keptYears(cmd.InOrStdin(), cmd.ErrOrStderr())
			if err := newTerm(cmd.Context(), list[0], time.Now(), years); err != nil {
				return err
			}
			return tellNew(cmd.OutOrStdout(), list[0], years)
		},
	}
}

// defaultYears is how long records are kept where nobody says otherwise. Common practice, no source: rules differ by
// state and school, which is why it is asked.
const defaultYears = 5

// keptYears asks at a terminal how long records are kept. Without one, or with an answer that is no number of years, it
// is the default, which is told.
func keptYears(in io.Reader, out io.Writer) int {
	f, isFile := in.(*os.File)
	if !isFile || !xterm.IsTerminal(int(f.Fd())) {
		return defaultYears
	}
	fmt.Fprintf(out, "For how many years are labs and records kept, by your school's rules? [%d] ", defaultYears)
	answer, _ := bufio.NewReader(in).ReadString('\n') // no answer is the default
	if years, err := strconv.Atoi(strings.TrimSpace(answer)); err == nil && years >= 1 && years <= 50 {
		return years
	}
	return defaultYears
}

// retained is the last day of so many years from a day on.
func retained(from time.Time, years int) string {
	return from.AddDate(years, 0, 0).Format(time.DateOnly)
}

// newTerm makes a term with a fresh key, which begins on a day and whose records are kept for so many years.
func newTerm(ctx context.Context, dir string, first time.Time, years int) error {
	key, err := term.NewKey(rand.Reader)
	if err != nil {
		return err
	}
	id, err := term.NewTermID(rand.Reader)
	if err != nil {
		return err
	}
	return makeTerm(ctx, dir, key, id, first.Format(time.DateOnly), retained(first, years))
}

// makeTerm lays out a term. It refuses a folder that has anything in it but what an interrupted run of its own has
// left.
func makeTerm(ctx context.Context, dir string, key term.Key, id, date, retain string) error {
	if begun, err := isBegun(dir); err != nil {
		return err
	} else if !begun {
		return fmt.Errorf("%s: is not empty; give a folder that does not exist yet", dir)
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	held, err := disk.Lock(ctx, dir, "new")
	if err != nil {
		return err
	}
	defer held.Unlock()
	for _, sub := range []string{"plans", "packs", term.LabsFolder, recordsFolder} {
		if err := os.MkdirAll(filepath.Join(dir, sub), 0o755); err != nil {
			return err
		}
	}
	fill := strings.NewReplacer("{{ID}}", id, "{{DATE}}", date, "{{RETAIN}}", retain)
	for from, to := range map[string]string{"term.toml": term.File, "roster.csv": term.RosterFile,
		"week01.toml": "plans/week01.toml"} {
		text, err := start.ReadFile("start/" + from)
		if err != nil {
			return err
		}
		err = disk.WriteNew(filepath.Join(dir, filepath.FromSlash(to)), []byte(fill.Replace(string(text))), 0o644)
		if err != nil && !errors.Is(err, fs.ErrExist) {
			return err
		}
	}
	return term.WriteKey(filepath.Join(dir, term.KeyFile), key)
}

// isBegun tells a folder that a term may be laid out in: one that is not there, an empty one, or one that an
// interrupted run has begun. The key comes last, so a folder with one is a term; and where there is anything that
// is not ours, or that a term fills later, a key that was lost must not be replaced.
func isBegun(dir string) (bool, error) {
	if _, err := os.Stat(dir); errors.Is(err, fs.ErrNotExist) {
		return true, nil
	}
	ours := []string{".", "plans", filepath.Join("plans", "week01.toml"), "packs", term.LabsFolder, recordsFolder,
		term.File, term.RosterFile, disk.LockName}
	begun := true
	err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		begun = begun && (slices.Contains(ours, name) || disk.IsTemp(e.Name()))
		return nil
	})
	return begun, err
}

func tellNew(out io.Writer, dir string, years int) error {
	_, err := fmt.Fprintf(out, `%[1]s is ready.

  1. put your class into %[2]s (columns id,name,section)
  2. look at %[3]s and %[4]s
  3. nospark build %[4]s

Keep a copy of %[5]s in a safe place and give it to nobody: all answers follow from it.
Labs and records are kept for %[6]d years (retain_until in %[3]s).
`, dir, filepath.Join(dir, term.RosterFile), filepath.Join(dir, term.File), filepath.Join(dir, "plans", "week01.toml"),
		filepath.Join(dir, term.KeyFile), years)
	return err
}
