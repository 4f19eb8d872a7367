package term

import (
	"errors"
	"fmt"
	"strconv"

	"nospark/scenarios/tabular"
)

// Seat is a place in the shop, counted from anywhere: seats whose row and column differ by at most 1 are neighbors.
type Seat struct{ Row, Column int }

// Seating tells where students sit, by id.
type Seating map[string]Seat

// seatingColumns are the headings of a seating file, in any order.
var seatingColumns = []string{"id", "row", "column"}

// ParseSeating reads a table with the columns id, row and column; file is its name for errors. Two students may not
// share a seat unless they never meet, so that is left to package build, which knows the sections.
func ParseSeating(file, text string) (Seating, error) {
	known := func(heading string) bool { return tabular.Find(seatingColumns, []string{heading}) >= 0 }
	t, err := tabular.ReadTable([]byte(text), tabular.Options{Known: known})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	if t.Heading.Cells == nil {
		return nil, fmt.Errorf("%s:1: no heading; want a line id,row,column and then one line per student", file)
	}
	var at [3]int
	for i, name := range seatingColumns {
		if at[i] = tabular.Find(t.Heading.Cells, []string{name}); at[i] < 0 {
			return nil, fmt.Errorf("%s:%d: no column %q in the heading; want id,row,column%s", file, t.Heading.Line,
				name,
				tabular.Ask(t.Heading.Cells, []string{name}))
		}
	}
	var found []error
	for _, f := range t.Findings {
		found = append(found, fmt.Errorf("%s:%d: %s", file, f.Line, f.What))
	}
	seats := Seating{}
	for _, line := range t.Rows {
		id, seat, err := readSeat(line.Cells[at[0]], line.Cells[at[1]], line.Cells[at[2]])
		if _, twice := seats[id]; twice && err == nil {
			err = fmt.Errorf("%q has a seat already", id)
		}
		if err != nil {
			found = append(found, fmt.Errorf("%s:%d: %w", file, line.Line, err))
			continue
		}
		seats[id] = seat
	}
	return seats, errors.Join(found...)
}

// readSeat reads one line. Numbers far outside of any shop are slips.
func readSeat(id, row, column string) (string, Seat, error) {
	if id == "" {
		return "", Seat{}, errors.New("no id")
	}
	const farthest = 10000
	r, rowErr := strconv.Atoi(row)
	c, columnErr := strconv.Atoi(column)
	if rowErr != nil || columnErr != nil || max(r, -r, c, -c) > farthest {
		return "", Seat{}, fmt.Errorf("row %q, column %q: want whole numbers", row, column)
	}
	return id, Seat{r, c}, nil
}
