package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"
	xterm "golang.org/x/term"

	"nospark/grading"
	"nospark/grading/competency"
	"nospark/grading/competency/lists"
	"nospark/grading/submission"
	"nospark/printouts"
	"nospark/scenarios/disk"
	"nospark/scenarios/tabular"
)

func newSignCmd() *cobra.Command {
	from, yes := "", false
	cmd := &cobra.Command{
		Use: "sign TERM", Short: "Sign who is competent: a form to fill in, then check it and sign it with the " +
			"term's key",
		Args: args(cobra.ExactArgs(1)),
		Long: `Writes TERM/to-sign.xlsx, on which everything stands already that has the evidence and lacks the signature alone. With --from it
reads that form when it is filled in, or a list with the columns id, competency, date and by, shows every line, checks it (the evidence
is there, the day is not before it and not in the future, the name may sign) and, after a yes, adds the good ones to the register of
awards under the term's key. A bad line is told and holds up no other.`,
		Example: "  nospark sign autumn\n  nospark sign autumn --from autumn/to-sign.xlsx",
		RunE: func(cmd *cobra.Command, list []string) error {
			if err := noTerm(list[0]); err != nil {
				return err
			}
			s := signing{dir: list[0], today: time.Now().Format(time.DateOnly), out: &writer{out: cmd.OutOrStdout()}}
			if from == "" {
				return s.form(cmd.Context())
			}
			return s.sign(cmd.Context(), from, func() bool {
				return yes || agreed(cmd.InOrStdin(), cmd.ErrOrStderr(), "Sign these lines? Type yes to do so. ")
			})
		},
	}
	cmd.Flags().StringVar(&from, "from", "", "the form filled in, or a CSV file")
	cmd.Flags().BoolVar(&yes, "yes", false, "with --from: sign without asking")
	return cmd
}

// agreed asks at a terminal; without one nobody agrees.
func agreed(in io.Reader, out io.Writer, question string) bool {
	f, isFile := in.(*os.File)
	if !isFile || !xterm.IsTerminal(int(f.Fd())) {
		return false
	}
	fmt.Fprint(out, question)
	answer, _ := bufio.NewReader(in).ReadString('\n') // no answer is no yes
	return strings.TrimSpace(answer) == "yes"
}

// signing is one run of the command.
type signing struct {
	dir, today string
	out        *writer
}

// readSigns reads a form or a list. A file that cannot be read at all is an error, a line a problem.
func readSigns(path string) ([]lists.SignOff, []grading.Problem, error) {
	data, err := disk.Read(path, packLimit)
	if err != nil {
		return nil, nil, err
	}
	name := filepath.Base(path)
	var rows []tabular.Row
	if bytes.HasPrefix(data, []byte("PK")) || bytes.HasPrefix(data, []byte{0xd0, 0xcf}) {
		cells, err := submission.Worksheet(data, lists.SignSheet)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", path, err)
		}
		for i, c := range cells {
			rows = append(rows, tabular.Row{Line: i + 1, Cells: c})
		}
		list, look := lists.ParseSignOffs(name, rows)
		return list, look, nil
	}
	text, err := tabular.Read(data, tabular.Options{Known: lists.IsSignHeading})
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", path, err)
	}
	list, look := lists.ParseSignOffs(name, text.Rows)
	for _, f := range text.Findings {
		look = append(look, grading.Problem{Place: fmt.Sprintf("%s:%d", name, f.Line), What: f.What,
			Do: "correct the line"})
	}
	return list, look, nil
}

// openSigns reads which lines of a list are not in the register yet, as signatures or as something to look at.
func openSigns(path string, autumn *competency.Term) (open []lists.SignOff, look []grading.Problem, err error) {
	list, look, err := readSigns(path)
	if err != nil {
		return nil, nil, err
	}
	for _, s := range list {
		if x := autumn.Find(s.Student, s.Competency); x == nil || x.Award == nil {
			open = append(open, s)
		}
	}
	return open, look, nil
}

// form writes what may be signed. A form in which somebody has written is not written over.
func (s signing) form(ctx context.Context) error {
	autumn, _, err := gatherTerm(s.dir, "", s.today, nil)
	if err != nil {
		return err
	}
	held, err := disk.LockShallow(ctx, s.dir, "sign")
	if err != nil {
		return err
	}
	defer held.Unlock()
	path := filepath.Join(s.dir, lists.SignBook)
	if isFile(path) {
		open, look, err := openSigns(path, autumn)
		if err != nil {
			return fmt.Errorf("%w; move the file away, and a new one is written", err)
		}
		if n := len(open) + len(look); n > 0 {
			return fmt.Errorf("%s: %d lines are filled in and not signed yet; first: nospark sign %s --from %s, or "+
				"move the file away",
				path, n, s.dir, path)
		}
	}
	if err := runAll(ctx, writing(ctx, s.dir, printouts.AtSigning(autumn, s.today))); err != nil {
		return err
	}
	n := toSign(autumn)
	s.out.line("%d to sign in %s", n, path)
	if n > 0 {
		s.out.line("fill it in, then: nospark sign %s --from %s", s.dir, path)
	}
	return s.out.err
}

// sign shows and checks a list and adds what is sound to the register.
func (s signing) sign(ctx context.Context, from string, agreed func() bool) error {
	list, look, err := readSigns(from)
	if err != nil {
		return err
	}
	held, err := disk.LockShallow(ctx, s.dir, "sign")
	if err != nil {
		return err
	}
	defer held.Unlock()
	autumn, key, err := gatherTerm(s.dir, "", s.today, list)
	if err != nil {
		return err
	}
	lines, already, more := autumn.Signable(list)
	look = append(look, more...)
	for _, l := range lines {
		s.out.line("  sign  %-12s %-24s %s  %-6s %s", l.Student, l.Competency, l.Date, l.By, l.Evidence)
	}
	for _, p := range look {
		s.out.line("  look  %s: %s; %s", p.Place, p.What, p.Do)
	}
	s.out.line("%d to sign, %d to look at, %d signed already", len(lines), len(look), already)
	if len(lines) == 0 {
		return s.out.err
	}
	if !agreed() {
		s.out.line("nothing was signed; at a terminal this asks, and --yes says it beforehand")
		return s.out.err
	}
	n, err := addAwards(s.dir, key, lines)
	if err != nil {
		return err
	}
	s.out.line("%d signed; %s has %d lines", len(lines), filepath.Join(s.dir, lists.AwardsFile), n)
	autumn, _, err = gatherTerm(s.dir, "", s.today, nil)
	if err != nil {
		return err
	}
	s.out.line("%s", filepath.Join(s.dir, printouts.AtSummary(autumn, true)[0].Name))
	if err := runAll(ctx, writing(ctx, s.dir, printouts.AtSummary(autumn, true))); err != nil {
		return err
	}
	return s.out.err
}

// tellUnsigned tells of lines of the term's list and form that nobody has signed: as they are they count for nothing.
func tellUnsigned(dir string, autumn *competency.Term) error {
	for _, name := range []string{lists.SignOffsFile, lists.SignBook} {
		path := filepath.Join(dir, name)
		if !isFile(path) {
			continue
		}
		open, look, err := openSigns(path, autumn)
		if err != nil {
			look = append(look, grading.Problem{Place: name, What: err.Error()})
		}
		if n := len(open) + len(look); n > 0 {
			autumn.Problems = append(autumn.Problems, grading.Problem{Place: name,
				What: fmt.Sprintf("%d lines are not signed and count for nothing yet", n),
				Do:   fmt.Sprintf("nospark sign %s --from %s", dir, path)})
		}
	}
	return nil
}
