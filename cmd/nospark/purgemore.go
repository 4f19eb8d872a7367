package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"nospark/grading/competency"
	"nospark/grading/competency/lists"
	"nospark/grading/evidence"
	"nospark/scenarios/disk"
	"nospark/scenarios/term"
)

// gatheredIn lists the files of gathered records in a term: its own, and those that a department was sent.
func gatheredIn(dir string) []string {
	var list []string
	for _, at := range []string{dir, filepath.Join(dir, recordsFolder)} {
		found, _ := filepath.Glob(filepath.Join(escaped(at), "*"+competency.GatheredEnd)) // the pattern is sound
		list = append(list, found...)
	}
	return list
}

// followers lists what goes with labs and records: what was made from records always, as nospark competency makes it
// anew from those that stay; class list, signatures, a form to sign and awards when nothing is left that needs them,
// also where an earlier purge was interrupted before they went.
func followers(dir, day string, old []string) ([]string, error) {
	needed, err := stillNeeded(dir, day, old)
	if err != nil || needed && len(old) == 0 {
		return nil, err
	}
	names := slices.Clone(summaries)
	if !needed {
		names = append(names, lists.SignBook, term.RosterFile, lists.AliasesFile, lists.SignOffsFile, lists.AwardsFile,
			lists.AwardsSeal)
	}
	var list []string
	for _, name := range names {
		found, err := filepath.Glob(filepath.Join(escaped(dir), name))
		if err != nil {
			return nil, err
		}
		list = append(list, found...)
	}
	return list, nil
}

// stillNeeded tells that a lab or a record stays, or that a plan is for a later day.
func stillNeeded(dir, day string, old []string) (bool, error) {
	for _, plan := range plansOf(dir) {
		text, err := disk.Read(plan, term.SourceLimit)
		if err != nil {
			return false, err
		}
		p, err := term.ParsePlan(plan, string(text))
		if err != nil || p.Date >= day { // a plan that cannot be read says no day that could be trusted
			return true, nil
		}
	}
	for _, at := range []string{term.LabsFolder, recordsFolder} {
		files, err := os.ReadDir(filepath.Join(dir, at))
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return false, err
		}
		for _, f := range files {
			if !strings.HasPrefix(f.Name(), ".") && !slices.Contains(old, filepath.Join(dir, at, f.Name())) {
				return true, nil
			}
		}
	}
	return false, nil
}

// keepResidue counts the records that are about to go, before they do.
func keepResidue(dir string, old []string) error {
	var records []*evidence.Record
	for _, path := range old {
		if filepath.Base(filepath.Dir(path)) != recordsFolder || filepath.Ext(path) != ".json" {
			continue
		}
		data, err := disk.Read(path, evidence.LargestRecord)
		if err != nil {
			return err
		}
		r, err := evidence.Decode(path, data)
		if err != nil {
			return err
		}
		records = append(records, r)
	}
	if len(records) == 0 {
		return nil
	}
	path := filepath.Join(dir, competency.ResidueFile)
	before, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	data, err := competency.AddResidue(before, records)
	if err != nil {
		return errors.New(path + ": " + err.Error())
	}
	return disk.Write(path, data, forInstructor)
}
