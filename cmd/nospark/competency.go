package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"nospark/grading/competency"
	"nospark/grading/competency/lists"
	"nospark/printouts"
	"nospark/scenarios/disk"
	"nospark/scenarios/term"
)

func newCompetencyCmd() *cobra.Command {
	var records string
	codes := false
	cmd := &cobra.Command{
		Use: "competency TERM", Short: "Sum up the records of a term: who can do what, on how much evidence",
		Args: args(cobra.ExactArgs(1)),
		Long: `Reads all records of the term, what was signed (nospark sign), changed ids from aliases.csv (old,id) and the program's own list of
tasks from tasks.csv (id,parentId,code,statement,type) with taskmap.csv (task,competency,pack,repair), and writes competency.xlsx, coordinator.html and sign-off sheets by section into its
folder. Records of several sections or instructors can be put into one folder; a bad one is named and never stops the rest.`,
		Example: "  nospark competency autumn\n  nospark competency autumn --records shared/records --codes",
		RunE: func(cmd *cobra.Command, list []string) error {
			if err := noTerm(list[0]); err != nil {
				return err
			}
			autumn, path, err := sumUp(cmd.Context(), list[0], records, codes, time.Now().Format(time.DateOnly))
			if err != nil {
				return err
			}
			return tellCompetency(cmd.OutOrStdout(), autumn, path)
		},
	}
	cmd.Flags().StringVar(&records, "records", "", "folder of the records (default TERM/records)")
	cmd.Flags().BoolVar(&codes, "codes", false, "codes instead of names and ids")
	return cmd
}

// gatherTerm reads what a term's folder says about its students; records is the folder of the records, "" for the
// term's own; today is the day after which no signature can be, signs are signatures that are being made.
func gatherTerm(dir, records, today string, signs []lists.SignOff) (*competency.Term, term.Key, error) {
	o := competency.Options{Today: today, SignOffs: signs}
	var termErr, aliasErr error
	o.Term, termErr = term.Read(dir)
	key, keyErr := term.ReadKey(filepath.Join(dir, term.KeyFile))
	o.Key = &key
	aliases := filepath.Join(dir, lists.AliasesFile)
	if _, err := os.Stat(aliases); err == nil {
		o.Aliases, aliasErr = lists.ReadAliases(aliases)
	}
	taskErr := readTaskFiles(dir, &o)
	if err := errors.Join(termErr, keyErr, aliasErr, taskErr); err != nil {
		return nil, key, err
	}
	r, err := readRegister(dir, key)
	if err != nil {
		return nil, key, err
	}
	o.Awards = r.awards
	own := records == ""
	if own {
		records = filepath.Join(dir, recordsFolder)
	}
	autumn, err := competency.Read(records, o)
	if err != nil {
		return nil, key, err
	}
	if autumn.Empty() {
		return nil, key, noRecords(autumn, records)
	}
	autumn.Problems = append(autumn.Problems, r.problems...)
	if own {
		missing, err := missingRecords(dir, autumn)
		if err != nil {
			return nil, key, err
		}
		autumn.Problems = append(autumn.Problems, missing...)
	}
	return autumn, key, nil
}

// readTaskFiles reads the program's own list of tasks, where there is one, and what counts for them.
func readTaskFiles(dir string, o *competency.Options) (err error) {
	list, lines := filepath.Join(dir, lists.TasksFile), filepath.Join(dir, lists.TaskMapFile)
	if !isFile(list) {
		if isFile(lines) {
			return fmt.Errorf("%s: there is no %s beside it, the list of tasks that it speaks of", lines,
				lists.TasksFile)
		}
		return nil
	}
	var mapErr error
	o.Tasks, err = lists.ReadTasks(list)
	if isFile(lines) {
		o.TaskLines, mapErr = lists.ReadTaskMap(lines)
	}
	return errors.Join(err, mapErr)
}

// sumUp reads a term's records and writes its workbook.
func sumUp(ctx context.Context, dir, records string, codes bool, today string) (*competency.Term, string, error) {
	autumn, _, err := gatherTerm(dir, records, today, nil)
	if err != nil {
		return nil, "", err
	}
	if err := tellUnsigned(dir, autumn); err != nil {
		return nil, "", err
	}
	documents := printouts.AtSummary(autumn, !codes)
	held, err := disk.LockShallow(ctx, dir, "competency")
	if err != nil {
		return nil, "", err
	}
	defer held.Unlock()
	return autumn, filepath.Join(dir, documents[0].Name), runAll(ctx, writing(ctx, dir, documents))
}

// noRecords says why nothing can be summed up: no lab was graded, or no record can be used.
func noRecords(autumn *competency.Term, records string) error {
	found := []error{fmt.Errorf("%s: there is no record that counts; grade a lab, or mend these", records)}
	for _, p := range autumn.Problems {
		// without records nothing in the other files has anybody to count for
		if !strings.Contains(p.Place, ".json") && !strings.Contains(p.Place, competency.GatheredEnd) {
			continue
		}
		found = append(found, fmt.Errorf("%s: %s; %s", filepath.Join(records, p.Place), p.What, p.Do))
	}
	if len(found) == 1 {
		return fmt.Errorf("%s: there are no records yet; grade a lab first", records)
	}
	return errors.Join(found...)
}

func tellCompetency(out io.Writer, autumn *competency.Term, path string) error {
	w := &writer{out: out}
	records := "records"
	if len(autumn.Records) == 1 {
		records = "record"
	}
	w.line("%d %s, %d students, %d competencies", len(autumn.Records), records, len(autumn.Students),
		len(autumn.Competencies))
	for _, p := range autumn.Problems {
		w.line("  look: %s: %s; %s", p.Place, p.What, p.Do)
	}
	w.line("%s", path)
	return w.err
}
