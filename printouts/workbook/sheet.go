package workbook

import (
	"fmt"
	"iter"
	"maps"
	"math"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"
)

// sheet collects one worksheet. Rows and columns count from 1, as a spreadsheet shows them.
type sheet struct {
	book    *book
	name    string
	cells   [][]any         // [row-1][column-1]; nil: never set
	heights map[int]float64 // of rows, points
	widths  map[int]float64 // of columns, digits of the standard font
	merged  []string        // pairs of corners
	frozen  [2]int          // rows on top and columns at the left that stay when scrolling
	head    int             // row that is printed on every page; 0: none
	filter  string          // range with buttons to filter by
	tall    bool            // printed upright instead of across
	onePage bool            // printed on one page, however small
	scale   uint            // percent, with pages that end where breaks says; 0: as wide as the page
	breaks  []int           // rows that begin a page
	printed int             // columns that are printed; 0: all. Wide tables print what one reads on paper and keep the rest for the screen
	locked  bool            // protected against slips, without a password: the salt of one would differ every time
	tab     string          // colour of the tab

	// more gives the rows below the cells with their heights in points (0: as the program likes), one at a time while the file is written, so that a table of a whole school need not be in memory.
	// nil: none.
	more iter.Seq2[[]any, float64]
}

// stacked is a text of several lines in one cell.
type stacked []string

// formula is a live formula with the value that it has now, for programs that show a file without working it out.
type formula struct {
	text  string // without the equals sign
	value any
}

// sheet adds a worksheet.
func (b *book) sheet(name string) *sheet {
	s := &sheet{book: b, name: name, heights: map[int]float64{}, widths: map[int]float64{}}
	if len(b.sheets) == 0 {
		b.check(b.file.SetSheetName(b.file.GetSheetName(0), name))
	} else {
		_, err := b.file.NewSheet(name)
		b.check(err)
	}
	b.sheets = append(b.sheets, s)
	return s
}

// set writes a cell. A value is nil (only the look), a string, a stacked text, an int, a float64 or a formula. A number that is none stays empty: a
// missing mark is blank, never zero.
func (s *sheet) set(row, column int, l look, value any) {
	for len(s.cells) < row {
		s.cells = append(s.cells, nil)
	}
	for len(s.cells[row-1]) < column {
		s.cells[row-1] = append(s.cells[row-1], nil)
	}
	s.cells[row-1][column-1] = s.cell(l, value, row, column)
}

// cell makes a cell of a value and a look; where it stands matters only for the error about a value that is none.
func (s *sheet) cell(l look, value any, row, column int) excelize.Cell {
	cell := excelize.Cell{StyleID: s.book.styleID(l)}
	if f, ok := value.(formula); ok {
		// Written together, since a program that does not work out formulas shows the value that it finds beside one.
		cell.Formula, value = f.text, f.value
	}
	switch v := value.(type) {
	case string:
		value = clean(v)
	case stacked:
		lines := make([]string, len(v))
		for i := range v {
			lines[i] = clean(v[i])
		}
		value = strings.Join(lines, "\n")
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			value = nil
		}
	case nil, int:
	default:
		s.book.check(fmt.Errorf("sheet %s, %s: a %T is no value of a cell", s.name, at(row, column), value))
	}
	cell.Value = value
	return cell
}

// merge joins the cells of a row from one column to another and writes into them.
func (s *sheet) merge(row, from, to int, l look, value any) {
	for c := from; c <= to; c++ {
		s.set(row, c, l, nil)
	}
	s.set(row, from, l, value)
	if to > from {
		s.merged = append(s.merged, at(row, from), at(row, to))
	}
}

// span is the width of several columns together, for the text of a merged cell; without the indent and the edge of one.
func (s *sheet) span(from, to int) (width float64) {
	for c := from; c <= to; c++ {
		width += s.widths[c]
	}
	return width - 2
}

// rows returns how many rows there are.
func (s *sheet) rows() int { return len(s.cells) }

// at names a cell: "C7".
func at(row, column int) string { return columnName(column) + fmt.Sprint(row) }

// fixed names a cell so that it stays the same when a formula is copied: "$C$7".
func fixed(row, column int) string { return fmt.Sprintf("$%s$%d", columnName(column), row) }

// area names a range of this sheet for formulas and charts of any sheet: 'Read me'!$A$1:$B$2.
func (s *sheet) area(row1, column1, row2, column2 int) string {
	return fmt.Sprintf("'%s'!%s:%s", s.name, fixed(row1, column1), fixed(row2, column2))
}

// columnName is "A" for 1, "AA" for 27.
func columnName(column int) string {
	name := ""
	for ; column > 0; column = (column - 1) / 26 {
		name = string(rune('A'+(column-1)%26)) + name
	}
	return name
}

