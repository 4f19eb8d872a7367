package competency

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"nospark/grading/evidence"
)

// textLine is a line of a CSV file of the term's folder.
type textLine struct {
	place string // "aliases.csv:3"
	cells []string
}

// parseLines reads a CSV file whose first line is head and whose cells are all filled in; file is its name for errors.
// The error joins all that is wrong, by line, and nothing is returned in part. Empty lines are skipped.
func parseLines(file string, data []byte, head []string) ([]textLine, error) {
	if !utf8.Valid(data) {
		return nil, fmt.Errorf("%s: is not a text in UTF-8; save it as CSV, UTF-8", file)
	}
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff"))))
	r.FieldsPerRecord = -1
	var list []textLine
	var found []error
	for first := true; ; first = false {
		row, err := r.Read()
		switch {
		case errors.Is(err, io.EOF) && first:
			return nil, fmt.Errorf("%s: is empty; its first line is %s", file, strings.Join(head, ","))
		case errors.Is(err, io.EOF) && len(found) > 0:
			return nil, errors.Join(found...)
		case errors.Is(err, io.EOF):
			return list, nil
		case err != nil: // of syntax: what follows cannot be trusted
			return nil, errors.Join(append(found, csvError(file, err))...)
		}
		line, _ := r.FieldPos(0)
		place := fmt.Sprintf("%s:%d", file, line)
		row = trimmed(row)
		switch {
		case first && !slices.Equal(row, head):
			return nil, fmt.Errorf("%s: heading %q; want %s", place, strings.Join(row, ","), strings.Join(head, ","))
		case first:
		case len(row) == 1 && row[0] == "":
		case len(row) != len(head) || slices.Contains(row, ""):
			found = append(found, fmt.Errorf("%s: %q; want %s, none of them empty", place, strings.Join(row, ","),
				strings.Join(head, ",")))
		case slices.ContainsFunc(row, func(cell string) bool { return len(cell) > evidence.LongestText }):
			found = append(found, fmt.Errorf("%s: a cell has more than %d bytes", place, evidence.LongestText))
		default:
			list = append(list, textLine{place, row})
		}
	}
}

// csvError puts the place of a syntax error in front of it.
func csvError(file string, err error) error {
	var syntax *csv.ParseError
	if errors.As(err, &syntax) {
		return fmt.Errorf("%s:%d: %w", file, syntax.Line, syntax.Err)
	}
	return fmt.Errorf("%s: %w", file, err)
}

// trimmed takes the blanks off every cell, which people leave and nobody sees.
func trimmed(row []string) []string {
	all := make([]string, len(row))
	for i, cell := range row {
		all[i] = strings.TrimSpace(cell)
	}
	return all
}
