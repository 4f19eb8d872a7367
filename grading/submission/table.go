package submission

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"nospark/scenarios/tabular"
)

// table is a file as cells, whatever its format was. Row and column numbers count from 1, as a spreadsheet shows them.
type table struct {
	file string
	rows [][]string
}

// at names a cell the way spreadsheets do: "entry.xlsx, F7".
func (t table) at(row, column int) string {
	return t.file + ", " + tabular.CellName(row, column)
}

// row names a whole row.
func (t table) row(row int) string { return fmt.Sprintf("%s, row %d", t.file, row) }

// header says in which column what stands; 0 for a column that the file does not have.
type header struct {
	row                                      int // 0: none found
	id, name, sheet, repair, reasoning, safe int
	steps                                    []int // in the order of the steps
	unknown                                  []int
	last                                     int   // last named column; whatever stands right of it is a step
	numbers                                  []int // of the columns "step 1", "step 2", ...
	most                                     int   // the greatest of them
}

// findHeader looks for the row that names the columns, within the first rows: instructions may precede it.
func findHeader(rows [][]string) header {
	for i, cells := range rows[:min(len(rows), maxHeaderRow)] {
		if h := readHeader(cells); (h.id > 0 || h.sheet > 0) && (h.repair > 0 || len(h.steps) > 0) {
			h.row = i + 1
			return h
		}
	}
	return header{}
}

// readHeader reads the names of columns. The first of two columns with the same name counts, the second is unknown.
func readHeader(cells []string) header {
	var h header
	type numbered struct{ number, column int }
	var steps []numbered
	for i, cell := range cells {
		name, column := tabular.Fold(cell), i+1
		if name == "" {
			continue
		}
		h.last = column
		place := h.place(name)
		number, isStep := stepNumber(name)
		switch {
		case place != nil && *place == 0:
			*place = column
		case isStep:
			steps = append(steps, numbered{number, column})
			if number > 0 && number <= maxSteps {
				h.numbers, h.most = append(h.numbers, number), max(h.most, number)
			}
		case name != "section" && name != "complaint":
			h.unknown = append(h.unknown, column)
		}
	}
	slices.SortStableFunc(steps, func(a, b numbered) int { return cmp.Compare(a.number, b.number) })
	for _, s := range steps {
		h.steps = append(h.steps, s.column)
	}
	return h
}

// isHeading tells the names of columns that mean something here.
func isHeading(name string) bool {
	_, isStep := stepNumber(name)
	return isStep || new(header).place(name) != nil
}

// place returns where the column of that name is kept, nil for a name that is none of ours.
func (h *header) place(name string) *int {
	switch name {
	case "id", "student id":
		return &h.id
	case "name", "student name":
		return &h.name
	case "sheet", "sheet code":
		return &h.sheet
	case "repair", "repair code", "conclusion":
		return &h.repair
	case "reasoning":
		return &h.reasoning
	case "safe", "safety", "safe working":
		return &h.safe
	}
	return nil
}

// stepNumber understands "step 3", "step3" and "steps", the latter a column with all of them.
func stepNumber(name string) (int, bool) {
	rest, ok := strings.CutPrefix(name, "step")
	if !ok {
		return 0, false
	}
	rest = strings.TrimSpace(strings.TrimPrefix(rest, "s"))
	if rest == "" {
		return 0, true
	}
	n, err := strconv.Atoi(rest)
	return n, err == nil && n >= 0
}

// read turns a table into rows. Rows without any entry are passed over.
func (t table) read(n *notes) []Row {
	h := findHeader(t.rows)
	if h.row == 0 {
		if t.blank() {
			n.add(t.file, "the file is empty", "nothing, if nobody handed in")
			return nil
		}
		n.add(t.file, fmt.Sprintf("no header found in the first %d rows", maxHeaderRow),
			"name the columns in one row: "+columnNames)
		return nil
	}
	for _, column := range h.unknown {
		heading := t.rows[h.row-1][column-1]
		n.add(t.at(h.row, column),
			"column "+quote(heading)+" is not known and was not read"+tabular.Ask([]string{heading}, h.lacking()),
			"nothing, if it holds notes of your own; columns are "+columnNames)
	}
	t.missing(h, n)
	var rows []Row
	for i := h.row; i < len(t.rows); i++ {
		if row, ok := t.readRow(h, i+1, n); ok {
			rows = append(rows, row)
		}
	}
	return rows
}

// columnNames is how messages name the columns of a form.
const columnNames = "id, name, sheet, repair, reasoning, safe, step 1, step 2, ..."

