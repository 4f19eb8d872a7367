//go:build unix

package main

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"nospark/scenarios/testrun"
)

// Two gradings of a lab at once, and builds among them: each waits, or says who is at work and ends with status 1. The
// files are those of a single one in any case.
func TestTwoAtOnce(t *testing.T) {
	before, after := playedInPeace(t)
	check := func(stage int, others ...[]string) {
		t.Helper()
		s := stages()[stage]
		dir := before[stage].lay(t)
		lines := [][]string{s.in(dir), s.in(dir), s.in(dir)}
		for _, o := range others {
			lines = append(lines, stageLine(o, dir))
		}
		type running struct {
			cmd  *exec.Cmd
			said interface{ String() string }
		}
		var all []running
		for _, line := range lines {
			cmd, said := process(t, line...)
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			all = append(all, running{cmd, said})
		}
		done := 0
		for _, r := range all {
			err := r.cmd.Wait()
			if err == nil {
				done++
			} else if r.cmd.ProcessState.ExitCode() != exitInput ||
				!strings.Contains(r.said.String(), "in use by \"nospark ") {
				t.Errorf("%s: %v: %s", s.name, err, r.said.String())
			}
		}
		if done == 0 {
			t.Errorf("%s: of several at once none came through", s.name)
		}
		if now := take(t, dir); !maps.Equal(now, after[stage]) {
			t.Errorf("%s: %v", s.name, differences(now, after[stage]))
		}
	}
	check(0)
	check(2)
	check(2, []string{"build", "DIR/plans/week01.toml"})
	check(4)
}

func stageLine(line []string, dir string) []string { return stage{line: line}.in(dir) }

// Interrupted, by Ctrl-C or by a system that shuts down, a command says so, ends with status 1 and leaves no debris;
// the next run completes.
func TestInterrupted(t *testing.T) {
	testrun.Slow(t, "builds a class three times")
	dir, plan := schoolTerm(t, 20)
	base := take(t, dir)
	whole, said := process(t, "build", plan)
	start := time.Now()
	if err := whole.Run(); err != nil {
		t.Fatal(said.String())
	}
	took := time.Since(start)
	want := take(t, dir)
	stopped, signals := 0, []os.Signal{os.Interrupt, syscall.SIGTERM, os.Interrupt}
	for i, signal := range signals[:testrun.Times(t, 3, 1)] {
		again := base.lay(t)
		line := []string{"build", filepath.Join(again, "plans", "week01.toml")}
		cmd, said := process(t, line...)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(took * time.Duration(1+i) / 5)
		if err := cmd.Process.Signal(signal); err != nil && !errors.Is(err, os.ErrProcessDone) {
			t.Fatal(err)
		}
		if err := cmd.Wait(); err != nil {
			stopped++
			if cmd.ProcessState.ExitCode() != exitInput || !strings.Contains(said.String(), "nospark: interrupted") {
				t.Errorf("%v: %v: %s", signal, err, said.String())
			}
		}
		got := take(t, again)
		if list := got.torn(base, want); len(list) > 0 {
			t.Errorf("%v: %v", signal, list)
		}
		if slices.ContainsFunc(slices.Collect(maps.Keys(got)), temporary.MatchString) {
			t.Errorf("%v: a temporary file is left: %v", signal, differences(got, want))
		}
		if cmd, said := process(t, line...); cmd.Run() != nil {
			t.Errorf("after %v: %s", signal, said.String())
		}
		if now := take(t, again); !maps.Equal(now, want) {
			t.Errorf("after %v: %v", signal, differences(now, want))
		}
	}
	if stopped == 0 {
		t.Error("no interruption came in time")
	}
}

