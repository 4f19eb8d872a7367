package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"nospark/grading/competency"
	"nospark/printouts"
	"nospark/printouts/coordinator"
	"nospark/printouts/workbook/rollup"
	"nospark/scenarios"
	"nospark/scenarios/disk"
)

func newCompetencyCmd() *cobra.Command {
	var records string
	codes := false
	cmd := &cobra.Command{
		Use: "competency TERM", Short: "Sum up the records of a term: who can do what, on how much evidence",
		Args: args(cobra.ExactArgs(1)),
		Long: `Reads all records of the term, sign-offs from signoffs.csv (id,competency,date,by) and changed ids from
aliases.csv (old,id), and writes competency.xlsx, coordinator.html and sign-off sheets by section into its
folder. Records of several sections or instructors can be put into one folder; a bad one is named and never stops the rest.`,
		Example: "  nospark competency autumn\n  nospark competency autumn --records shared/records --codes",
		RunE: func(cmd *cobra.Command, list []string) error {
			if err := noTerm(list[0]); err != nil {
				return err
			}
			term, path, err := sumUp(cmd.Context(), list[0], records, codes)
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

// gatherTerm reads what a term's folder says about its students; records is the folder of the records, "" for the
// term's own.
func gatherTerm(dir, records string) (*competency.Term, scenarios.Key, error) {
	o := competency.Options{}
	var termErr, signErr, aliasErr error
	o.Term, termErr = scenarios.ReadTerm(dir)
	key, keyErr := scenarios.ReadKey(filepath.Join(dir, scenarios.KeyFile))
	o.Key = &key
	signs := filepath.Join(dir, competency.SignOffsFile)
	if _, err := os.Stat(signs); err == nil {
		o.SignOffs, signErr = competency.ReadSignOffs(signs)
	}
	aliases := filepath.Join(dir, competency.AliasesFile)
	if _, err := os.Stat(aliases); err == nil {
		o.Aliases, aliasErr = competency.ReadAliases(aliases)
	}
	if err := errors.Join(termErr, keyErr, signErr, aliasErr); err != nil {
		return nil, key, err
	}
	path := filepath.Join(dir, competency.AwardsFile)
	if data, err := os.ReadFile(path); err == nil {
		if o.Awards, err = competency.ParseAwards(path, data, key); err != nil {
			return nil, key, err
		}
	}
	if records == "" {
		records = filepath.Join(dir, recordsFolder)
	}
	term, err := competency.Read(records, o)
	if err != nil {
		return nil, key, err
	}
	if term.Empty() {
		return nil, key, noRecords(term, records)
	}
	return term, key, nil
}

// sumUp reads a term's records and writes its workbook.
func sumUp(ctx context.Context, dir, records string, codes bool) (*competency.Term, string, error) {
	term, _, err := gatherTerm(dir, records)
	if err != nil {
		return nil, "", err
	}
	name := "competency.xlsx"
	if codes {
		name = "competency-codes.xlsx"
	}
	outputs := []output{{name, func() ([]byte, error) {
		return rollup.Workbook(term, rollup.Options{Names: !codes})
	}}}
	outputs = append(outputs, output{"coordinator.html", func() ([]byte, error) { return coordinator.Page(term) }})
	if !codes {
		for _, section := range term.Sections() {
			outputs = append(outputs, output{"sign-offs" + dashed(section) + ".pdf", func() ([]byte, error) {
				return printouts.SignOffs(term, term.Section(section))
			}})
		}
	}
	held, err := disk.LockShallow(ctx, dir, "competency")
	if err != nil {
		return nil, "", err
	}
	defer held.Unlock()
	return term, filepath.Join(dir, name), writeAll(ctx, dir, outputs)
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

// dashed makes a section's name the end of a file name.
func dashed(section string) string {
	if section == "" {
		return ""
	}
	return "-" + disk.EscapeName(section)
}

func tellCompetency(out io.Writer, term *competency.Term, path string) error {
	w := &writer{out: out}
	records := "records"
	if len(term.Records) == 1 {
		records = "record"
	}
	w.line("%d %s, %d students, %d competencies", len(term.Records), records, len(term.Students),
		len(term.Competencies))
	for _, p := range term.Problems {
		w.line("  look: %s: %s; %s", p.Place, p.What, p.Do)
	}
	w.line("%s", path)
	return w.err
}
