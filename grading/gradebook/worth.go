package gradebook

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// inHeading finds what a column can earn where its heading says so, as some gradebooks write it. Common practice, no
// source.
var inHeading = regexp.MustCompile(`(?i)\b(?:total ?(?:pts|points)|max ?(?:pts|points)|points possible|out of)` +
	`[ .:=]*([0-9]+(?:[.,][0-9]+)*)` +
	`|[(\[]\s*([0-9]+(?:[.,][0-9]+)*)\s*(?:pts?|points?)\.?\s*[)\]]`)

// worth is what a mark of 100 is in the column: by the caller, by the line of possible points, by the heading, else
// 100.
func (t *template) worth(c Columns) (float64, error) {
	heading := t.headings()[t.mark]
	if c.Worth > 0 {
		return c.Worth, nil
	}
	for _, l := range t.lines[1:] {
		text := t.at(l, t.mark)
		if !t.isPoints(l) || text == "" {
			continue
		}
		switch value, ok := number(text); {
		case ambiguous(text):
			return 0, doubtful(l.number, heading, text)
		case !ok:
			return 0, fmt.Errorf("line %d: column %q is worth %q, so the gradebook seems to fill it by itself; name a "+
				"column that takes marks, or say what it is worth with --points", l.number, heading, text)
		case value <= 0:
			return 0, fmt.Errorf("line %d: column %q is worth %s points; correct that in the gradebook and export "+
				"again, or "+
				"say what it is worth with --points", l.number, heading, text)
		default:
			return value, nil
		}
	}
	if m := inHeading.FindStringSubmatch(heading); m != nil {
		if ambiguous(m[1] + m[2]) {
			return 0, doubtful(t.lines[0].number, heading, m[1]+m[2])
		}
		if value, ok := number(m[1] + m[2]); ok && value > 0 {
			return value, nil
		}
	}
	return 100, nil
}

// decimalComma tells that the numbers of the file are written like 87,5, and none like 87.5.
func (t *template) decimalComma() bool {
	commas, points := 0, 0
	for _, l := range t.lines[1:] {
		for i := range l.cells {
			if i == t.id {
				continue
			}
			switch text := t.at(l, i); {
			case ambiguous(text): // says nothing
			case decimals(text, ","):
				commas++
			case decimals(text, "."):
				points++
			}
		}
	}
	return commas > points
}

func decimals(text, sign string) bool {
	whole, part, ok := strings.Cut(strings.TrimSpace(strings.TrimSuffix(text, "%")), sign)
	digits := func(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }
	return ok && digits(whole) && digits(part)
}

// thousands recognizes numbers such as 1,000 and 1.000: a thousand to some and one to others.
var thousands = regexp.MustCompile(`^\d{1,3}([.,]\d{3})+$`)

// ambiguous tells numbers that nobody can read for sure: what is in the cell would be scaled by a thousand.
func ambiguous(text string) bool {
	return thousands.MatchString(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "%")))
}

// doubtful is the error for what a column is worth by a number that can be read in two ways.
func doubtful(line int, heading, text string) error {
	return fmt.Errorf("line %d: column %q is worth %q, which can be read with a decimal sign or with one between "+
		"thousands; say what it is worth with --points", line, heading, text)
}

// number reads a mark or a number of points as spreadsheets write them: 87.5, 87,5, 88 %. An ambiguous one is none.
func number(text string) (float64, bool) {
	if ambiguous(text) {
		return 0, false
	}
	text = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "%"))
	if decimals(text, ",") {
		text = strings.Replace(text, ",", ".", 1)
	}
	value, err := strconv.ParseFloat(text, 64)
	return value, err == nil && !math.IsInf(value, 0) && !math.IsNaN(value)
}

// plain writes a number without needless digits.
func plain(value float64) string { return strconv.FormatFloat(value, 'f', -1, 64) }

// write is a mark as it stands in the column: the whole points of 100 that people see everywhere else, scaled to the
// column to the hundredth, so that 87 is 21.75 of 25.
func (t *template) write(m Mark, worth float64) (string, error) {
	text, err := formatMark(m)
	if err != nil || text == "" || worth == 100 {
		return text, err
	}
	whole, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return "", err
	}
	text = plain(math.Round(whole*worth)/100 + 0)
	if t.comma {
		text = strings.Replace(text, ".", ",", 1)
	}
	return text, nil
}

// sameNumber tells that a cell says the mark already, in other digits: 88.00 for 88.
func sameNumber(old, now string) bool {
	a, ok := number(old)
	b, ok2 := number(now)
	return old == now || ok && ok2 && a == b
}
