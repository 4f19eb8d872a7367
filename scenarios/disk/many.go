package disk

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// File is a file to write: its path and what shall be in it.
type File struct {
	Path string
	Data []byte
}

// batch bounds the files that WriteMany holds open at a time; programs may have 256 on some systems.
const batch = 64

// WriteMany is [Write] for many small files and makes the same promise for each of them. It is faster because a batch
// is filled before any of it is synced: the disk is then waited for a few times, not twice for every file.
//
// After an error files may be new or old, every one of them is whole, and no other file is left behind.
func WriteMany(files []File, mode fs.FileMode) error {
	for part := range slices.Chunk(files, batch) {
		if err := writeBatch(part, mode); err != nil {
			return err
		}
	}
	return nil
}

// filled is a temporary file that has its content but not its name.
type filled struct {
	temp string
	f    *os.File
}

func writeBatch(files []File, mode fs.FileMode) (err error) {
	var waiting []filled
	defer func() {
		for _, w := range waiting {
			w.f.Close()
			os.Remove(w.temp)
		}
	}()
	failed := func(path, temp string, err error) error {
		return fmt.Errorf("%s: cannot be written, the old state is kept: %w", path, plain(err, temp))
	}
	for _, file := range files {
		temp, f, err := createTemp(file.Path, mode)
		if err != nil {
			return fmt.Errorf("%s: cannot be written: %w", file.Path, plain(err, temp))
		}
		waiting = append(waiting, filled{temp, f})
		if _, err := f.Write(file.Data); err != nil {
			return failed(file.Path, temp, err)
		}
	}
	for i, w := range waiting {
		if err := w.f.Sync(); err != nil {
			return failed(files[i].Path, w.temp, err)
		}
	}
	var folders []string
	for _, file := range files {
		w := waiting[0]
		if err := w.f.Close(); err != nil { // where a network file system reports a full disk
			return failed(file.Path, w.temp, err)
		}
		if err := os.Rename(w.temp, file.Path); err != nil {
			return failed(file.Path, w.temp, err)
		}
		waiting = waiting[1:]
		if dir := filepath.Dir(file.Path); !slices.Contains(folders, dir) {
			folders = append(folders, dir)
		}
	}
	for _, dir := range folders {
		if err := syncFolder(dir); err != nil {
			return fmt.Errorf("%s: files were written, but the folder could not be synced: %w", dir, plain(err, dir))
		}
	}
	return nil
}
