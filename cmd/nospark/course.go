package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"nospark/grading/evidence"
	"nospark/scenarios/build"
	"nospark/scenarios/chances"
	"nospark/scenarios/course"
	"nospark/scenarios/disk"
	"nospark/scenarios/term"
)

func newCourseCmd() *cobra.Command {
	cmd := &cobra.Command{Use: "course", Short: "Plan the labs of a whole term, and see what they give opportunities " +
		"for"}
	cmd.AddCommand(newCourseNewCmd(), newCourseCheckCmd())
	return cmd
}

func newCourseNewCmd() *cobra.Command {
	o := course.Options{}
	first := ""
	cmd := &cobra.Command{
		Use: "new DIR", Short: "Make a term folder with a plan for every week", Args: args(cobra.ExactArgs(1)),
		Long: `Makes a term folder as nospark new does, with a plan for every week: a guided lab on voltage drop, restricted instruments, open
diagnosis on rotating systems, complaints that come and go, a vehicle with nothing wrong, oscilloscope pictures, and a final. In a
period of 80 minutes and more students have two vehicles a lab, and 15 weeks then give nearly everybody six opportunities of every kind.`,
		Example: "  nospark course new autumn --weeks 15 --period 100 --first 2026-09-07",
		RunE: func(cmd *cobra.Command, list []string) error {
			o.First = time.Now()
			if first != "" {
				var err error
				if o.First, err = time.Parse(time.DateOnly, first); err != nil {
					return usageError{fmt.Errorf("--first %q: want a day like 2026-09-07", first)}
				}
			}
			return newCourse(cmd.Context(), cmd.OutOrStdout(), list[0], o, keptYears(cmd.InOrStdin(),
				cmd.ErrOrStderr()))
		},
	}
	f := cmd.Flags()
	f.IntVar(&o.Weeks, "weeks", 15, "labs, one a week")
	f.IntVar(&o.Minutes, "period", 100, "minutes of a period")
	f.StringVar(&first, "first", "", "day of the first lab (default today)")
	f.StringSliceVar(&o.Sections, "sections", nil, "sections that get plans of their own, like A,B")
	return cmd
}

// newCourse writes a term with its plans. Everything that can be wrong is found before anything is written.
func newCourse(ctx context.Context, out io.Writer, dir string, o course.Options, years int) error {
	for _, s := range o.Sections {
		if err := disk.CheckName("week01-" + s); err != nil {
			return usageError{fmt.Errorf("--sections: %w; it becomes part of the name of a folder", err)}
		}
	}
	plans, err := course.Blueprint(o)
	if err != nil {
		return usageError{err}
	}
	if err := newTerm(ctx, dir, o.First, years); err != nil {
		return err
	}
	for _, p := range plans {
		if err := disk.Write(filepath.Join(dir, "plans", p.Name+".toml"), []byte(p.Text), 0o644); err != nil {
			return err
		}
	}
	start := filepath.Join(dir, "plans", "week01.toml")
	if plans[0].Name != "week01" { // the plan that an empty term begins with
		if err := os.Remove(start); err != nil {
			return err
		}
	}
	w := &writer{out: out}
	w.line("%s is ready, with %d plans in %s.\n", dir, len(plans), filepath.Join(dir, "plans"))
	w.line("  1. put your class into %s (columns id,name,section)", filepath.Join(dir, term.RosterFile))
	w.line("  2. look at %s and the plans; nospark course check %s tells what they give", filepath.Join(dir, term.File),
		dir)
	w.line("  3. nospark build %s\n", filepath.Join(dir, "plans", plans[0].Name+".toml"))
	w.line("Keep a copy of %s in a safe place and give it to nobody: all answers follow from it.",
		filepath.Join(dir, term.KeyFile))
	w.line("Labs and records are kept for %d years (retain_until in %s).", years, filepath.Join(dir, term.File))
	return w.err
}

func newCourseCheckCmd() *cobra.Command {
	wanted := 0
	cmd := &cobra.Command{
		Use: "check TERM", Short: "Tell what the plans of a term give opportunities for, and propose the next week's",
		Args: args(cobra.ExactArgs(1)),
		Long: `Works out every plan of the term (labs that are built as they are, the others as they would be) and tells, for a student of each
section, the opportunities to be expected of each kind, how many different repairs are met, which weeks repeat the one before, and what
cannot be reached. From the records it proposes a plan for what the class has not shown yet. Nothing is written, and nothing is told of
what any sheet hides.`,
		Example: "  nospark course check autumn",
		RunE: func(cmd *cobra.Command, list []string) error {
			if err := noTerm(list[0]); err != nil {
				return err
			}
			bar := newBar(cmd.ErrOrStderr(), "working out the plans")
			c, err := readCourse(cmd.Context(), list[0], bar.set)
			bar.done()
			if err != nil {
				return err
			}
			c.wanted = wanted
			if err := c.tell(cmd.OutOrStdout()); err != nil {
				return err
			}
			return c.propose(cmd.OutOrStdout(), list[0], time.Now().Format(time.DateOnly))
		},
	}
	cmd.Flags().IntVar(&wanted, "wanted", 6, "opportunities that are enough")
	return cmd
}

// plannedCourse is a term's plans as labs.
type plannedCourse struct {
	labs     []course.Lab
	sections [][]string // of each lab; nil: all
	all      []string   // sections of the class
	wanted   int
}

