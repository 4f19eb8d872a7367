package term

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// Seat is a place in the shop, counted from anywhere: seats whose row and column differ by at most 1 are neighbours.
type Seat struct{ Row, Column int }

// Seating tells where students sit, by id.
type Seating map[string]Seat

// ParseSeating reads a CSV text with the columns id, row and column, in any order; file is its name for errors. Two students may not
// share a seat unless they never meet, so that is left to Build, which knows the sections.
func ParseSeating(file, text string) (Seating, error) {
	r := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, "\ufeff")))
	r.TrimLeadingSpace = true
	header, err := r.Read()
	if err != nil {
		return nil, fmt.Errorf("%s:1: no heading; want a line id,row,column and then one line per student", file)
	}
	at := map[string]int{"id": -1, "row": -1, "column": -1}
	for i, name := range header {
		name = strings.ToLower(strings.TrimSpace(name))
		if _, known := at[name]; known {
			at[name] = i
		}
	}
	for _, name := range []string{"id", "row", "column"} {
		if at[name] < 0 {
			return nil, fmt.Errorf("%s:1: no column %q in the heading; want id,row,column", file, name)
		}
	}
	seats := Seating{}
	var found []error
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return seats, errors.Join(found...)
		}
		var broken *csv.ParseError
		switch {
		case errors.As(err, &broken) && errors.Is(broken.Err, csv.ErrFieldCount):
			found = append(found, fmt.Errorf("%s:%d: %d cells, want %d as in the heading", file, broken.Line, len(cells), len(header)))
			continue
		case errors.As(err, &broken):
			return nil, fmt.Errorf("%s:%d: not a line of CSV: %w", file, broken.Line, broken.Err)
		case err != nil:
			return nil, fmt.Errorf("%s: %w", file, err)
		}
		line, _ := r.FieldPos(0)
		id := strings.TrimSpace(cells[at["id"]])
		row, rowErr := strconv.Atoi(strings.TrimSpace(cells[at["row"]]))
		column, columnErr := strconv.Atoi(strings.TrimSpace(cells[at["column"]]))
		_, twice := seats[id]
		switch {
		case id == "":
			found = append(found, fmt.Errorf("%s:%d: no id", file, line))
		case twice:
			found = append(found, fmt.Errorf("%s:%d: %q has a seat already", file, line, id))
		case rowErr != nil || columnErr != nil || max(row, -row, column, -column) > 10000:
			found = append(found, fmt.Errorf("%s:%d: row %q, column %q: want whole numbers", file, line, cells[at["row"]], cells[at["column"]]))
		default:
			seats[id] = Seat{row, column}
		}
	}
}
