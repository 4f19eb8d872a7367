package competency

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"nospark/grading/evidence"
	"nospark/scenarios/disk"
	"nospark/scenarios/tabular"
)

// SignOffsFile is the list of signatures in the folder of a term.
const SignOffsFile = "signoffs.csv"

// SignOff says that an instructor has signed a competency of a student.
type SignOff struct {
	Place      string // "signoffs.csv:7"
	Student    string // id
	Competency string
	Date       string // 2006-01-02
	By         string
}

// signOffLimit bounds the file: two thousand students with a dozen signatures have some 2 MB.
const signOffLimit = 64 << 20

var signOffHeader = []string{"id", "competency", "date", "by"}

// ReadSignOffs reads the file at path.
func ReadSignOffs(path string) ([]SignOff, error) {
	data, err := disk.Read(path, signOffLimit)
	if err != nil {
		return nil, err
	}
	return ParseSignOffs(path, data)
}

// ParseSignOffs reads the columns id, competency, date and by, in any order; file is its name for errors. A signature
// decides whether somebody passes for competent, so nothing is guessed: the error joins all that is wrong, by line,
// and nothing is returned in part.
func ParseSignOffs(file string, data []byte) ([]SignOff, error) {
	known := func(heading string) bool { return slices.Contains(signOffHeader, heading) }
	t, err := tabular.ReadTable(data, tabular.Options{Known: known})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	head := t.Heading.Cells
	if len(t.Text.Rows) == 0 {
		return nil, fmt.Errorf("%s: is empty; its first line is %s", file, strings.Join(signOffHeader, ","))
	}
	at := make([]int, len(signOffHeader))
	for i, name := range signOffHeader {
		if at[i] = tabular.Find(head, []string{name}); at[i] < 0 || len(head) != len(signOffHeader) {
			return nil, fmt.Errorf("%s:%d: heading %q; want %s%s", file, max(1, t.Heading.Line), strings.Join(head, ","),
				strings.Join(signOffHeader, ","), tabular.Ask(head, []string{name}))
		}
	}
	var list []SignOff
	var found []finding
	for _, f := range t.Findings {
		found = append(found, finding{f.Line, fmt.Errorf("%s:%d: %s", file, f.Line, f.What)})
	}
	for _, line := range t.Rows {
		row := make([]string, len(at))
		for i, column := range at {
			row[i] = line.Cells[column]
		}
		s, err := signOff(fmt.Sprintf("%s:%d", file, line.Line), row)
		if err != nil {
			found = append(found, finding{line.Line, err})
		}
		list = append(list, s)
	}
	if len(found) > 0 { // one wrong line spoils the file, but the others are still checked
		slices.SortStableFunc(found, func(a, b finding) int { return a.line - b.line })
		var all []error
		for _, f := range found {
			all = append(all, f.err)
		}
		return nil, errors.Join(all...)
	}
	return list, nil
}

// finding is one thing wrong with the file, kept with its line so that all can be told in the order of the file.
type finding struct {
	line int
	err  error
}

// signOff reads one line; place goes in front of what is wrong with it. All four fields are needed: a signature
// without a day or a name is none.
func signOff(place string, row []string) (SignOff, error) {
	for i, cell := range row {
		if cell == "" {
			return SignOff{}, fmt.Errorf("%s: %s is missing", place, signOffHeader[i])
		}
		if len(cell) > evidence.LongestText {
			return SignOff{}, fmt.Errorf("%s: %s has %d bytes, at most %d are read",
				place, signOffHeader[i], len(cell), evidence.LongestText)
		}
	}
	if day, err := time.Parse(time.DateOnly, row[2]); err != nil || day.Year() < 1900 {
		return SignOff{}, fmt.Errorf("%s: date %q; want a day that exists, written 2026-10-05", place, row[2])
	}
	return SignOff{Place: place, Student: row[0], Competency: row[1], Date: row[2], By: row[3]}, nil
}
