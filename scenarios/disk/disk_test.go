//go:build unix

package disk

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
)

// want fails unless path holds exactly content and its folder nothing but the
// files named.
func want(t *testing.T, path, content string, files ...string) {
	t.Helper()
	got, err := os.ReadFile(path)
	if err != nil || string(got) != content {
		t.Errorf("%s: got %q, %v, want %q", path, got, err, content)
	}
	wantFiles(t, filepath.Dir(path), files...)
}

func wantFiles(t *testing.T, dir string, files ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if !slices.Equal(names, files) {
		t.Errorf("%s contains %q, want %q", dir, names, files)
	}
}

func wantError(t *testing.T, err error, parts ...string) {
	t.Helper()
	if err == nil {
		t.Errorf("no error, want one with %q", parts)
		return
	}
	for _, part := range parts {
		if !strings.Contains(err.Error(), part) {
			t.Errorf("error %q lacks %q", err, part)
		}
	}
	if strings.Contains(err.Error(), tempPrefix) {
		t.Errorf("error %q names a temporary file", err)
	}
}

func TestWriteReplaces(t *testing.T) {
	path := filepath.Join(t.TempDir(), "lab.json")
	for _, content := range []string{"first", "", "a longer third version", strings.Repeat("x", 100_000)} {
		if err := Write(path, []byte(content), 0o644); err != nil {
			t.Fatal(err)
		}
		want(t, path, content, "lab.json")
	}
}

func TestWriteMode(t *testing.T) {
	old := syscall.Umask(0o027)
	defer syscall.Umask(old)
	path := filepath.Join(t.TempDir(), "term.key")
	check := func(mode, wantMode fs.FileMode) {
		t.Helper()
		if err := Write(path, []byte("k"), mode); err != nil {
			t.Fatal(err)
		}
		info, err := os.Stat(path)
		if err != nil || info.Mode() != wantMode {
			t.Errorf("mode %v, want %v (%v)", info.Mode(), wantMode, err)
		}
	}
	check(0o644, 0o640)
	check(0o600, 0o600) // also when the file was more open before
	check(0o666, 0o640)
}

func TestWriteReplacesLinkNotTarget(t *testing.T) {
	dir := t.TempDir()
	target, link := filepath.Join(dir, "a"), filepath.Join(dir, "b")
	if err := errors.Join(os.WriteFile(target, []byte("kept"), 0o644), os.Symlink("a", link)); err != nil {
		t.Fatal(err)
	}
	if err := Write(link, []byte("new"), 0o644); err != nil {
		t.Fatal(err)
	}
	want(t, target, "kept", "a", "b")
	want(t, link, "new", "a", "b")
}

func TestWriteFromFailingFill(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "key.pdf")
	if err := Write(path, []byte("old"), 0o644); err != nil {
		t.Fatal(err)
	}
	broken := errors.New("no such font")
	err := WriteFrom(path, 0o644, func(w io.Writer) error {
		// More than the buffer, so that some of it is in the file already.
		if _, err := io.WriteString(w, strings.Repeat("half", 10_000)); err != nil {
			return err
		}
		return broken
	})
	if !errors.Is(err, broken) {
		t.Errorf("error %v does not wrap that of fill", err)
	}
	wantError(t, err, "key.pdf: cannot be written, the old state is kept: no such font")
	want(t, path, "old", "key.pdf")

	_, missing := os.Open(filepath.Join(dir, "font.ttf"))
	err = WriteFrom(path, 0o644, func(io.Writer) error { return missing })
	wantError(t, err, "font.ttf") // an error about another file keeps its name
}

// The tests may run as root, whom permissions do not stop. So each case is
// one that stops everybody.
func TestWriteImpossible(t *testing.T) {
	dir := t.TempDir()
	folder := filepath.Join(dir, "folder")
	file := filepath.Join(dir, "file")
	if err := errors.Join(os.Mkdir(folder, 0o755), os.WriteFile(file, []byte("old"), 0o644)); err != nil {
		t.Fatal(err)
	}
	check := func(path string, parts ...string) {
		t.Helper()
		wantError(t, Write(path, []byte("x"), 0o644), append(parts, path+": ")...)
		wantError(t, WriteNew(path, []byte("x"), 0o644), path+": ")
		want(t, file, "old", "file", "folder")
		wantFiles(t, folder)
	}
	check(folder, "a folder of this name is in the way")
	check(filepath.Join(file, "x"), "not a directory")
	check(filepath.Join(dir, "missing", "x"), "no such file or directory")
}

