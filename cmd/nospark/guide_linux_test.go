package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"golang.org/x/sys/unix"
)

// terminal opens a pseudo terminal: what a person has in hand, and what the program has.
func terminal(t *testing.T) (person, program *os.File) {
	t.Helper()
	person, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = person.Close() })
	if err := unix.IoctlSetPointerInt(int(person.Fd()), unix.TIOCSPTLCK, 0); err != nil {
		t.Fatal(err)
	}
	number, err := unix.IoctlGetInt(int(person.Fd()), unix.TIOCGPTN)
	if err != nil {
		t.Fatal(err)
	}
	program, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", number), os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Fatal(err)
	}
	return person, program
}

// converse starts the program in a folder at a terminal of its own and types each answer when the last line ends like
// its question. It gives everything that stood on the terminal.
func converse(t *testing.T, dir string, talk ...string) string {
	t.Helper()
	person, program := terminal(t)
	ctx, cancel := context.WithTimeout(context.Background(), 3*time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, os.Args[0])
	cmd.Args = []string{"nospark"}
	// Work in a folder below the one for temporary files would be lost; the test's is one, so that is elsewhere here.
	cmd.Dir, cmd.Env = dir, append(os.Environ(), "TMPDIR="+t.TempDir(), "PATH=")
	cmd.Stdin, cmd.Stdout, cmd.Stderr = program, program, program
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	_ = program.Close()
	var shown bytes.Buffer
	ended := make(chan error, 1)
	pieces := make(chan []byte)
	go func() {
		for {
			piece := make([]byte, 4096)
			n, err := person.Read(piece)
			if n > 0 {
				pieces <- piece[:n]
			}
			if err != nil { // the program has closed its end
				ended <- cmd.Wait()
				return
			}
		}
	}()
	from := 0 // what was there when the last answer was typed
	for {
		select {
		case piece := <-pieces:
			shown.Write(piece)
			at := strings.LastIndexByte(shown.String(), '\n') + 1
			line := shown.String()[max(at, from):]
			if len(talk) > 0 && strings.Contains(line, talk[0]) && strings.HasSuffix(line, ": ") {
				from = shown.Len()
				if _, err := io.WriteString(person, talk[1]+"\n"); err != nil {
					t.Fatal(err)
				}
				talk = talk[2:]
			}
		case err := <-ended:
			if err != nil || len(talk) > 0 {
				t.Errorf("ended with %v; not asked: %q", err, talk)
			}
			return strings.ReplaceAll(shown.String(), "\r\n", "\n")
		}
	}
}

// TestFromNothingToAPrintedLab: somebody who never typed a command starts the program and gets to the sheets of a lab;
// then the marks.
func TestFromNothingToAPrintedLab(t *testing.T) {
	dir := t.TempDir()
	list := filepath.Join(t.TempDir(), "class list.csv")
	if err := os.WriteFile(list, []byte("id,name,section\n1,Ada Quill,A\n2,Ben Reed,A\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if taken, err := net.Listen("tcp", ":"+strconv.Itoa(usualPort)); err == nil { // or somebody else has it already
		defer taken.Close()
	}
	said := converse(t, dir,
		"Number", "3", "called", "autumn", // a lab; there is no term yet
		"Number", "1", "Drag", strings.ReplaceAll(list, " ", `\ `),
		"Number", "4", // the lamp
		"Number", "1", "day", "yesterday", "day", "2026-09-07", "window", "yes",
		"Number", "9", "Number", "4", "Number", "1", // the port is taken, so this goes on
		"Number", "5", "Number", "1", "window", "no", "Number", "8")
	for _, want := range []string{
		"autumn is ready", "2 students.", "Write it like 2026-09-07", "4 sheets are ready", "Type a number from 1 to 8",
		"No window could be opened here", "how-to-run.pdf", "claims.pdf", "the class's address cannot be used",
		"0 graded", "Good-bye.",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("%q was not said:\n%s", want, said)
		}
	}
	for _, line := range regexp.MustCompile(`(?m)^  (/.*\.pdf)$`).FindAllStringSubmatch(said, -1) {
		if data, err := os.ReadFile(line[1]); err != nil || !bytes.HasPrefix(data, []byte("%PDF")) {
			t.Errorf("%s is to be printed, but: %v", line[1], err)
		}
	}
	plan, err := os.ReadFile(filepath.Join(dir, "autumn", "plans", "week01.toml"))
	if err != nil || !strings.Contains(string(plan), `pack = "lamp"`) {
		t.Errorf("the plan: %v\n%s", err, plan)
	}
}

// TestSheetsWithoutAClassList: who has no class list yet gets sheets without names.
func TestSheetsWithoutAClassList(t *testing.T) {
	said := converse(t, t.TempDir(), "Number", "3", "called", "", "Number", "2", "sheets", "none", "sheets", "3",
		"Number", "4", "Number", "2",
		"day", "", "window", "no", "Number", "8")
	if !strings.Contains(said, "3 sheets are ready") || strings.Contains(said, "did not work") ||
		strings.Contains(said, `\u`) {
		t.Error(said)
	}
}

// TestMistakesInTheConversation: what goes wrong is told and the conversation goes on; it ends where the terminal does.
func TestMistakesInTheConversation(t *testing.T) {
	dir := t.TempDir()
	if err := os.MkdirAll(filepath.Join(dir, "full", "things"), 0o755); err != nil {
		t.Fatal(err)
	}
	said := converse(t, dir, "Number", "2", "called", "full", "Number", "5", "Number", "7", "Number", "\x04")
	for _, want := range []string{"That did not work", "is not empty", "There is no lab yet", "Available Commands",
		"Good-bye."} {
		if !strings.Contains(said, want) {
			t.Errorf("%q was not said:\n%s", want, said)
		}
	}
}

// TestWithoutATerminal: what is not started by a person prints the help, as a script expects.
func TestWithoutATerminal(t *testing.T) {
	person, program := terminal(t)
	_ = person
	defer program.Close()
	for _, in := range []io.Reader{strings.NewReader("1\n"), program} {
		var out, errOut bytes.Buffer
		if code := run(context.Background(), nil, in, &out, &errOut); code != exitDone ||
			!strings.Contains(out.String(), "Usage:") {
			t.Errorf("status %d\n%s%s", code, out.String(), errOut.String())
		}
	}
}
