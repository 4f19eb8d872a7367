package main

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"nospark/grading/attempt"
	"nospark/printouts"
	"nospark/printouts/handouts"
	"nospark/printouts/wording"
	"nospark/scenarios/disk"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

func newSoFarCmd() *cobra.Command {
	return &cobra.Command{
		Use: "print-so-far LAB", Short: "Print what the bench has recorded, to go on on paper",
		Args: args(cobra.ExactArgs(1)),
		Long: `Writes LAB/handouts/so-far.pdf: for each sheet on which something was committed, the steps with their readings. It shows no reading that
its student has not seen. Whoever goes on on paper writes "from step 5", or whichever step comes next, and so does the entry form before
its first step. It works while the lab is being served, and after.`,
		Example: "  nospark print-so-far labs/week05",
		RunE: func(cmd *cobra.Command, list []string) error {
			g, err := openLab(list[0])
			if err != nil {
				return err
			}
			g.notes = nil // about records, which are not kept here
			bench, err := g.readBench(list[0])
			if err != nil {
				return err
			}
			for _, note := range g.notes {
				fmt.Fprintf(cmd.ErrOrStderr(), "nospark: %s\n", disk.ShowName(note))
			}
			return printSoFar(cmd, list[0], g.lab, bench.Room)
		},
	}
}

func printSoFar(cmd *cobra.Command, folder string, l *lab.Lab, room *attempt.Room) error {
	h, err := handout.Of(l)
	if err != nil {
		return err
	}
	var records []handouts.SoFar
	for i := range l.Sheets {
		if a := room.Of(l.Sheets[i].Code); a.Begun() {
			records = append(records, soFarOf(l, &l.Sheets[i], h.Worksheets[i], a))
		}
	}
	w := &writer{out: cmd.OutOrStdout()}
	if len(records) == 0 {
		w.line("nothing has been committed in %s; go on on the worksheets as they are", folder)
		return w.err
	}
	file, err := printouts.SoFar(h, records)
	if err != nil {
		return err
	}
	if err := writeDocuments(folder, []printouts.File{file}); err != nil {
		return err
	}
	w.line("%s: %s", filepath.Join(folder, filepath.FromSlash(file.Path)), wording.Count(len(records), "sheet",
		"sheets"))
	return w.err
}

// soFarOf is what a student has done and seen.
func soFarOf(l *lab.Lab, s *lab.Sheet, w handout.Worksheet, a *attempt.Attempt) handouts.SoFar {
	if w.Student == "" {
		w.Student, w.Name = a.Student, a.Name
	}
	r := handouts.SoFar{Worksheet: w, Concluded: a.Conclusion.Repair}
	place := map[string]int{}
	for t := range l.Tests {
		place[l.Tests[t].ID] = t
	}
	for _, done := range a.Steps {
		t, known := place[done.Test]
		if !known {
			continue
		}
		line := s.Lines[t]
		r.Steps = append(r.Steps, handouts.DoneStep{Test: l.TestName(t), Expected: done.Expect, RulesOut: done.RulesOut,
			Line: wording.Line(line.Number) + line.Letters, Reading: wording.Join(", ", line.Reading, line.Beside),
			Judged:  map[attempt.Verdict]string{attempt.Good: "+", attempt.Bad: "-"}[done.Good],
			Minutes: l.Tests[t].Minutes, Void: done.Void})
	}
	return r
}
