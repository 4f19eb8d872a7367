package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"nospark/grading"
	"nospark/grading/competency/lists"
	"nospark/scenarios/disk"
	"nospark/scenarios/term"
)

// register is the term's register of awards as it lies on the disk.
type register struct {
	data     []byte
	awards   []lists.Award
	problems []grading.Problem
}

// readRegister reads the register and checks every line of it, and where it ends. A register without its seal is told:
// a term of before there was one, or somebody who took it away with the lines at the end.
func readRegister(dir string, key term.Key) (r register, err error) {
	path := filepath.Join(dir, lists.AwardsFile)
	seal, sealErr := os.ReadFile(filepath.Join(dir, lists.AwardsSeal))
	if sealErr != nil && !errors.Is(sealErr, fs.ErrNotExist) {
		return r, sealErr
	}
	r.data, err = disk.Read(path, packLimit)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return r, err
	}
	if err == nil {
		if r.awards, err = lists.ParseAwards(path, r.data, key); err != nil {
			return r, err
		}
	}
	switch {
	case sealErr == nil:
		return r, lists.CheckEnd(path, r.awards, string(seal), key)
	case len(r.awards) > 0:
		r.problems = append(r.problems, grading.Problem{Place: lists.AwardsFile,
			What: lists.AwardsSeal + " is missing, so lines cut off at the end would not be noticed",
			Do:   "look whether its last lines are the last that you have signed; the next award writes the seal"})
	}
	return r, nil
}

// addAwards appends to the register and tells how many lines it has then. The seal names both ends while the register
// is being written, so that an interrupted run leaves nothing that looks cut off.
func addAwards(dir string, key term.Key, lines []lists.Award) (int, error) {
	r, err := readRegister(dir, key)
	if err != nil {
		return 0, err
	}
	path, sealPath := filepath.Join(dir, lists.AwardsFile), filepath.Join(dir, lists.AwardsSeal)
	data, err := lists.AddAwards(path, r.data, key, lines)
	if err != nil {
		return 0, err
	}
	now, err := lists.ParseAwards(path, data, key)
	if err != nil {
		return 0, err
	}
	before, after := lists.SealOf(r.awards, key), lists.SealOf(now, key)
	for _, f := range []disk.File{{Path: sealPath, Data: []byte(before + after)}, {Path: path, Data: data},
		{Path: sealPath, Data: []byte(after)}} {
		if err := disk.Write(f.Path, f.Data, forInstructor); err != nil {
			return 0, err
		}
	}
	return len(now), nil
}
