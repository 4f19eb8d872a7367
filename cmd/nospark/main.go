// Command nospark turns a plan and a class list into a diagnosis lab and grades it. Each command has a short file here
// that parses its flags, calls the packages below and prints; nothing is decided here.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"nospark/scenarios/disk"
)

func main() {
	// a school of thousands prints for half a minute: from here on memory is collected, not asked for
	debug.SetMemoryLimit(220 << 20)
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second Ctrl-C ends the program at once, whatever it is doing
	code := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

// grace is how long an interrupted command may wind up. What computes longer is left alone: it writes nothing any more.
const grace = 800 * time.Millisecond

// The exit statuses: done, something is wrong with the input, wrong usage.
const (
	exitDone  = 0
	exitInput = 1
	exitUsage = 2
)

// usageError marks an error of the command line itself.
type usageError struct{ error }

func (e usageError) Unwrap() error { return e.error }

// run executes one command line and returns the exit status.
func run(ctx context.Context, args []string, in io.Reader, out, errOut io.Writer) int {
	cobra.MousetrapHelpText = "" // whoever starts the program by a double click is asked what to do
	root := newRootCmd()
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(out)
	root.SetErr(errOut)
	type outcome struct {
		cmd *cobra.Command
		err error
	}
	ended := make(chan outcome, 1)
	go func() {
		cmd, err := root.ExecuteContextC(ctx)
		ended <- outcome{cmd, err}
	}()
	var o outcome
	select {
	case o = <-ended:
	case <-ctx.Done():
		select {
		case o = <-ended:
		case <-time.After(grace):
			o.err = ctx.Err()
		}
	}
	cmd, err := o.cmd, o.err
	var usage usageError
	switch {
	case err == nil:
		return exitDone
	case ctx.Err() != nil:
		fmt.Fprintln(errOut, "nospark: interrupted; nothing half-written is left, run the same command again")
		return exitInput
	case errors.As(err, &usage) || isUsage(err):
		fmt.Fprintf(errOut, "nospark: %s\nRun '%s --help' for usage.\n", disk.ShowName(err.Error()), cmd.CommandPath())
		return exitUsage
	}
	for line := range strings.Lines(err.Error()) {
		fmt.Fprintf(errOut, "nospark: %s\n", disk.ShowName(strings.TrimRight(line, "\n")))
	}
	return exitInput
}

// isUsage recognizes the errors that the command-line library makes itself; it gives them no type.
func isUsage(err error) bool {
	for _, start := range []string{"unknown command", "required flag", "if any flags in the group",
		"at least one of the flags"} {
		if strings.HasPrefix(err.Error(), start) {
			return true
		}
	}
	return false
}

func newRootCmd() *cobra.Command {
	root := &cobra.Command{
		Use:   "nospark",
		Short: "Diagnosis labs for ignition training: builds, prints and grades them",
		Long: `nospark turns one page of plan and a class list into a diagnosis lab: every student gets a sheet with a hidden ignition fault of known
difficulty, readings computed from a simulated circuit, and a grade for both the answer and the route to it.`,
		Example: `  nospark demo demo            a whole invented term to look at
  nospark new term             an empty term folder of your own
  nospark build term/plans/week01.toml
  nospark grade term/labs/week01`,
		SilenceUsage:  true,
		SilenceErrors: true,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if !isPerson(cmd.InOrStdin(), cmd.OutOrStdout()) {
				return cmd.Help()
			}
			return newGuide(cmd).talk()
		},
	}
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return usageError{err} })
	root.AddCommand(newNewCmd(), newBuildCmd(), newReadingCmd(), newReprintCmd(), newServeCmd(), newSoFarCmd(),
		newGradeCmd(), newGradebookCmd(), newCompetencyCmd(), newCourseCmd(), newGatherCmd(), newSignCmd(),
		newAwardCmd(), newExportCmd(), newEraseCmd(),
		newPurgeCmd(), newDemoCmd(), newPackCmd(), newPracticeCmd())
	return root
}

// args makes errors about the number of arguments usage errors.
func args(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(cmd *cobra.Command, list []string) error {
		if check(cmd, list) != nil {
			return usageError{wanting(cmd, list)}
		}
		return nil
	}
}
