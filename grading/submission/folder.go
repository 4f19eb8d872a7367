package submission

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"nospark/scenarios/disk"
)

// ReadFolder reads every entry file of a folder: the instructor's own first, then the other .xlsx, .csv and .tsv
// files by name. What a spreadsheet program leaves behind (lock files, hidden files) is passed over; a file of
// another kind is remarked, and so is one that cannot be opened. The error is for the folder itself. A folder that
// does not exist has no rows: nobody has handed in yet.
func ReadFolder(ctx context.Context, dir string) ([]Row, []Remark, error) {
	files, err := os.ReadDir(dir)
	if os.IsNotExist(err) {
		return nil, nil, nil
	}
	if err != nil {
		return nil, nil, fmt.Errorf("read entries: %w", err)
	}
	slices.SortStableFunc(files, func(a, b os.DirEntry) int {
		return rank(a.Name()) - rank(b.Name()) // ReadDir has sorted by name
	})
	var rows []Row
	var remarks []Remark
	for _, file := range files {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		name := file.Name()
		if file.IsDir() || strings.HasPrefix(name, ".") || strings.HasPrefix(name, "~") {
			continue
		}
		path := filepath.Join(dir, name)
		name = disk.ShowName(name) // from here on it stands in messages only
		more, moreRemarks := readFile(path, name)
		if !IsForm(name) {
			for i := range more {
				more[i].File = name
			}
		}
		rows, remarks = append(rows, more...), append(remarks, moreRemarks...)
	}
	return rows, remarks, nil
}

// rank puts the instructor's own forms first.
func rank(name string) int {
	if IsForm(name) {
		return 0
	}
	return 1
}

// forms are the names of the instructor's own files: entry.xlsx, the forms that later builds add, and a class in
// one file.
var forms = regexp.MustCompile(`(?i)^(entry(-[0-9]+)?|class)\.(xlsx|csv|tsv)$`)

// IsForm tells the instructor's own files, by their names, from those that students handed in.
func IsForm(name string) bool { return forms.MatchString(name) }

// readFile reads one file by what its name says it is.
func readFile(path, name string) ([]Row, []Remark) {
	read := ReadCSV
	switch strings.ToLower(filepath.Ext(name)) {
	case ".csv", ".tsv":
	case ".journal":
		return nil, nil // of the bench, which is read with the key of the lab
	case ".xlsx":
		read = ReadWorkbook
	default:
		return nil, []Remark{{name, "the file is neither .xlsx nor .csv and was not read", "save it as .xlsx or .csv"}}
	}
	data, err := disk.Read(path, maxFileBytes)
	if err != nil {
		return nil, []Remark{{name, disk.ShowName(strings.TrimPrefix(err.Error(), path+": ")),
			"close it in other programs and check the file"}}
	}
	return read(name, data)
}