// settle makes all settings of the worksheet but its rows.
func (s *sheet) settle() {
	b, f := s.book, s.book.file
	for _, column := range slices.Sorted(maps.Keys(s.widths)) {
		b.check(f.SetColWidth(s.name, columnName(column), columnName(column), s.widths[column]))
	}
	if s.filter != "" { // before the properties, which it would undo
		b.check(f.AutoFilter(s.name, s.filter, nil))
	}
	orientation := "landscape"
	if s.tall {
		orientation = "portrait"
	}
	across, high := 1, 0 // as many pages below one another as it takes
	if s.onePage {
		high = 1
	}
	layout := excelize.PageLayoutOptions{Size: &b.paper, Orientation: &orientation, FitToWidth: &across, FitToHeight: &high}
	if s.scale > 0 { // breaks are ignored on sheets that are made to fit a page
		layout.FitToWidth, layout.FitToHeight, layout.AdjustTo = nil, nil, &s.scale
	}
	b.check(f.SetPageLayout(s.name, &layout))
	for _, row := range s.breaks {
		b.check(f.InsertPageBreak(s.name, at(row, 1)))
	}
	props := excelize.SheetPropsOptions{FitToPage: new(s.scale == 0)}
	if s.tab != "" {
		props.TabColorRGB = &s.tab
	}
	b.check(f.SetSheetProps(s.name, &props))
	margin, edge := 0.5, 0.3 // inches
	b.check(f.SetPageMargins(s.name, &excelize.PageLayoutMarginsOptions{Left: &margin, Right: &margin, Top: &margin, Bottom: new(0.7),
		Header: &edge, Footer: &edge}))
	footer := strings.ReplaceAll(b.footer, "&", "&&")
	if runes := []rune(footer); len(runes) > 120 { // a foot of more than 255 characters damages the file
		footer = strings.TrimRight(string(runes[:120]), "&") + "…"
	}
	b.check(f.SetHeaderFooter(s.name, &excelize.HeaderFooterOptions{OddFooter: "&L&8" + spaced(footer) + "&C&8&A&R&8page &P of &N"}))
	// Cells that belong to a table have lines of their own.
	b.check(f.SetSheetView(s.name, -1, &excelize.ViewOptions{ShowGridLines: new(false)}))
	if s.head > 0 {
		b.check(f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: fmt.Sprintf("'%s'!$%d:$%d", s.name, s.head, s.head), Scope: s.name}))
	}
	if s.printed > 0 {
		b.check(f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area", RefersTo: s.area(1, 1, max(s.rows(), 1), s.printed), Scope: s.name}))
	}
	if s.frozen != [2]int{} {
		s.freeze()
	}
	if s.locked {
		b.check(f.ProtectSheet(s.name, &excelize.SheetProtectionOptions{SelectLockedCells: true, SelectUnlockedCells: true, AutoFilter: true,
			FormatColumns: true, FormatRows: true}))
	}
}

// spaced keeps a foot that begins with a digit from being read as a size of letters.
func spaced(footer string) string {
	if footer != "" && footer[0] >= '0' && footer[0] <= '9' {
		return " " + footer
	}
	return footer
}

// freeze keeps rows and columns in view. Which pane is active depends on what is frozen; a wrong one
// leaves the cursor where it cannot be seen.
func (s *sheet) freeze() {
	pane := "bottomRight"
	switch 0 {
	case s.frozen[0]:
		pane = "topRight"
	case s.frozen[1]:
		pane = "bottomLeft"
	}
	corner := at(s.frozen[0]+1, s.frozen[1]+1)
	s.book.check(s.book.file.SetPanes(s.name, &excelize.Panes{Freeze: true, YSplit: s.frozen[0], XSplit: s.frozen[1], TopLeftCell: corner,
		ActivePane: pane, Selection: []excelize.Selection{{SQRef: corner, ActiveCell: corner, Pane: pane}}}))
}

// stream writes the rows.
func (s *sheet) stream() {
	b := s.book
	if b.err != nil {
		return
	}
	w, err := b.file.NewStreamWriter(s.name)
	if !b.check(err) {
		return
	}
	for i := 0; i < len(s.merged); i += 2 {
		b.check(w.MergeCell(s.merged[i], s.merged[i+1]))
	}
	for i, cells := range s.cells {
		if cells == nil && s.heights[i+1] == 0 {
			continue // an empty row needs no entry in the file
		}
		b.check(w.SetRow(at(i+1, 1), cells, excelize.RowOpts{Height: s.heights[i+1]}))
	}
	if row := len(s.cells); s.more != nil {
		for cells, height := range s.more {
			row++
			b.check(w.SetRow(at(row, 1), cells, excelize.RowOpts{Height: height}))
		}
	}
	b.check(w.Flush())
}