// Whatever a command is doing, even waiting for an answer, an interruption ends it within a second; a second one ends
// it at once.
func TestInterruptedWhileWaiting(t *testing.T) {
	dir, _ := schoolTerm(t, 1)
	if err := os.MkdirAll(filepath.Join(dir, "records"), 0o755); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(dir, "plans", "week01.toml"), "title = \"A lamp\"\ndate = 2026-09-07\npack = \"lamp\"\n")
	if cmd, said := process(t, "build", filepath.Join(dir, "plans", "week01.toml")); cmd.Run() != nil {
		t.Fatal(said.String())
	}
	check := func(signals int, most time.Duration) {
		t.Helper()
		cmd, _ := process(t, "purge", dir, "--before", "2030-01-01")
		in, err := cmd.StdinPipe()
		if err != nil {
			t.Fatal(err)
		}
		defer in.Close()
		out, ready := make(chan string, 1), make(chan struct{})
		cmd.Stdout = nil
		pipe, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		wait := ready
		go func() {
			text := ""
			for buffer := make([]byte, 100); ; {
				n, err := pipe.Read(buffer)
				if text += string(buffer[:n]); strings.Contains(text, "Type yes") && ready != nil {
					close(ready)
					ready = nil
				}
				if err != nil {
					out <- text
					return
				}
			}
		}()
		<-wait
		begin := time.Now()
		for range signals {
			if err := cmd.Process.Signal(os.Interrupt); err != nil && !errors.Is(err, os.ErrProcessDone) {
				t.Fatal(err)
			}
			time.Sleep(100 * time.Millisecond)
		}
		<-out
		if err := cmd.Wait(); err == nil {
			t.Error("interrupted, it ends with status 0")
		}
		if took := time.Since(begin); took > most {
			t.Errorf("after %d signals it took %v", signals, took)
		}
	}
	check(1, 2*time.Second) // one of the seconds is that of a busy machine
	check(2, grace-50*time.Millisecond)
}

// In a pipe nothing is shown of the progress: no control character ever comes out.
func TestSilentInPipe(t *testing.T) {
	_, plan := schoolTerm(t, 5)
	cmd, said := process(t, "build", plan)
	if err := cmd.Run(); err != nil {
		t.Fatal(said.String())
	}
	if strings.ContainsAny(said.String(), "\r\x1b\b") ||
		!strings.HasPrefix(said.String(), "A lamp: 5 sheets, 5 new\n") {
		t.Errorf("in a pipe: %q", said.String())
	}
}

// A disk that is full at any file costs no file: the command says so, what was there stays, and with room again a rerun
// completes. A limit on the size of files stands in for the disk; where the system lets the test mount one, a small
// disk is filled as well.
func TestFullDisk(t *testing.T) {
	before, after := playedInPeace(t)
	failed, sizes := 0, testrun.Times(t, 3, 1)
	for i, s := range stages() {
		for _, kilobytes := range []int{16, 1, 64}[:sizes] {
			dir := before[i].lay(t)
			self, err := os.Executable()
			if err != nil {
				t.Fatal(err)
			}
			script := fmt.Sprintf("ulimit -f %d; exec -a nospark \"$0\" \"$@\"", kilobytes)
			out, err := exec.Command("bash", append([]string{"-c", script, self}, s.in(dir)...)...).CombinedOutput()
			if err != nil {
				failed++
				if !strings.Contains(string(out), ": cannot be written, the old state is kept: file too large") {
					t.Errorf("%s with files of %d kB: %v: %s", s.name, kilobytes, err, out)
				}
			}
			recovers(t, s, dir, before[i], after[i])
		}
	}
	if failed < 3*sizes-1 {
		t.Errorf("only %d commands met the limit", failed)
	}
	fillDisk(t, before, after)
}

// recovers wants whole files and no debris, and a rerun that completes.
func recovers(t *testing.T, s stage, dir string, before, after snapshot) {
	t.Helper()
	got := take(t, dir)
	if list := got.torn(before, after); len(list) > 0 {
		t.Errorf("%s: %v", s.name, list)
	}
	if slices.ContainsFunc(slices.Collect(maps.Keys(got)), temporary.MatchString) {
		t.Errorf("%s: a temporary file is left", s.name)
	}
	if cmd, said := process(t, s.in(dir)...); cmd.Run() != nil {
		t.Errorf("%s again: %s", s.name, said.String())
	}
	if now := take(t, dir); !maps.Equal(now, after) {
		t.Errorf("%s again: %v", s.name, differences(now, after))
	}
}

