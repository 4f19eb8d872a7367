package competency

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"nospark/grading/evidence"
	"nospark/scenarios/disk"
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

// ParseSignOffs reads the columns id,competency,date,by; file is its name for errors. A signature decides whether
// somebody passes for competent, so nothing is guessed: the error joins all that is wrong, by line, and nothing is
// returned in part.
func ParseSignOffs(file string, data []byte) ([]SignOff, error) {
	if !utf8.Valid(data) {
		return nil, fmt.Errorf("%s: is not a text in UTF-8; save it as CSV, UTF-8", file)
	}
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff"))))
	r.FieldsPerRecord = -1 // signOff tells the number of fields in words of ours
	head, err := r.Read()
	switch {
	case errors.Is(err, io.EOF):
		return nil, fmt.Errorf("%s: is empty; its first line is %s", file, strings.Join(signOffHeader, ","))
	case err != nil:
		return nil, csvError(file, err)
	case !slices.Equal(trimmed(head), signOffHeader):
		return nil, fmt.Errorf("%s:1: heading %q; want %s", file, strings.Join(head, ","),
			strings.Join(signOffHeader, ","))
	}
	var list []SignOff
	var found []error
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			return list, errors.Join(found...)
		}
		if err != nil { // of syntax: what follows cannot be trusted
			return nil, errors.Join(append(found, csvError(file, err))...)
		}
		line, _ := r.FieldPos(0)
		place := fmt.Sprintf("%s:%d", file, line)
		row = trimmed(row)
		if !slices.ContainsFunc(row, func(cell string) bool { return cell != "" }) {
			continue // a spreadsheet leaves such lines at the end
		}
		s, err := signOff(place, row)
		if err != nil {
			found = append(found, err)
			list = nil // one wrong line spoils the file, but the others are still checked
		}
		if len(found) == 0 {
			list = append(list, s)
		}
	}
}

// signOff reads one line; place goes in front of what is wrong with it. All four fields are needed: a signature without
// a day or a name is none.
func signOff(place string, row []string) (SignOff, error) {
	if len(row) != len(signOffHeader) {
		return SignOff{}, fmt.Errorf("%s: %d fields; want %s", place, len(row), strings.Join(signOffHeader, ","))
	}
	for i, cell := range row {
		if cell == "" {
			return SignOff{}, fmt.Errorf("%s: %s is missing", place, signOffHeader[i])
		}
		if len(cell) > evidence.LongestText {
			return SignOff{}, fmt.Errorf("%s: %s has %d bytes, at most %d are read", place, signOffHeader[i], len(cell),
				evidence.LongestText)
		}
	}
	if day, err := time.Parse(time.DateOnly, row[2]); err != nil || day.Year() < 1900 {
		return SignOff{}, fmt.Errorf("%s: date %q; want a day that exists, written 2026-10-05", place, row[2])
	}
	return SignOff{Place: place, Student: row[0], Competency: row[1], Date: row[2], By: row[3]}, nil
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
