package disk

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// LockName is the file that carries the lock. It stays when the lock is given
// up: removing it would let two programs lock two files of the same name.
const LockName = ".nospark-lock"

// Patience is how long [Lock] waits for another program to finish.
const Patience = 3 * time.Second

// retry is how often a held lock is tried again.
const retry = 50 * time.Millisecond

// Held is a lock on a folder; see [Lock].
type Held struct {
	file *os.File
	// Cleared lists the temporary files of crashed programs that were removed.
	Cleared []string
}

// Lock keeps other programs that call Lock out of the folder dir until
// [Held.Unlock], or until the program ends in whatever way. The lock is
// advisory: it stops no other program from touching files.
//
// If the folder is locked, Lock waits for [Patience], less if ctx ends sooner,
// then returns an error that says who holds it. The purpose ("build week05")
// is what others will be told. A second lock of the same folder by the same
// program is refused like one by another program; a folder inside a locked one
// has a lock of its own.
//
// Whoever holds the lock is the only writer below dir, so temporary files found
// there are what a crash left: Lock removes them.
func Lock(ctx context.Context, dir, purpose string) (*Held, error) {
	return lock(ctx, dir, purpose, true)
}

// LockShallow is Lock for writers of files directly in dir, where the folders below have locks of their own:
// temporary files down there are left alone.
func LockShallow(ctx context.Context, dir, purpose string) (*Held, error) {
	return lock(ctx, dir, purpose, false)
}

func lock(ctx context.Context, dir, purpose string, deep bool) (*Held, error) {
	path := filepath.Join(dir, LockName)
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o666)
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be locked: %w", dir, plain(err, path))
	}
	if err := wait(ctx, f); err != nil {
		defer f.Close()
		if errors.Is(err, errHeld) {
			return nil, fmt.Errorf("%s: in use by %s; wait until it has finished and try again", dir, holder(f))
		}
		return nil, fmt.Errorf("%s: cannot be locked: %w; is the folder on a network drive without locks?", dir, err)
	}
	held := &Held{file: f}
	if err := writeHolder(f, purpose); err != nil {
		held.Unlock()
		return nil, fmt.Errorf("%s: cannot be locked: %w", dir, plain(err, path))
	}
	if held.Cleared, err = clearTemp(dir, deep); err != nil {
		held.Unlock()
		return nil, fmt.Errorf("%s: what an interrupted run left cannot be removed: %w", dir, err)
	}
	return held, nil
}

// Unlock gives the folder up. Calling it again does nothing.
func (h *Held) Unlock() error {
	if h.file == nil {
		return nil
	}
	f := h.file
	h.file = nil
	// The note goes before the lock does: afterwards it may be another's.
	return errors.Join(f.Truncate(0), f.Close())
}

var errHeld = errors.New("held by another program")

// wait tries at least once, even if ctx has already ended.
func wait(ctx context.Context, f *os.File) error {
	ctx, cancel := context.WithTimeout(ctx, Patience)
	defer cancel()
	tick := time.NewTicker(retry)
	defer tick.Stop()
	for {
		if err := tryLock(f); !errors.Is(err, errHeld) {
			return err
		}
		select {
		case <-ctx.Done():
			return errHeld
		case <-tick.C:
		}
	}
}

// writeHolder leaves a note for those who wait.
func writeHolder(f *os.File, purpose string) error {
	host, err := os.Hostname()
	if err != nil {
		host = "an unnamed computer" // the lock works without it
	}
	note := fmt.Sprintf("%q (process %d on %s)\n", "nospark "+purpose, os.Getpid(), host)
	if err := f.Truncate(0); err != nil {
		return err
	}
	_, err = f.WriteAt([]byte(note), 0)
	return err
}

// holder reads the note of whoever has the lock. The note is only a help: it
// is missing for a moment while the lock changes hands.
func holder(f *os.File) string {
	b := make([]byte, 300)
	n, _ := f.ReadAt(b, 0)
	note, _, _ := strings.Cut(string(b[:n]), "\n")
	if strings.TrimSpace(note) == "" {
		return "another program"
	}
	return note
}

// clearTemp removes the temporary files in dir, and below when deep, and returns
// their paths. It follows no links.
func clearTemp(dir string, deep bool) ([]string, error) {
	var cleared []string
	err := filepath.WalkDir(dir, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() && path != dir && !deep {
			return fs.SkipDir
		}
		if entry.Type().IsRegular() && IsTemp(entry.Name()) {
			if err := os.Remove(path); err != nil {
				return err
			}
			cleared = append(cleared, path)
		}
		return nil
	})
	return cleared, err
}

// ClearStale removes temporary files directly in dir that have not changed since a
// moment: what a crash left in a folder that no program locks. The moment must lie
// further back than any writing takes.
func ClearStale(dir string, since time.Time) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	for _, entry := range entries {
		info, err := entry.Info()
		if err != nil || !info.Mode().IsRegular() || !IsTemp(entry.Name()) || info.ModTime().After(since) {
			continue // one that is gone by now was another program's
		}
		if err := os.Remove(filepath.Join(dir, entry.Name())); err != nil {
			return err
		}
	}
	return nil
}

// IsTemp recognizes exactly the names that [Write] gives files until they are whole.
func IsTemp(name string) bool {
	middle, ok := strings.CutPrefix(name, tempPrefix)
	if !ok {
		return false
	}
	middle, ok = strings.CutSuffix(middle, tempSuffix)
	return ok && len(middle) == tempDigits && strings.Trim(middle, "0123456789abcdef") == ""
}
