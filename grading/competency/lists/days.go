package lists

import (
	"regexp"
	"strings"
	"time"
)

// dayForms are the ways in which people write a day, tried in order. With slashes the month comes first, as in the
// United States; with dots the day does, as where dots are used.
var dayForms = []struct {
	form    *regexp.Regexp
	layouts []string
}{
	{regexp.MustCompile(`^\d{4}-\d{1,2}-\d{1,2}$`), []string{"2006-1-2"}},
	{regexp.MustCompile(`^\d{4}/\d{1,2}/\d{1,2}$`), []string{"2006/1/2"}},
	{regexp.MustCompile(`^\d{1,2}/\d{1,2}/\d{4}$`), []string{"1/2/2006"}},
	{regexp.MustCompile(`^\d{1,2}/\d{1,2}/\d{2}$`), []string{"1/2/06"}},
	{regexp.MustCompile(`^\d{1,2}-\d{1,2}-\d{4}$`), []string{"1-2-2006"}},
	{regexp.MustCompile(`^\d{1,2}\.\d{1,2}\.\d{4}$`), []string{"2.1.2006"}},
	{regexp.MustCompile(`^[A-Za-z]+\.? \d{1,2},? \d{4}$`), []string{"Jan 2, 2006", "January 2, 2006", "Jan 2 2006",
		"January 2 2006"}},
	{regexp.MustCompile(`^\d{1,2}[ -][A-Za-z]+\.?[ -]\d{4}$`), []string{"2 Jan 2006", "2 January 2006", "2-Jan-2006"}},
}

// parseDay reads a day as people write it; wrong says why it is none. A time behind it, as spreadsheets add one, is
// left out.
func parseDay(text string) (day, wrong string) {
	text = strings.Join(strings.Fields(text), " ")
	for _, end := range []string{" 00:00:00", "T00:00:00", " 0:00", " 12:00:00 AM"} {
		text = strings.TrimSuffix(text, end)
	}
	for _, f := range dayForms {
		if !f.form.MatchString(text) {
			continue
		}
		for _, layout := range f.layouts {
			for _, t := range []string{text, strings.Replace(text, ". ", " ", 1)} {
				if d, err := time.Parse(layout, t); err == nil && d.Year() >= 1900 {
					return d.Format(time.DateOnly), ""
				}
			}
		}
		return "", "there is no such day; write 2026-12-04, or with the month first 12/4/2026"
	}
	return "", "want a day like 2026-12-04 or 12/4/2026"
}
