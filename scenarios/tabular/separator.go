package tabular

import "strings"

// separators are the ones that spreadsheets write; the first wins a tie.
const separators = ",;\t"

// headingRows is how far down headings are looked for: instructions may precede
// them.
const headingRows = 20

// sayings takes out the line "sep=;" in which some spreadsheets say the
// separator; 0 if there is none. It is blanked, to keep the numbers of lines.
func sayings(text string) (separator rune, rest string) {
	trimmed := strings.TrimLeft(text, "\n ")
	line, _, _ := strings.Cut(trimmed, "\n")
	said, ok := strings.CutPrefix(strings.ToLower(line), "sep=")
	if ok && len(said) == 1 && strings.Contains(separators, said) {
		skipped := len(text) - len(trimmed)
		return rune(said[0]), text[:skipped] + text[skipped+len(line):]
	}
	return 0, text
}

// suggested chooses the separator under which some row near the beginning has
// most of the known headings. Where that does not decide, [Separator] does for
// the first line.
func suggested(text string, known func(heading string) bool) rune {
	first, _, _ := strings.Cut(strings.TrimLeft(text, "\n "), "\n")
	best := Separator(first)
	if known == nil {
		return best
	}
	most := knownHeadings(text, best, known)
	for _, separator := range separators {
		if n := knownHeadings(text, separator, known); n > most {
			best, most = separator, n
		}
	}
	return best
}

// knownHeadings is the greatest number of known headings in one row.
func knownHeadings(text string, separator rune, known func(heading string) bool) int {
	const look = 64 << 10 // bytes: no headings are longer
	text = text[:min(len(text), look)]
	most := 0
	for _, row := range split(text, separator, Options{Rows: headingRows, Columns: 200}).Rows {
		n := 0
		for _, cell := range row.Cells {
			if known(Fold(cell)) {
				n++
			}
		}
		most = max(most, n)
	}
	return most
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
	best := ','
	for _, r := range separators {
		if count[r] > count[best] {
			best = r
		}
	}
	return best
}
