package submission

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// ReadFolder reads every entry file of a folder: entry.xlsx first, then the other .xlsx, .csv and .tsv files by name. What a spreadsheet
// program leaves behind (lock files, hidden files) is passed over; a file of another kind is remarked, and so is one that cannot be
// opened. The error is for the folder itself. A folder that does not exist has no rows: nobody has handed in yet.
func ReadFolder(dir string) ([]Row, []Remark, error) {
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
		name := file.Name()
		if file.IsDir() || strings.HasPrefix(name, ".") || strings.HasPrefix(name, "~") {
			continue
		}
		more, moreRemarks := readFile(filepath.Join(dir, name), name)
		rows, remarks = append(rows, more...), append(remarks, moreRemarks...)
	}
	return rows, remarks, nil
}

func rank(name string) int {
	if strings.EqualFold(name, "entry.xlsx") {
		return 0
	}
	return 1
}

func readFile(path, name string) ([]Row, []Remark) {
	read := ReadCSV
	switch strings.ToLower(filepath.Ext(name)) {
	case ".csv", ".tsv":
	case ".xlsx":
		read = ReadWorkbook
	default:
		return nil, []Remark{{name, "the file is neither .xlsx nor .csv and was not read", "save it as .xlsx or .csv"}}
	}
	data, err := readBounded(path)
	if err != nil {
		if cause := errors.Unwrap(err); cause != nil {
			err = cause // without the path, which Place gives
		}
		return nil, []Remark{{name, "the file cannot be opened: " + err.Error(), "close it in other programs and check its permissions"}}
	}
	return read(name, data)
}

// readBounded reads at most one byte more than the readers accept, so that they see that a file is too large without holding it.
func readBounded(path string) ([]byte, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(io.LimitReader(file, maxFileBytes+1))
}
