package handouts

import (
	"regexp"
	"strings"

	"nospark/scenarios/handout"
)

// NumberedTests are tests that differ in one number alone, as those of the cylinders do; one test where none is like
// it.
type NumberedTests struct {
	Text string             // "Plug 1, 2, 3, 4, gap"
	Rows []handout.SmallRow // in the order of the numbers; each takes the same minutes
}

// Numbered gathers the rows of a run that follow each other and differ in one number; meter and condition are those
// that a heading says already.
func Numbered(run []handout.SmallRow, meter, when string) []NumberedTests {
	var all []NumberedTests
	var before, after string
	var numbers []string
	for _, r := range run {
		text := TestText(r, meter, when)
		lead, number, rest, found := cutNumber(text)
		if last := len(all) - 1; found && len(numbers) > 0 && lead == before && rest == after &&
			all[last].Rows[0].Minutes == r.Minutes {
			numbers = append(numbers, number)
			all[last].Rows = append(all[last].Rows, r)
			all[last].Text = lead + strings.Join(numbers, ", ") + rest
			continue
		}
		before, after, numbers = lead, rest, nil
		if found {
			numbers = []string{number}
		}
		all = append(all, NumberedTests{Text: text, Rows: []handout.SmallRow{r}})
	}
	return all
}

var loneDigit = regexp.MustCompile(`^(.*? )([1-9])(\D.*)?$`)

// cutNumber parts a text at the first number of one digit that stands alone: "Plug ", "1", ", gap".
func cutNumber(text string) (before, number, after string, found bool) {
	m := loneDigit.FindStringSubmatch(text)
	if m == nil || strings.HasPrefix(m[3], ".") {
		return text, "", "", false
	}
	return m[1], m[2], m[3], true
}
