package main

import (
	"fmt"
	"path/filepath"
	"slices"

	"nospark/grading"
	"nospark/grading/competency"
	"nospark/scenarios/disk"
	"nospark/scenarios/tabular"
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

// sectionsIn lists the sections of a gradebook of ours, each once. One that is no table any more says nothing.
func sectionsIn(path string) ([]string, error) {
	data, err := disk.Read(path, packLimit)
	if err != nil {
		return nil, err
	}
	t, err := tabular.ReadTable(data, tabular.Options{Separator: ','})
	if err != nil {
		return nil, nil
	}
	id, at := tabular.Find(t.Heading.Cells, []string{"id"}), tabular.Find(t.Heading.Cells, []string{"section"})
	var list []string
	for _, row := range t.Rows {
		if id >= 0 && at >= 0 && row.Cells[id] != "" && !slices.Contains(list, row.Cells[at]) {
			list = append(list, row.Cells[at])
		}
	}
	slices.Sort(list)
	return list, nil
}
