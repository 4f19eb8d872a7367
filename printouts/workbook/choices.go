package workbook

import "github.com/xuri/excelize/v2"

// Choices say what may be typed into the cells of a column: a drop-down list, and what is told to whoever types
// something else.
type Choices struct {
	Source      string   // name of the range that has the list
	List        []string // the list itself, where there is no source
	Warn        bool     // another entry is warned of and kept; otherwise it is refused
	Title, Text string   // of the warning
}

// Choices restricts the rows from..to of a column.
func (s *Sheet) Choices(from, to, column int, c Choices) {
	v := excelize.NewDataValidation(true)
	v.Sqref = Ref(from, column) + ":" + Ref(to, column)
	if c.Source != "" {
		v.SetSqrefDropList(c.Source)
	} else {
		s.book.check(v.SetDropList(c.List))
	}
	style := excelize.DataValidationErrorStyleStop
	if c.Warn {
		style = excelize.DataValidationErrorStyleWarning
	}
	v.SetError(style, c.Title, c.Text)
	s.book.check(s.book.file.AddDataValidation(s.name, v))
}