// /dev/full answers every write with "no space left on device".
func TestSaveOnFullDisk(t *testing.T) {
	f, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Fatalf("the test needs /dev/full: %v", err)
	}
	defer f.Close()
	check := func(name string, size int) {
		t.Helper()
		err := save(f, func(w io.Writer) error {
			_, err := w.Write(make([]byte, size))
			return err
		})
		if !errors.Is(err, syscall.ENOSPC) {
			t.Errorf("%s: got %v, want ENOSPC", name, err)
		}
	}
	check("found when flushing", 10)
	check("found while filling", 1_000_000)
}

func TestWriteNew(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "entry.xlsx")
	if err := WriteNew(path, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	want(t, path, "mine", "entry.xlsx")
	err := WriteNew(path, []byte("other"), 0o644)
	if !errors.Is(err, fs.ErrExist) {
		t.Errorf("got %v, want one that wraps fs.ErrExist", err)
	}
	wantError(t, err, "entry.xlsx: file already exists and is never replaced")
	want(t, path, "mine", "entry.xlsx")

	dangling := filepath.Join(dir, "later.xlsx")
	if err := os.Symlink("nowhere", dangling); err != nil {
		t.Fatal(err)
	}
	if err := WriteNew(dangling, nil, 0o644); !errors.Is(err, fs.ErrExist) {
		t.Errorf("dangling link: got %v", err)
	}
	wantFiles(t, dir, "entry.xlsx", "later.xlsx")
}

// Of several writers exactly one wins, and the file is the winner's.
func TestWriteNewRace(t *testing.T) {
	path := filepath.Join(t.TempDir(), "entry.xlsx")
	results := make(chan string)
	const writers = 8
	for i := range writers {
		go func() {
			content := fmt.Sprintf("writer %d", i)
			if err := WriteNew(path, []byte(content), 0o644); err != nil {
				content = ""
			}
			results <- content
		}()
	}
	var winners []string
	for range writers {
		if r := <-results; r != "" {
			winners = append(winners, r)
		}
	}
	if len(winners) != 1 {
		t.Fatalf("winners: %q", winners)
	}
	want(t, path, winners[0], "entry.xlsx")
}

func TestPlaceNewWithoutHardLinks(t *testing.T) {
	noLinks := func(string, string) error { return &os.LinkError{Op: "link", Err: syscall.EPERM} }
	dir := t.TempDir()
	temp, path := filepath.Join(dir, "temp"), filepath.Join(dir, "entry.xlsx")
	if err := os.WriteFile(temp, []byte("whole"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := placeNew(temp, path, noLinks); err != nil {
		t.Fatal(err)
	}
	want(t, path, "whole", "entry.xlsx")

	if err := os.WriteFile(temp, []byte("other"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := placeNew(temp, path, noLinks); !errors.Is(err, fs.ErrExist) {
		t.Errorf("got %v, want fs.ErrExist", err)
	}
	want(t, path, "whole", "entry.xlsx", "temp")

	// The reservation goes if the rename fails.
	if err := placeNew(filepath.Join(dir, "gone"), filepath.Join(dir, "new"), noLinks); err == nil {
		t.Error("no error for a missing temporary file")
	}
	wantFiles(t, dir, "entry.xlsx", "temp")
}

func TestRead(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "roster.csv")
	if err := os.WriteFile(path, []byte("12345"), 0o644); err != nil {
		t.Fatal(err)
	}
	if got, err := Read(path, 5); err != nil || string(got) != "12345" {
		t.Errorf("got %q, %v", got, err)
	}
	_, err := Read(path, 4)
	wantError(t, err, "roster.csv: has more than 4 bytes")
	_, err = Read(dir, 100)
	wantError(t, err, dir+": is a folder")
	_, err = Read(filepath.Join(dir, "none"), 100)
	wantError(t, err, "none: cannot be read: no such file")
	if !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v does not wrap fs.ErrNotExist", err)
	}
	_, err = Read("/dev/zero", 100)
	wantError(t, err, "/dev/zero: is not a regular file")

	pipe := filepath.Join(dir, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	_, err = Read(pipe, 100) // opening it would wait for ever
	wantError(t, err, "pipe: is not a regular file")
}