// fillDisk runs each command on a disk that has a little room, more from time to time.
func fillDisk(t *testing.T, before, after []snapshot) {
	disk := t.TempDir()
	if err := mount(disk, 1<<20); err != nil {
		t.Logf("no small disk here, the limit on files was tested alone: %v", err)
		return
	}
	defer unmount(disk)
	full, rooms := 0, testrun.Times(t, 2, 1)
	for i, s := range stages() {
		for _, room := range []int{8, 100}[:rooms] { // kilobytes
			from := before[i].lay(t)
			size := 0
			for _, data := range before[i] {
				size += (len(data) + 4095) / 4096 * 4096
			}
			unmount(disk)
			if err := mount(disk, size+(room+60)<<10); err != nil { // 60 kB for folders
				t.Fatal(err)
			}
			dir := filepath.Join(disk, "term")
			if err := os.CopyFS(dir, os.DirFS(from)); err != nil {
				t.Fatal(err)
			}
			if err := os.Chmod(filepath.Join(dir, "term.key"), 0o600); err != nil {
				t.Fatal(err)
			}
			if cmd, said := process(t, s.in(dir)...); cmd.Run() != nil {
				full++
				if !strings.Contains(said.String(), "no space left on device") {
					t.Errorf("%s with %d kB: %s", s.name, room, said.String())
				}
			}
			if err := remount(disk, 64<<20); err != nil {
				t.Fatal(err)
			}
			recovers(t, s, dir, before[i], after[i])
		}
	}
	t.Logf("%d commands filled a disk", full)
	if full < 2*rooms {
		t.Errorf("only %d commands filled the disk", full)
	}
}

// A folder that cannot be written to is named, and nothing else has changed. Root may write everywhere, so the command
// runs as somebody else.
func TestReadOnlyFolder(t *testing.T) {
	before, _ := playedInPeace(t)
	check := func(stage int, folder string) {
		t.Helper()
		s := stages()[stage]
		dir := before[stage].lay(t)
		target := filepath.Join(dir, folder)
		if err := os.MkdirAll(target, 0o755); err != nil {
			t.Fatal(err)
		}
		cmd, said := process(t, s.in(dir)...)
		if os.Getuid() == 0 {
			if runtime.GOOS != "linux" {
				t.Skip("runs as root")
			}
			nobody(t, cmd, dir)
		}
		if err := os.Chmod(target, 0o555); err != nil {
			t.Fatal(err)
		}
		err := cmd.Run()
		if cmd.ProcessState.ExitCode() != exitInput || !strings.Contains(said.String(), target) ||
			!strings.Contains(said.String(), "permission denied") {
			t.Errorf("%s with %s read-only: %v: %s", s.name, folder, err, said.String())
		}
		if err := os.Chmod(target, 0o755); err != nil {
			t.Fatal(err)
		}
		got := take(t, dir)
		for path, data := range before[stage] {
			if got[path] != data {
				t.Errorf("%s with %s read-only: %s has changed", s.name, folder, path)
			}
		}
		if slices.ContainsFunc(slices.Collect(maps.Keys(got)), temporary.MatchString) {
			t.Errorf("%s with %s read-only: a temporary file is left", s.name, folder)
		}
	}
	check(0, "labs")
	check(0, "labs/week01/instructor")
	check(0, "labs/week01/handouts")
	check(0, "labs/week01/entries")
	check(2, "labs/week01")
	check(2, "labs/week01/graded")
	check(2, "records")
	check(4, "")
}

// nobody gives the term to a user without rights and lets the command run as that user.
func nobody(t *testing.T, cmd *exec.Cmd, dir string) {
	t.Helper()
	const id = 65534
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: id, Gid: id}}
	err := filepath.WalkDir(dir, func(path string, _ fs.DirEntry, err error) error {
		return errors.Join(err, os.Chown(path, id, id))
	})
	for up := filepath.Dir(dir); err == nil && up != "/" && up != os.TempDir(); up = filepath.Dir(up) {
		err = os.Chmod(up, 0o755) // the folders of tests are private
	}
	if err != nil {
		t.Fatal(err)
	}
	// The test program lies in a private folder too.
	data, err := os.ReadFile(cmd.Path)
	if err != nil {
		t.Fatal(err)
	}
	cmd.Path = filepath.Join(filepath.Dir(dir), "nospark")
	if err := os.WriteFile(cmd.Path, data, 0o755); err != nil {
		t.Fatal(err)
	}
}
