package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"nospark/grading/competency"
	"nospark/printouts"
	"nospark/scenarios/disk"
	"nospark/scenarios/term"
)

func newCompetencyCmd() *cobra.Command {
	var records string
	codes := false
	cmd := &cobra.Command{
		Use: "competency TERM", Short: "Sum up the records of a term: who can do what, on how much evidence", Args: args(cobra.ExactArgs(1)),
		Long: `Reads all records of the term, and sign-offs from signoffs.csv (id,competency,date,by), and writes competency.xlsx and sign-off
sheets by section into its folder. Records of
several sections or instructors can be put into one folder; a bad one is named and never stops the rest.`,
		Example: "  nospark competency autumn\n  nospark competency autumn --records shared/records --codes",
		RunE: func(cmd *cobra.Command, list []string) error {
			if err := noTerm(list[0]); err != nil {
				return err
			}
			term, path, err := sumUp(cmd.Context(), list[0], records, codes, time.Now().Format(time.DateOnly))
			if err != nil {
				return err
			}
			return tellCompetency(cmd.OutOrStdout(), term, path)
		},
	}
	cmd.Flags().StringVar(&records, "records", "", "folder of the records (default TERM/records)")
	cmd.Flags().BoolVar(&codes, "codes", false, "codes instead of names and ids")
	return cmd
}

// sumUp reads a term's records and writes its workbook.
func sumUp(ctx context.Context, dir, records string, codes bool, today string) (*competency.Term, string, error) {
	o := competency.Options{Today: today}
	var termErr, keyErr, signErr error
	o.Term, termErr = term.Read(dir)
	key, keyErr := term.ReadKey(filepath.Join(dir, term.KeyFile))
	o.Key = &key
	signs := filepath.Join(dir, competency.SignOffsFile)
	if _, err := os.Stat(signs); err == nil {
		o.SignOffs, signErr = competency.ReadSignOffs(signs)
	}
	if err := errors.Join(termErr, keyErr, signErr); err != nil {
		return nil, "", err
	}
	if records == "" {
		records = filepath.Join(dir, recordsFolder)
	}
	term, err := competency.Read(records, o)
	if err != nil {
		return nil, "", err
	}
	if term.Empty() {
		return nil, "", noRecords(term, records)
	}
	documents := printouts.AtSummary(term, !codes)
	held, err := disk.LockShallow(ctx, dir, "competency")
	if err != nil {
		return nil, "", err
	}
	defer held.Unlock()
	return term, filepath.Join(dir, documents[0].Name), runAll(ctx, writing(ctx, dir, documents))
}

// noRecords says why nothing can be summed up: no lab was graded, or no record can be used.
func noRecords(term *competency.Term, records string) error {
	if len(term.Problems) == 0 {
		return fmt.Errorf("%s: there are no records yet; grade a lab first", records)
	}
	var found []error
	for _, p := range term.Problems {
		found = append(found, fmt.Errorf("%s: %s; %s", filepath.Join(records, p.Place), p.What, p.Do))
	}
	return errors.Join(found...)
}

func tellCompetency(out io.Writer, term *competency.Term, path string) error {
	w := &writer{out: out}
	records := "records"
	if len(term.Records) == 1 {
		records = "record"
	}
	w.line("%d %s, %d students, %d competencies", len(term.Records), records, len(term.Students), len(term.Competencies))
	for _, p := range term.Problems {
		w.line("  look: %s: %s; %s", p.Place, p.What, p.Do)
	}
	w.line("%s", path)
	return w.err
}
