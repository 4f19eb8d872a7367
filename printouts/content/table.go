package content

// Table has a head for every column.
type Table struct {
	Columns []Column
	Rows    [][]string
	Groups  []int  // rows that begin a group, ascending
	Empty   string // what paper shows in a cell without text; other renderers leave the cell out
	// Keyed is the number of first columns that name a row, in a table whose other heads are too long to stand
	// above narrow columns: on paper they are explained under letters. Rows without any text in those columns are
	// left out. 0 for an ordinary table.
	Keyed int
	Paper PaperTable
}

func (Table) block() {}

// Column describes a column.
type Column struct {
	Head   string
	Header bool // its cells name their rows
	Strong bool
	Align  Align
	Width  float64 // on paper, mm; [Natural]: as wide as its longest cell; 0: a share of the rest
	Share  float64 // of the rest; 0 means 1
}

// Natural is the width of a column that is as wide as its longest cell.
const Natural = -1

// Align is the side of its column at which a cell stands.
type Align uint8

// Sides.
const (
	Left Align = iota
	Right
	Center
)

// PaperTable are hints for paper.
type PaperTable struct {
	Look   Look
	Ruled  bool    // lines between columns, for tables to write in
	Zebra  bool    // every other row tinted
	Tall   float64 // least height of a row, mm
	Middle bool    // cells in the middle of their row's height
	Run    bool    // each row is set as running text, its cells one after the other, without the heads
}

// Row appends a row.
func (t *Table) Row(cells ...string) { t.Rows = append(t.Rows, cells) }

// StartGroup says that the next row begins a group.
func (t *Table) StartGroup() { t.Groups = append(t.Groups, len(t.Rows)) }

// Named tells whether a row has a text in any of the keyed columns from one on and before another.
func (t Table) Named(row []string, from, to int) bool {
	for _, cell := range row[from:to] {
		if cell != "" {
			return true
		}
	}
	return false
}
