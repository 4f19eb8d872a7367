package tabular

import (
	"bytes"
	"encoding/csv"
	"strings"
	"unicode"
)

// starters are what makes a spreadsheet calculate a cell instead of showing it
// (OWASP, "CSV Injection"), and their full-width forms, which some spreadsheets
// take for the same (common practice, no source).
const starters = "=+-@\uff1d\uff0b\uff0d\uff20"

// Neutralize puts an apostrophe in front of outside text that a spreadsheet
// could take for a formula: text that begins, after white space, with one of
// = + - @, and text that begins with a tab or a line break. It is for CSV that
// people open. Files for other programs carry the plain text, and cells of a
// workbook are typed, so both do without.
//
// Text that has apostrophes in front of such a beginning gets one more, so that
// [Original] always gives back what was there.
func Neutralize(text string) string {
	if calculates(text) {
		return "'" + text
	}
	return text
}

// Encode writes a table for people to open: CSV whose cells are neutralized, with CR LF at line ends (RFC 4180,
// section 2) or the plain line feeds of files that this program reads again.
func Encode(table [][]string, crlf bool) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = crlf
	for _, row := range table {
		safe := make([]string, len(row))
		for i, cell := range row {
			safe[i] = Neutralize(cell)
		}
		w.Write(safe) // a buffer takes everything
	}
	w.Flush()
	return b.Bytes()
}

// Original takes off exactly the apostrophe that [Neutralize] put in front. An
// apostrophe that begins a name ('t Aart) stays.
func Original(text string) string {
	if rest, ok := strings.CutPrefix(text, "'"); ok && calculates(rest) {
		return rest
	}
	return text
}

func calculates(text string) bool {
	bare := strings.TrimLeftFunc(text, func(r rune) bool { return r == '\'' || unicode.IsSpace(r) })
	if strings.IndexAny(bare, starters) == 0 {
		return true
	}
	return strings.IndexAny(strings.TrimLeft(text, "'"), "\t\r\n") == 0
}
