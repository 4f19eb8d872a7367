package main

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"nospark/grading/competency"
	"nospark/scenarios/disk"
	"nospark/scenarios/term"
)

// departmentKey is the file of the key under which a department's pseudonyms are made.
const departmentKey = "department.key"

func newGatherCmd() *cobra.Command {
	var key, out string
	makeKey := false
	cmd := &cobra.Command{
		Use: "gather TERM", Short: "Pack a term's records for the department: pseudonyms, no hidden faults, signed",
		Args: args(cobra.ExactArgs(1)),
		Long: `Writes one file with the records and awards of the term, to be mailed to the coordinator: students, sheets and faults under
pseudonyms of the department's key, no name, no reason and no fault in words, signed with the instructor's key, which follows from
term.key. It prints the lines by which the department's term.toml lists the instructor; the file goes into the department's folder of
records. What was changed on the way, or is signed with a key that is not listed, counts for nothing there.
The coordinator makes the department's key once, with --new-key, and gives it to the instructors.`,
		Example: "  nospark gather department --new-key\n  nospark gather autumn --key department.key --out " +
			"quill.gathered",
		RunE: func(cmd *cobra.Command, list []string) error {
			w := &writer{out: cmd.OutOrStdout()}
			if err := noTerm(list[0]); err != nil {
				return err
			}
			if makeKey {
				return newDepartmentKey(w, list[0])
			}
			if key == "" || out == "" {
				return usageError{errors.New("--key and --out are needed: the department's key, and the file to write")}
			}
			return gatherTo(cmd.Context(), w, list[0], key, out)
		},
	}
	f := cmd.Flags()
	f.StringVar(&key, "key", "", "the department's key, a file")
	f.StringVar(&out, "out", "", "file to write; its name ends with "+competency.GatheredEnd)
	f.BoolVar(&makeKey, "new-key", false, "make the department's key in TERM, which is the coordinator's own folder")
	cmd.MarkFlagsMutuallyExclusive("new-key", "out")
	return cmd
}

// newDepartmentKey makes the key once: with another one every student would be somebody else.
func newDepartmentKey(w *writer, dir string) error {
	path := filepath.Join(dir, departmentKey)
	if _, err := os.Stat(path); err == nil {
		return fmt.Errorf("%s: is there already; with another one all pseudonyms would change", path)
	}
	key, err := term.NewKey(rand.Reader)
	if err != nil {
		return err
	}
	if err := term.WriteKey(path, key); err != nil {
		return err
	}
	w.line("%s is for the instructors of the department and nobody else: whoever has it can try which id a pseudonym "+
		"stands for.", path)
	return w.err
}

func gatherTo(ctx context.Context, w *writer, dir, keyFile, out string) error {
	if filepath.Ext(out) != competency.GatheredEnd {
		return usageError{fmt.Errorf("--out %s: the name ends with %s", out, competency.GatheredEnd)}
	}
	department, err := term.ReadKey(keyFile)
	if err != nil {
		return err
	}
	if _, err := os.Stat(out); err == nil {
		return fmt.Errorf("%s: exists already; give another name with --out", out)
	} else if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	autumn, key, err := gatherTerm(dir, "", time.Now().Format(time.DateOnly), nil)
	if err != nil {
		return err
	}
	if department == key {
		return fmt.Errorf("%s: is the key of the term itself, from which all answers follow; the department has a "+
			"key of its own", keyFile)
	}
	for _, p := range autumn.Problems {
		w.line("  look: %s: %s; %s", p.Place, p.What, p.Do)
	}
	data, err := autumn.GatherRecords(key, department)
	if err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := disk.Write(out, data, forInstructor); err != nil {
		return err
	}
	w.line("%d records in %s. The department's term.toml lists its signer:\n", len(autumn.Records), out)
	name := autumn.Term.Place.Instructor
	if name == "" {
		name = "your name"
	}
	w.line("[[source]]\nname = %q\nkey = %q", name, competency.PublicText(key))
	return w.err
}
