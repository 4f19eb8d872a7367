package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"nospark/grading/competency"
	"nospark/grading/competency/lists"
	"nospark/scenarios/disk"
	"nospark/scenarios/roster"
	"nospark/scenarios/spelling"
)

// awardOptions say what a person decides.
type awardOptions struct {
	all, withdraw       bool
	student, competency string
	because             string
}

func newAwardCmd() *cobra.Command {
	var o awardOptions
	cmd := &cobra.Command{
		Use: "award TERM", Short: "Write who is competent into the term's register of awards",
		Args: args(cobra.ExactArgs(1)),
		Long: `Shows who is competent by the rule and has no award, and whose award the rule would not give now. With
--all, or with --student and --competency, it adds awards to TERM/awards.csv: each frozen with its date, rule, evidence and a
hash that chains it to those before it. Nothing in the register is ever changed; --withdraw adds a line that takes one back.`,
		Example: "  nospark award autumn\n  nospark award autumn --all\n  nospark award autumn --withdraw " +
			"--student 1001 --competency proof --because \"copied\"",
		RunE: func(cmd *cobra.Command, list []string) error {
			if err := o.check(); err != nil {
				return usageError{err}
			}
			return award(cmd.Context(), cmd.OutOrStdout(), list[0], o, time.Now().Format(time.DateOnly))
		},
	}
	f := cmd.Flags()
	f.BoolVar(&o.all, "all", false, "award everything that is proposed")
	f.BoolVar(&o.withdraw, "withdraw", false, "take an award back")
	f.StringVar(&o.student, "student", "", "id of one student")
	f.StringVar(&o.competency, "competency", "", "id of one competency")
	f.StringVar(&o.because, "because", "", "with --withdraw: the reason")
	cmd.MarkFlagsMutuallyExclusive("all", "withdraw")
	cmd.MarkFlagsMutuallyExclusive("all", "student")
	cmd.MarkFlagsRequiredTogether("student", "competency")
	cmd.MarkFlagsRequiredTogether("withdraw", "because")
	return cmd
}

func (o awardOptions) check() error {
	if o.withdraw && o.student == "" {
		return errors.New("--student and --competency are missing: whose award is withdrawn")
	}
	return nil
}

// award proposes, or writes what was decided.
func award(ctx context.Context, out io.Writer, dir string, o awardOptions, today string) error {
	if err := noTerm(dir); err != nil {
		return err
	}
	held, err := disk.LockShallow(ctx, dir, "award")
	if err != nil {
		return err
	}
	defer held.Unlock()
	term, key, err := gatherTerm(dir, "", today, nil)
	if err != nil {
		return err
	}
	propose, look := term.Proposals()
	hint := ""
	o.student, hint = meantStudent(term, o.student)
	w := &writer{out: out}
	var lines []lists.Award
	switch {
	case o.withdraw:
		lines, err = withdrawal(term, o, hint)
	case o.all || o.student != "":
		for _, p := range propose {
			if o.all || p.Award.Student == o.student && p.Award.Competency == o.competency {
				lines = append(lines, p.Award)
			}
		}
		if len(lines) == 0 && !o.all {
			err = fmt.Errorf("student %q is not competent in %q by the rule, or has the award%s; nospark award %s "+
				"shows what is proposed",
				o.student, o.competency, hint, dir)
		}
	default:
		for _, p := range propose {
			w.line("  award  %-12s %-24s %s", p.Award.Student, p.Award.Competency, p.Award.Evidence)
		}
		for _, p := range look {
			w.line("  look   %-12s %-24s awarded, and by the rule not any more", p.Award.Student, p.Award.Competency)
		}
		w.line("%d to award, %d to look at; nothing is written without --all, or --student and --competency",
			len(propose), len(look))
		if n := toSign(term); n > 0 {
			w.line("%d with the evidence there wait for a signature: nospark sign %s", n, dir)
		}
		return w.err
	}
	if err != nil {
		return err
	}
	for i := range lines {
		lines[i].Date = today
	}
	n, err := addAwards(dir, key, lines)
	if err != nil {
		return err
	}
	w.line("%d added to %s, which has %d", len(lines), filepath.Join(dir, lists.AwardsFile), n)
	return w.err
}

// toSign counts what lacks the signature alone.
func toSign(term *competency.Term) int {
	n := 0
	for i := range term.Students {
		for _, x := range term.Students[i].Standings {
			if x.Status == competency.ToSign {
				n++
			}
		}
	}
	return n
}

// withdrawal is the line that takes an award back. It names who is meant by the register, not by the rule.
func withdrawal(term *competency.Term, o awardOptions, hint string) ([]lists.Award, error) {
	for i := range term.Students {
		for c := range term.Competencies {
			if term.Students[i].ID == o.student && term.Competencies[c].ID == o.competency &&
				term.Students[i].Standings[c].Award != nil {
				return []lists.Award{{Student: o.student, Competency: o.competency, What: lists.Withdrawn,
					Rule: o.because}}, nil
			}
		}
	}
	return nil, fmt.Errorf("student %q has no award in %q%s", o.student, o.competency, hint)
}

// meantStudent is the student whom an id means, also one without its leading zeros, and for an id that nobody has whom
// it may mean.
func meantStudent(term *competency.Term, id string) (meant, hint string) {
	var ids []string
	for i := range term.Students {
		ids = append(ids, term.Students[i].ID)
	}
	if id == "" || slices.Contains(ids, id) {
		return id, ""
	}
	if own, same := roster.SameIDs([]string{id}, ids)[id]; same {
		return own, ""
	}
	return id, spelling.Ask(id, ids)
}
