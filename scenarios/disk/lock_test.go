//go:build unix

package disk

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// TestMain lets the test program play a second program: one that holds a lock
// until it is killed, or one that dies in the middle of a write.
func TestMain(m *testing.M) {
	path := os.Getenv("NOSPARK_TEST_PATH")
	switch os.Getenv("NOSPARK_TEST_PLAY") {
	case "hold":
		if _, err := Lock(context.Background(), path, "build week05"); err != nil {
			fmt.Println(err)
			os.Exit(1)
		}
		fmt.Println("locked")
		io.Copy(io.Discard, os.Stdin)
	case "die":
		WriteFrom(path, 0o644, func(w io.Writer) error {
			io.WriteString(w, strings.Repeat("half of a file", 10_000))
			os.Exit(3)
			return nil
		})
	default:
		os.Exit(m.Run())
	}
}

func play(t *testing.T, role, path string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), "NOSPARK_TEST_PLAY="+role, "NOSPARK_TEST_PATH="+path)
	return cmd
}

// ended is a context whose time is up: Lock tries once.
func ended() context.Context {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	return ctx
}

func TestLockKeepsSecondProgramOut(t *testing.T) {
	dir := t.TempDir()
	cmd := play(t, "hold", dir)
	stdin, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	defer stdin.Close()
	stdout, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if line, err := bufio.NewReader(stdout).ReadString('\n'); line != "locked\n" {
		t.Fatalf("second program said %q, %v", line, err)
	}
	_, err = Lock(ended(), dir, "grade week05")
	wantError(t, err, dir+": in use by", "nospark build week05", fmt.Sprintf("process %d on", cmd.Process.Pid))

	// A program that is killed cannot unlock; the system does it.
	if err := cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	cmd.Wait()
	held, err := Lock(ended(), dir, "grade week05")
	if err != nil {
		t.Fatal(err)
	}
	if err := held.Unlock(); err != nil {
		t.Error(err)
	}
}

func TestLockWaits(t *testing.T) {
	dir := t.TempDir()
	first, err := Lock(ended(), dir, "build")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Lock(ended(), dir, "build"); err == nil {
		t.Fatal("the same program locked a folder twice")
	}
	done := make(chan error)
	go func() {
		second, err := Lock(context.Background(), dir, "grade")
		if err == nil {
			err = second.Unlock()
		}
		done <- err
	}()
	if err := first.Unlock(); err != nil {
		t.Error(err)
	}
	if err := <-done; err != nil {
		t.Error(err)
	}
	if err := first.Unlock(); err != nil {
		t.Errorf("second Unlock: %v", err)
	}
}

func TestLockClearsCrash(t *testing.T) {
	dir := t.TempDir()
	sub := filepath.Join(dir, "instructor")
	path := filepath.Join(sub, "lab.json")
	if err := os.Mkdir(sub, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := Write(path, []byte("old"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := play(t, "die", path).Run(); err == nil || err.Error() != "exit status 3" {
		t.Fatalf("the dying program ended with %v", err)
	}
	debris, err := filepath.Glob(filepath.Join(sub, tempPrefix+"*"))
	if err != nil || len(debris) != 1 {
		t.Fatalf("debris %q, %v", debris, err)
	}
	if got, _ := os.ReadFile(path); string(got) != "old" {
		t.Errorf("after the crash the file holds %q", got)
	}
	// Files that only look similar are somebody's own.
	similar := []string{".nospark-notes.part", ".nospark-0123456789abcdeX.part", ".nospark-0123456789abcdef"}
	for _, name := range similar {
		if err := os.WriteFile(filepath.Join(sub, name), nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	held, err := Lock(ended(), dir, "build")
	if err != nil {
		t.Fatal(err)
	}
	defer held.Unlock()
	if !slices.Equal(held.Cleared, debris) {
		t.Errorf("cleared %q, want %q", held.Cleared, debris)
	}
	slices.Sort(similar)
	want(t, path, "old", append(similar, "lab.json")...)
}

// A shallow lock leaves the folders below to those who lock them.
func TestLockShallow(t *testing.T) {
	dir := t.TempDir()
	sub := filepath.Join(dir, "labs")
	if err := os.Mkdir(sub, 0o755); err != nil {
		t.Fatal(err)
	}
	const temp = tempPrefix + "0123456789abcdef" + tempSuffix
	for _, path := range []string{filepath.Join(dir, temp), filepath.Join(sub, temp)} {
		if err := os.WriteFile(path, nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	held, err := LockShallow(ended(), dir, "competency")
	if err != nil {
		t.Fatal(err)
	}
	defer held.Unlock()
	if want := []string{filepath.Join(dir, temp)}; !slices.Equal(held.Cleared, want) {
		t.Errorf("cleared %q, want %q", held.Cleared, want)
	}
	wantFiles(t, sub, temp)
	if _, err := Lock(ended(), dir, "build"); err == nil {
		t.Error("the folder was locked twice")
	}
}

func TestLockErrors(t *testing.T) {
	dir := t.TempDir()
	_, err := Lock(ended(), filepath.Join(dir, "missing"), "build")
	wantError(t, err, "missing: cannot be locked: no such file or directory")
	if err := os.Mkdir(filepath.Join(dir, LockName), 0o755); err != nil {
		t.Fatal(err)
	}
	_, err = Lock(ended(), dir, "build")
	wantError(t, err, "cannot be locked: is a directory")
}

func TestClearStale(t *testing.T) {
	dir := t.TempDir()
	old, fresh, other := tempPrefix+"0123456789abcdef"+tempSuffix, tempPrefix+"fedcba9876543210"+tempSuffix, "notes.part"
	now := time.Now()
	for _, name := range []string{old, fresh, other} {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, nil, 0o600); err != nil {
			t.Fatal(err)
		}
		if name != fresh {
			if err := os.Chtimes(path, now.Add(-time.Hour), now.Add(-time.Hour)); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := ClearStale(dir, now.Add(-time.Minute)); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]bool{old: false, fresh: true, other: true} {
		if _, err := os.Stat(filepath.Join(dir, name)); (err == nil) != want {
			t.Errorf("%s is there: %v, want %v", name, err == nil, want)
		}
	}
}
