//go:build unix

package disk

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

func TestWriteMany(t *testing.T) {
	dir := t.TempDir()
	if err := errors.Join(os.Mkdir(filepath.Join(dir, "a"), 0o755), os.Mkdir(filepath.Join(dir, "b"),
		0o755)); err != nil {
		t.Fatal(err)
	}
	var files []File
	var names []string
	for i := range 2*batch + 1 { // the last batch holds a single file
		name := fmt.Sprintf("%03d.txt", i)
		names = append(names, name)
		files = append(files, File{filepath.Join(dir, "a", name), []byte(strings.Repeat(name, i))},
			File{filepath.Join(dir, "b", name), []byte("b" + name)})
	}
	for range 2 { // new files, then the same over the old
		if err := WriteMany(files, 0o640); err != nil {
			t.Fatal(err)
		}
		for i, name := range names {
			want(t, filepath.Join(dir, "a", name), strings.Repeat(name, i), names...)
			want(t, filepath.Join(dir, "b", name), "b"+name, names...)
		}
	}
	info, err := os.Stat(files[0].Path)
	if err != nil || info.Mode() != 0o640 {
		t.Errorf("mode %v, %v", info.Mode(), err)
	}
	if err := WriteMany(nil, 0o644); err != nil {
		t.Errorf("no files: %v", err)
	}
}

// A file that cannot be written leaves nothing of itself behind, nor of those that follow.
func TestWriteManyImpossible(t *testing.T) {
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "folder"), 0o755); err != nil {
		t.Fatal(err)
	}
	in := func(name string) File { return File{filepath.Join(dir, name), []byte(name)} }
	err := WriteMany([]File{in("1"), in("folder"), in("2")}, 0o644)
	wantError(t, err, filepath.Join(dir, "folder")+": cannot be written")
	wantFiles(t, dir, "1", "folder")
	err = WriteMany([]File{in("3"), in("missing/x"), in("4")}, 0o644)
	wantError(t, err, "no such file or directory")
	wantFiles(t, dir, "1", "folder")
}

// A disk that fills up costs the files that did not fit, and no other. The limit of a file's size stands in for the
// disk, which tests cannot fill everywhere.
func TestWriteManyOnFullDisk(t *testing.T) {
	var old syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &old); err != nil {
		t.Fatal(err)
	}
	small := syscall.Rlimit{Cur: 1 << 20, Max: old.Max} // the log of the tests is a file too, and smaller
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &small); err != nil {
		t.Fatal(err)
	}
	defer syscall.Setrlimit(syscall.RLIMIT_FSIZE, &old)
	dir := t.TempDir()
	old1, long := filepath.Join(dir, "1"), filepath.Join(dir, "2")
	err := errors.Join(Write(old1, []byte("old"), 0o644), Write(long, []byte("old"), 0o644))
	if err != nil {
		t.Fatal(err)
	}
	err = WriteMany([]File{{old1, []byte("new")}, {long, make([]byte, 2<<20)}}, 0o644)
	wantError(t, err, long+": cannot be written, the old state is kept: file too large")
	want(t, old1, "old", "1", "2")
	want(t, long, "old", "1", "2")
	wantError(t, Write(long, make([]byte, 2<<20), 0o644), "the old state is kept: file too large")
	want(t, long, "old", "1", "2")
}
