package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	xterm "golang.org/x/term"

	"nospark/scenarios/disk"
)

// guide talks with somebody who started the program without a command, perhaps by a double click: it asks in plain
// words what to do, and does it. Everything it does is done by a command too.
type guide struct {
	cmd    *cobra.Command
	ctx    context.Context
	in     *bufio.Reader
	out    *writer
	errOut io.Writer
	base   string // where new folders are made and terms are looked for
}

// isPerson tells whether somebody sits at a terminal, reads what is written and can answer.
func isPerson(in io.Reader, out io.Writer) bool {
	for _, end := range []any{in, out} {
		f, ok := end.(*os.File)
		if !ok || !xterm.IsTerminal(int(f.Fd())) {
			return false
		}
	}
	return true
}

func newGuide(cmd *cobra.Command) *guide {
	return &guide{cmd: cmd, ctx: cmd.Context(), in: bufio.NewReader(cmd.InOrStdin()),
		out:    &writer{out: cmd.OutOrStdout()},
		errOut: cmd.ErrOrStderr(), base: workFolder()}
}

// workFolder is where the program was started; but not where nothing may be written or where it would be lost, as
// happens when a program is started from inside an archive.
func workFolder() string {
	dir, err := os.Getwd()
	temp := strings.HasPrefix(dir, filepath.Clean(os.TempDir())+string(filepath.Separator))
	if err == nil && !temp && isWritable(dir) {
		return dir
	}
	if home, err := os.UserHomeDir(); err == nil && isWritable(home) {
		return home
	}
	return dir
}

// isWritable tells whether a file can be made in a folder.
func isWritable(dir string) bool {
	f, err := os.CreateTemp(dir, ".nospark-*")
	if err != nil {
		return false
	}
	_ = f.Close()
	return os.Remove(f.Name()) == nil
}

// errLeft says that the person has closed the conversation.
var errLeft = errors.New("the conversation has ended")

// talk asks what to do until the person leaves. What goes wrong is told, and the conversation goes on.
func (g *guide) talk() error {
	g.out.line(`nospark makes diagnosis labs for automotive classes. Every student gets a work order for a simulated vehicle
with a hidden ignition fault, takes meter readings on paper, and gets a mark for the answer and for the way to it.

The labs are done on paper. Local codes, the school's shop-safety rules, the vehicle maker's service information
and the supervising instructor come first; work on a real vehicle is for people trained and licensed for it.

New folders are made in %s`, g.base)
	for {
		choice, err := g.choose("What do you want to do? Type a number and press Enter.", []string{
			"look around: an invented term with six labs, played and graded",
			"begin a term: a folder for your own class",
			"make a lab: the sheets to print for one lesson",
			"run a lab on the students' phones, over the network of the classroom",
			"mark a lab: what the students handed in, and their debriefs",
			"practice at home: one file for students, that opens in a browser", "see all commands", "leave"}, 0)
		if err == nil {
			err = g.do(choice)
		}
		switch {
		case errors.Is(err, errLeft):
			g.out.line("Good-bye.")
			return g.out.err
		case g.ctx.Err() != nil:
			return g.ctx.Err()
		case err != nil:
			g.out.line("\nThat did not work:")
			for line := range strings.Lines(err.Error()) {
				g.out.line("  %s", strings.TrimRight(line, "\n"))
			}
		}
	}
}

// do does what was chosen.
func (g *guide) do(choice int) error {
	switch choice {
	case 1:
		return g.demo()
	case 2:
		_, err := g.beginTerm()
		return err
	case 3:
		return g.makeLab()
	case 4:
		return g.runLab()
	case 5:
		return g.markLab()
	case 6:
		return g.practice()
	case 7:
		help := newRootCmd()
		help.SetOut(g.out.out)
		return help.Help()
	}
	return errLeft
}

// demo makes the invented term.
func (g *guide) demo() error {
	dir := g.free("demo")
	g.out.line("\nThis takes about half a minute.\n")
	if err := runDemo(g.ctx, dir, g.out.out, g.errOut); err != nil {
		return err
	}
	return g.offerFolder(filepath.Join(dir, "labs", "week01"))
}

// practice makes a practice file of all systems.
func (g *guide) practice() error {
	g.out.line("\nThis takes about half a minute.\n")
	path := filepath.Join(g.base, "practice.html")
	if err := runPractice(g.ctx, nil, path, g.out.out, g.errOut); err != nil {
		return err
	}
	return g.offerFolder(g.base)
}

// free is a path for a new folder that does not exist yet: name, else name-2 and so on.
func (g *guide) free(name string) string {
	dir := filepath.Join(g.base, name)
	for n := 2; ; n++ {
		if _, err := os.Lstat(dir); err != nil {
			return dir
		}
		dir = filepath.Join(g.base, fmt.Sprintf("%s-%d", name, n))
	}
}

// offerFolder shows a folder in the system's own window, if that is wanted. Where there is no window the path has to
// do.
func (g *guide) offerFolder(dir string) error {
	yes, err := g.agree("\nShow that folder in a window?")
	if err != nil || !yes {
		return err
	}
	name := map[string]string{"windows": "explorer", "darwin": "open"}[runtime.GOOS]
	if name == "" {
		name = "xdg-open"
	}
	cmd := exec.Command(name, dir)
	if err := cmd.Start(); err != nil {
		g.out.line("No window could be opened here; look into %s", dir)
		return nil
	}
	go func() { _ = cmd.Wait() }() // its window may stay open for as long as it likes
	return nil
}

// ask asks for a line; an empty one means the offered answer.
func (g *guide) ask(question, offered string) (string, error) {
	if offered != "" {
		question += " [" + disk.ShowName(offered) + "]"
	}
	if _, err := fmt.Fprintf(g.out.out, "%s: ", question); err != nil {
		return "", err
	}
	line, err := g.in.ReadString('\n')
	line = strings.TrimSpace(line)
	switch {
	case line != "":
		return line, nil
	case err != nil: // the end of what can be read, or a terminal that is gone
		g.out.line("")
		return "", errLeft
	}
	return offered, nil
}

// agree asks for yes or no; an empty line means yes.
func (g *guide) agree(question string) (bool, error) {
	for {
		answer, err := g.ask(question, "yes")
		if err != nil {
			return false, err
		}
		switch strings.ToLower(answer) {
		case "yes", "y":
			return true, nil
		case "no", "n":
			return false, nil
		}
		g.out.line("Type yes or no.")
	}
}

// choose asks for one of several things by its number, from 1. offered is what an empty line means, 0 for nothing.
func (g *guide) choose(question string, things []string, offered int) (int, error) {
	g.out.line("\n%s\n", question)
	for i, thing := range things {
		g.out.line("  %2d  %s", i+1, thing)
	}
	g.out.line("")
	empty := ""
	if offered > 0 {
		empty = strconv.Itoa(offered)
	}
	for {
		answer, err := g.ask("Number", empty)
		if err != nil {
			return 0, err
		}
		if n, err := strconv.Atoi(answer); err == nil && n >= 1 && n <= len(things) {
			return n, nil
		}
		g.out.line("Type a number from 1 to %d.", len(things))
	}
}
