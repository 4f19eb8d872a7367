package roster

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"golang.org/x/text/unicode/norm"
)

// table is a CSV file with headings. Its cells are as they stand in the file.
type table struct {
	file   string
	line   int // of the headings
	header []string
	rows   []row
}

type row struct {
	line  int
	cells []string // as many as there are headings
}

// parseTable splits text into cells. Lines that cannot be split or have too many
// cells are reported and left out, so that one run tells all of them.
func parseTable(file, text string, separator rune) (table, []Remark) {
	t := table{file: file}
	// The reader goes on after an error with the next line of text.
	var errs []Remark
	fail := func(line int, format string, args ...any) {
		errs = append(errs, Remark{file, line, fmt.Sprintf(format, args...)})
	}
	r := csv.NewReader(strings.NewReader(text))
	r.Comma = separator
	r.FieldsPerRecord = -1
	// Trimming would swallow empty cells between tabs.
	r.TrimLeadingSpace = separator != '\t'
	for {
		cells, err := r.Read()
		if err == io.EOF {
			break
		}
		var parseErr *csv.ParseError
		if errors.As(err, &parseErr) {
			fail(parseErr.StartLine, "%s", quoteProblem(parseErr))
			continue
		}
		if err != nil { // no other error comes out of a text in memory
			fail(0, "%v", err)
			break
		}
		line, _ := r.FieldPos(0)
		if isBlank(cells) {
			continue
		}
		if t.header == nil {
			t.header, t.line = cells, line
			continue
		}
		// Too many cells are nearly always a name with a comma in it. Guessing which
		// cells belong together would shift the section.
		if n := len(t.header); len(cells) > n && !isBlank(cells[n:]) {
			fail(line, "%d cells, but only %d headings; a cell with the separator %q in it needs quotes around it",
				len(cells), n, separator)
			continue
		}
		t.rows = append(t.rows, row{line, fit(cells, len(t.header))})
	}
	if t.header == nil && len(errs) == 0 {
		fail(0, "is empty; the first line has to name the columns")
	}
	return t, errs
}

// fit makes cells n long: spreadsheets leave empty cells at the end out.
func fit(cells []string, n int) []string {
	for len(cells) < n {
		cells = append(cells, "")
	}
	return cells[:n]
}

// quoteProblem says in the words of a spreadsheet what the reader found.
func quoteProblem(err *csv.ParseError) string {
	if errors.Is(err, csv.ErrBareQuote) {
		return `a quote in the middle of a cell; put the whole cell in quotes and double the one inside`
	}
	return `a cell begins with a quote but does not end with one; close it, and double quotes inside it`
}

// isBlank recognises the lines of separators that deleted rows leave behind.
func isBlank(cells []string) bool {
	return !slices.ContainsFunc(cells, func(c string) bool { return strings.TrimSpace(c) != "" })
}

// findSeparator looks at the first line that is not blank. Some spreadsheets
// say the separator in a line "sep=;" of its own, which is then blanked, to keep
// line numbers.
func findSeparator(text string) (separator rune, rest string) {
	trimmed := strings.TrimLeft(text, "\n ")
	line, _, _ := strings.Cut(trimmed, "\n")
	if said, ok := strings.CutPrefix(strings.ToLower(line), "sep="); ok && len(said) == 1 && strings.Contains(",;\t", said) {
		skipped := len(text) - len(trimmed)
		return rune(said[0]), text[:skipped] + text[skipped+len(line):]
	}
	return Separator(line), text
}

// Separator guesses from the headings of a CSV file how its cells are parted:
// by the comma, semicolon or tab that stands most often outside quotes, by the
// comma if none does.
func Separator(headings string) rune {
	count := map[rune]int{}
	quoted := false
	for _, r := range headings {
		if r == '"' {
			quoted = !quoted
		}
		if !quoted {
			count[r]++
		}
	}
	separator := ','
	for _, r := range ";\t" {
		if count[r] > count[separator] {
			separator = r
		}
	}
	return separator
}

// heading makes headings comparable: "Large_Print " equals "large print".
func heading(h string) string {
	h = strings.NewReplacer("_", " ", "-", " ").Replace(norm.NFC.String(h))
	return strings.ToLower(strings.Join(strings.Fields(h), " "))
}