// readCourse works out all plans. A plan that cannot be built stops it: its part of the course would be missing unseen.
func readCourse(ctx context.Context, dir string, progress func(done, total int)) (*plannedCourse, error) {
	plans := plansOf(dir)
	if len(plans) == 0 {
		return nil, fmt.Errorf("%s: has no plans; write one into %s, or begin with: nospark course new DIR", dir,
			filepath.Join(dir, "plans"))
	}
	c := &plannedCourse{}
	var failed []error
	for i, path := range plans {
		progress(i, len(plans))
		in, _, _, err := build.Load(path)
		if err == nil {
			for _, s := range in.Students {
				if !slices.Contains(c.all, s.Section) {
					c.all = append(c.all, s.Section)
				}
			}
			err = c.add(ctx, in)
		}
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil {
			failed = append(failed, err)
		}
	}
	slices.Sort(c.all)
	return c, errors.Join(failed...)
}

// add works out one plan. The cases of a lab do not depend on the key, so those of one that is not built yet are found
// under a key of nobody, for as many students as there are.
func (c *plannedCourse) add(ctx context.Context, in build.Input) error {
	l := in.Previous
	if l == nil {
		in.Key, in.History, in.Seating = term.Key{1}, nil, nil
		var err error
		if l, _, err = build.Lab(ctx, in); err != nil {
			return err
		}
	}
	rows, err := chances.Of(l, func(fault int) bool {
		id := l.Faults[fault].ID
		return !slices.Contains(in.Plan.Exclude, id) && (len(in.Plan.Faults) == 0 || slices.Contains(in.Plan.Faults,
			id))
	}, true)
	if err != nil {
		return err
	}
	planned := course.Lab{Name: l.Name, Date: l.Date, Pack: l.Pack.Name, Vehicles: l.Vehicles,
		Asked: in.Plan.Competency, Rows: rows}
	for _, k := range l.Cases {
		if id := l.Complaints[k.Complaint].ID; !slices.Contains(planned.Complaints, id) {
			planned.Complaints = append(planned.Complaints, id)
		}
	}
	slices.Sort(planned.Complaints)
	c.labs, c.sections = append(c.labs, planned), append(c.sections, in.Plan.Sections)
	return nil
}

// simulated is how many students a course is dealt to.
const simulated = 400

// tell prints what can be expected, section by section where plans differ.
func (c *plannedCourse) tell(out io.Writer) error {
	sections := c.all
	if !slices.ContainsFunc(c.sections, func(s []string) bool { return s != nil }) || len(sections) == 0 {
		sections = []string{""}
	}
	kinds := testKinds()
	w := &writer{out: out}
	for _, section := range sections {
		var labs []course.Lab
		for i, l := range c.labs {
			if c.sections[i] == nil || slices.Contains(c.sections[i], section) {
				labs = append(labs, l)
			}
		}
		f := course.Expect(labs, kinds, c.wanted, simulated)
		if section != "" {
			w.line("Section %s", section)
		}
		w.line("%d labs. Opportunities of a student who misses none, by %d simulated students:", len(labs), simulated)
		w.line("  %-22s %5s %22s %5s", "competency", "mean", fmt.Sprintf("%d or more have", c.wanted), "labs")
		for _, k := range f.Kinds {
			note := ""
			switch {
			case k.Labs == 0:
				note = "  cannot be reached: no lab gives any"
			case k.Most < c.wanted:
				note = fmt.Sprintf("  cannot be reached: at most %d", k.Most)
			case k.Enough < 0.95:
				note = "  few: ask for it, competency = [\"" + k.ID + "\"], or add a lab that gives it"
			}
			w.line("  %-22s %5.1f %20.0f %% %5d%s", k.ID, k.Mean, 100*k.Enough, k.Labs, note)
		}
		w.line("  economy and proof come with every sheet; reasoning and safe-working when you fill in their columns")
		w.line("  different repairs met: %.1f", f.Repairs)
		for _, r := range f.Repeats {
			w.line("  look: %s", r)
		}
	}
	return w.err
}

// testKinds are the competencies that come from tests.
func testKinds() []string {
	var ids []string
	for _, c := range evidence.Table() {
		if !slices.Contains([]string{evidence.Economy, evidence.Proof, evidence.Reasoning, evidence.SafeWorking},
			c.ID) {
			ids = append(ids, c.ID)
		}
	}
	return ids
}

// propose writes down a plan for what the class has had and shown least.
func (c *plannedCourse) propose(out io.Writer, dir, today string) error {
	w := &writer{out: out}
	autumn, _, err := gatherTerm(dir, "", today, nil)
	if err != nil {
		w.line("\nThere are no records yet, so there is nothing to propose from.")
		return w.err
	}
	shown := map[string]int{} // students who meet the count
	had := map[string]int{}
	for i := range autumn.Students {
		for k, x := range autumn.Students[i].Standings {
			id := autumn.Competencies[k].ID
			had[id] += len(x.Opportunities)
			if x.MetInWindow >= autumn.Term.Mastery.Met {
				shown[id]++
			}
		}
	}
	kinds := testKinds()
	slices.SortStableFunc(kinds, func(a, b string) int {
		if shown[a] != shown[b] {
			return shown[a] - shown[b]
		}
		return had[a] - had[b]
	})
	last := autumn.Records[len(autumn.Records)-1]
	text := course.Next(kinds, last.Pack, last.Date)
	w.line("\nShown least so far: %s. A plan for it:\n", strings.Join(kinds[:2], ", "))
	for line := range strings.Lines(text) {
		w.line("  %s", strings.TrimRight(line, "\n"))
	}
	return w.err
}