// lacking lists the columns that a form has and this one lacks, for a heading that is nearly one of them.
func (h header) lacking() []string {
	var names []string
	for _, name := range []string{"id", "name", "sheet", "repair", "reasoning", "safe"} {
		if *h.place(name) == 0 {
			names = append(names, name)
		}
	}
	return append(names, fmt.Sprintf("step %d", h.most+1))
}

// missing tells which column was probably deleted: nobody notices one that is not there.
func (t table) missing(h header, n *notes) {
	var gone []string
	if h.repair == 0 {
		gone = append(gone, "repair")
	}
	if 2*len(h.numbers) > h.most { // fewer are no numbering with a gap
		for n := 1; n <= h.most; n++ {
			if !slices.Contains(h.numbers, n) {
				gone = append(gone, fmt.Sprintf("step %d", n))
			}
		}
	}
	if len(gone) > 0 {
		n.add(t.row(h.row), "there is no column "+strings.Join(gone, ", "),
			"if it was deleted, take the file from a copy")
	}
}

// blank tells a file without any text from one whose header is missing.
func (t table) blank() bool {
	for _, cells := range t.rows {
		for _, cell := range cells {
			if tidy(cell) != "" {
				return false
			}
		}
	}
	return true
}

// readRow reads the row of that number; ok is false if nothing stands in it. A field that cannot be read is remarked
// and left empty.
func (t table) readRow(h header, number int, n *notes) (row Row, ok bool) {
	told := n.count()
	cells := t.rows[number-1]
	cell := func(column int) string {
		if column < 1 || column > len(cells) {
			return ""
		}
		return clip(strings.TrimSpace(cells[column-1]))
	}
	row = Row{
		Place:   t.row(number),
		Student: strings.Join(strings.Fields(cell(h.id)), " "),
		Name:    strings.Join(strings.Fields(cell(h.name)), " "),
		Sheet:   code(cell(h.sheet)),
		Repair:  code(cell(h.repair)),
	}
	if row.Repair != "" {
		row.RepairAt = t.at(number, h.repair)
	}
	columns := slices.Clone(h.steps)
	for column := h.last + 1; column <= len(cells); column++ {
		columns = append(columns, column)
	}
	for _, column := range columns {
		text := cell(column)
		if from, is := fromStep(text); is && row.From == 0 && len(row.Steps) == 0 {
			row.From = from
			continue
		}
		if text != "" && len(row.Steps) <= maxSteps {
			row.Steps = append(row.Steps, parseCell(t.at(number, column), text, n)...)
		}
	}
	if len(row.Steps) > maxSteps {
		n.add(t.row(number), fmt.Sprintf("more than %d steps in one row; the others were not read", maxSteps),
			"check the row")
		row.Steps = row.Steps[:maxSteps]
	}
	var good bool
	if row.Reasoning, good = readReasoning(cell(h.reasoning)); !good {
		n.add(t.at(number, h.reasoning), "reasoning "+quote(cell(h.reasoning))+" is not a whole number from 0 to 4",
			"write 0, 1, 2, 3 or 4, or leave it empty")
	}
	if row.Safe, good = readSafe(cell(h.safe)); !good {
		n.add(t.at(number, h.safe), "safe "+quote(cell(h.safe))+" is neither yes nor no",
			"write yes or no, or leave it empty")
	}
	ok = row.Student != "" || row.Sheet != "" || !row.Empty() || row.Reasoning >= 0 || row.Safe >= 0 || n.count() > told
	return row, ok
}

// fromStep reads "from step 5": a row that goes on where the bench stopped.
func fromStep(text string) (int, bool) {
	rest, ok := strings.CutPrefix(code(text), "FROMSTEP")
	n, err := strconv.Atoi(rest)
	return n, ok && err == nil && n >= 1 && n <= maxSteps
}

// clip keeps a hostile cell from filling messages.
func clip(text string) string {
	if len(text) <= maxFieldRunes {
		return text
	}
	runes := []rune(text)
	return string(runes[:min(len(runes), maxFieldRunes)])
}

// readReasoning reads the instructor's 0 to 4, -1 for nothing. Spreadsheets may show a whole number as 3.0.
func readReasoning(text string) (int, bool) {
	text = code(text)
	if text == "" {
		return -1, true
	}
	v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil || v != float64(int(v)) || v < 0 || v > 4 {
		return -1, false
	}
	return int(v), true
}

// readSafe reads yes or no in the ways that people and spreadsheets write them, -1 for nothing.
func readSafe(text string) (int, bool) {
	switch code(text) {
	case "":
		return -1, true
	case "YES", "Y", "1", "TRUE":
		return 1, true
	case "NO", "N", "0", "FALSE":
		return 0, true
	}
	return -1, false
}
