// Package disk reads and writes the files of a term so that a crash, a full
// disk or a second program never leaves half of one.
//
// [Write] replaces a file, [WriteNew] refuses to, [Lock] keeps a second program
// out of a folder and clears what a crash left there, [Read] stops at a size,
// [CheckName] and [EscapeName] stand between outside text and the names of
// files. Render to memory first, then write.
//
// A file appears under its name only when every byte of it has reached the
// disk: it is written under another name in the same folder, synced and
// renamed, then the folder is synced. A reader sees the old file or the new one.
//
// The package is no database: two files written one after the other are two
// steps, and a crash can come between them.
package disk

import (
	"bufio"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// Write puts data into the file path, replacing what was there. The folder
// must exist. The permissions are mode less the process's umask, also if the
// file had others before. If path is a symbolic link, the link is replaced and
// what it pointed at is left alone.
//
// After an error path is as it was and no other file is left behind.
func Write(path string, data []byte, mode fs.FileMode) error {
	return WriteFrom(path, mode, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}

// WriteFrom is [Write] for content that fill writes piece by piece. The
// writer is buffered. An error of fill leaves path as it was and is returned.
func WriteFrom(path string, mode fs.FileMode, fill func(io.Writer) error) error {
	return write(path, mode, fill, os.Rename)
}

// WriteNew puts data into a file that does not exist yet. If there is anything
// at path, even an empty file or a dangling link, it is left untouched and the
// error wraps [fs.ErrExist]. Otherwise WriteNew does what [Write] does.
func WriteNew(path string, data []byte, mode fs.FileMode) error {
	if _, err := os.Lstat(path); err == nil {
		return existsError(path)
	}
	fill := func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	}
	return write(path, mode, fill, func(temp, path string) error {
		return placeNew(temp, path, os.Link)
	})
}

func existsError(path string) error {
	return fmt.Errorf("%s: %w and is never replaced; move it away to have it written again", path, fs.ErrExist)
}

// write makes a temporary file, fills it and lets place give it its name.
func write(path string, mode fs.FileMode, fill func(io.Writer) error, place func(temp, path string) error) (err error) {
	temp, f, err := createTemp(path, mode)
	if err != nil {
		return fmt.Errorf("%s: cannot be written: %w", path, plain(err, temp))
	}
	defer func() {
		if err != nil {
			// The first error is the one to tell; a file that cannot be removed
			// either is cleared by the next Lock.
			f.Close()
			os.Remove(temp)
		}
	}()
	if err := save(f, fill); err != nil {
		return fmt.Errorf("%s: cannot be written, the old state is kept: %w", path, plain(err, temp))
	}
	if err := place(temp, path); err != nil {
		if errors.Is(err, fs.ErrExist) {
			if info, statErr := os.Lstat(path); statErr == nil && info.IsDir() {
				return fmt.Errorf("%s: cannot be written: a folder of this name is in the way", path)
			}
			return existsError(path)
		}
		return fmt.Errorf("%s: cannot be written, the old state is kept: %w", path, plain(err, temp))
	}
	if err := syncFolder(filepath.Dir(path)); err != nil {
		return fmt.Errorf("%s: written, but the folder could not be synced: %w", path, plain(err, filepath.Dir(path)))
	}
	return nil
}

// save fills f, syncs and closes it. A network file system may report a full
// disk only when it is closed.
func save(f *os.File, fill func(io.Writer) error) error {
	w := bufio.NewWriter(f)
	if err := fill(w); err != nil {
		return err
	}
	if err := w.Flush(); err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		return err
	}
	return f.Close()
}

// placeNew gives temp the name path only if the name is free. A hard link
// does that in one step. File systems without hard links (memory sticks) get the
// name reserved by an empty file first: after a crash between the two steps that
// empty file is all there is, and the user is told that it exists.
func placeNew(temp, path string, link func(oldName, newName string) error) error {
	err := link(temp, path)
	if err == nil {
		os.Remove(temp) // should that fail, the next Lock clears it
		return nil
	}
	if errors.Is(err, fs.ErrExist) {
		return err
	}
	reserved, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	reserved.Close()
	if err := os.Rename(temp, path); err != nil {
		os.Remove(path)
		return err
	}
	return nil
}

const (
	tempPrefix = ".nospark-"
	tempSuffix = ".part"
	tempDigits = 16 // hexadecimal digits between them
)

// createTemp opens a new file in the folder of path. The name is random so that
// two writers never share it, and recognizable so that Lock may remove it.
func createTemp(path string, mode fs.FileMode) (string, *os.File, error) {
	var random [tempDigits / 2]byte
	rand.Read(random[:]) // never fails, see crypto/rand
	temp := filepath.Join(filepath.Dir(path), tempPrefix+hex.EncodeToString(random[:])+tempSuffix)
	f, err := os.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode.Perm())
	return temp, f, err
}

// plain takes the operation and the name out of an error of package os if the
// name is one that the message already has or that the user does not know.
// Errors about other files, which fill may return, keep theirs.
func plain(err error, known ...string) error {
	var pathErr *fs.PathError
	if errors.As(err, &pathErr) && slices.Contains(known, pathErr.Path) {
		return pathErr.Err
	}
	var linkErr *os.LinkError
	if errors.As(err, &linkErr) && slices.Contains(known, linkErr.Old) {
		return linkErr.Err
	}
	return err
}

// Read returns the content of the file path. It refuses folders, devices and
// pipes, and files of more than limit bytes, so that a wrong path costs an error
// and not the memory of the machine. Errors wrap those of package os.
func Read(path string, limit int64) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be read: %w", path, plain(err, path))
	}
	switch {
	case info.IsDir():
		return nil, fmt.Errorf("%s: is a folder, want a file", path)
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("%s: is not a regular file", path)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be read: %w", path, plain(err, path))
	}
	defer f.Close()
	// The file may have grown since it was looked at: count what is read.
	data, err := io.ReadAll(io.LimitReader(f, limit+1))
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be read: %w", path, plain(err, path))
	}
	if int64(len(data)) > limit {
		return nil, fmt.Errorf("%s: has more than %d bytes, the most this file may have; is it the right file?", path,
			limit)
	}
	return data, nil
}
