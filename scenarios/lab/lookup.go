package lab

import (
	"strings"
	"unicode"

	"golang.org/x/text/width"
)

// SheetCodes finds the sheets of a lab by their codes.
type SheetCodes map[string]int

// SheetCodes is the look-up of the lab's sheets; it is made once for many codes.
func (l *Lab) SheetCodes() SheetCodes {
	codes := SheetCodes{}
	for i, s := range l.Sheets {
		codes[foldCode(s.Code)] = i
	}
	return codes
}

// Find gives the index of the sheet with a code as people write it: J3-PNQ, j3pnq and J3 PNQ are the same.
func (c SheetCodes) Find(code string) (sheet int, ok bool) {
	code = foldCode(code)
	sheet, ok = c[code]
	return sheet, ok && code != ""
}

// foldCode keeps the letters and digits of a code, which is all that tells one from another.
func foldCode(code string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			return -1
		}
		return unicode.ToUpper(r)
	}, width.Narrow.String(code))
}
