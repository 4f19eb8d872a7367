package submission

import "fmt"

// Bounds of what is read of one file: far beyond any class, and small enough that a hostile file is read within seconds.
const (
	maxFileBytes  = 8 << 20
	maxRows       = 5000
	maxColumns    = 200
	maxCells      = 200_000 // that hold something
	maxText       = 8 << 20 // bytes of all of them
	maxHeaderRow  = 20      // the header is looked for in the first rows
	maxFieldRunes = 4000
	maxSteps      = 200 // of one row
	maxRemarks    = 200
)

// size counts what a file holds.
type size struct{ cells, text int }

// add counts a cell; the error is for a file with more than any form has.
func (s *size) add(cell string) error {
	if cell == "" {
		return nil
	}
	s.cells++
	s.text += len(cell)
	switch {
	case s.cells > maxCells:
		return fmt.Errorf("more than %d filled cells", maxCells)
	case s.text > maxText:
		return fmt.Errorf("more than %d MB of text", maxText>>20)
	}
	return nil
}
