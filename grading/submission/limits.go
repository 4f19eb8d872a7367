package submission

import "fmt"

// Bounds of what is read of one file: far beyond any class, and small enough that a hostile file is read within
// seconds.
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

// Bounds of an unpacked workbook. They hold whatever a file says of itself: parts are counted as they are unpacked.
const (
	maxUnpacked  = 32 << 20 // bytes of all parts that are read
	maxPart      = 16 << 20 // bytes of a worksheet, or of the shared texts
	maxSmallPart = 4 << 20  // bytes of any other part
	maxParts     = 1000
	maxSheets    = 250
	maxTexts     = 200_000 // shared texts, and number formats
	maxCellBytes = 4 * maxFieldRunes
)

// size counts what a file holds.
type size struct{ filled, text int }

// add counts a cell; the error is for a file with more than any form has.
func (s *size) add(cell string) error {
	if cell == "" {
		return nil
	}
	s.filled++
	s.text += len(cell)
	switch {
	case s.filled > maxCells:
		return fmt.Errorf("more than %d filled cells", maxCells)
	case s.text > maxText:
		return fmt.Errorf("more than %d MB of text", maxText>>20)
	}
	return nil
}

// tooLarge refuses a file before anything of it is read.
func tooLarge(name string) Remark {
	return Remark{name, fmt.Sprintf("the file has more than %d MB and was not read", maxFileBytes>>20),
		"remove what is not an entry"}
}
