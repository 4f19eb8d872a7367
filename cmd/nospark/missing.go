package main

import (
	"fmt"
	"path/filepath"
	"slices"

	"nospark/grading"
	"nospark/grading/competency"
)

// missingRecords tells of sections that were graded, by the gradebook in their lab's folder, and have no record among
// those of the term: without a word the section would just be behind.
func missingRecords(dir string, autumn *competency.Term) ([]grading.Problem, error) {
	var list []grading.Problem
	for _, folder := range labsOf(dir) {
		path := filepath.Join(folder, "graded", "gradebook.csv")
		if !isFile(path) {
			continue
		}
		sections, err := sectionsIn(path)
		if err != nil {
			return nil, err
		}
		for _, section := range sections {
			if autumn.HasRecord(filepath.Base(folder), section) {
				continue
			}
			what := fmt.Sprintf("section %q was graded, and there is no record of it that counts", section)
			if section == "" {
				what = "it was graded, and there is no record of it that counts"
			}
			list = append(list, grading.Problem{Place: filepath.Base(folder), What: what, Do: "nospark grade " +
				folder + " writes it anew"})
		}
	}
	return list, nil
}

// sectionsIn lists the sections of a gradebook of ours, each once.
func sectionsIn(path string) ([]string, error) {
	var list []string
	err := eachRow(path, "section", func(id, section string) {
		if id != "" && !slices.Contains(list, section) {
			list = append(list, section)
		}
	})
	slices.Sort(list)
	return list, err
}
