package lists

import (
	"fmt"
	"slices"
	"strings"

	"nospark/grading"
	"nospark/grading/evidence"
	"nospark/scenarios/spelling"
	"nospark/scenarios/tabular"
)

// SignOffsFile is a list of signatures in the folder of a term, and SignBook a workbook of what may be signed. Neither
// counts as it is: what stands in them is checked and goes into the register of awards, chained under the term's key.
const (
	SignOffsFile = "signoffs.csv"
	SignBook     = "to-sign.xlsx"
	SignSheet    = "Sign" // of the workbook
)

// SignOff says that an instructor has signed a competency of a student.
type SignOff struct {
	Place      string // "signoffs.csv:7"
	Student    string // id
	Competency string
	Date       string // 2006-01-02
	By         string
}

// signColumns are the headings by which a list of signatures is known, the usual one first. A list without the last one
// is signed line by line.
var signColumns = [][]string{
	{"id", "student id", "student number", "student"},
	{"competency", "competency code", "code"},
	{"date", "date signed", "signed on"},
	{"by", "initials", "signed by", "instructor"},
	{"sign", "sign?", "signed"},
}

// IsSignHeading tells the headings of a list of signatures, in their folded form.
func IsSignHeading(heading string) bool {
	return slices.ContainsFunc(signColumns, func(names []string) bool { return slices.Contains(names, heading) })
}

// headingRows is how far down the headings are looked for.
const headingRows = 20

// signHeading finds the row of the headings and the columns; without one it says what is missing.
func signHeading(file string, rows []tabular.Row) (row int, at []int, problem *grading.Problem) {
	best, most := -1, 0
	for i, r := range rows[:min(len(rows), headingRows)] {
		at = make([]int, len(signColumns))
		found := 0
		for k, names := range signColumns {
			if at[k] = tabular.Find(r.Cells, names); at[k] >= 0 && k < 4 {
				found++
			}
		}
		if found == 4 {
			return i, at, nil
		}
		if found > most {
			best, most = i, found
		}
	}
	want := "its headings are id,competency,date,by, and sign where not all lines are signed"
	if best < 0 {
		return 0, nil, &grading.Problem{Place: file, What: "has no line of headings", Do: want}
	}
	var missing, unknown []string
	heading := rows[best].Cells
	for _, names := range signColumns[:4] {
		if tabular.Find(heading, names) < 0 {
			missing = append(missing, names[0])
		}
	}
	for _, h := range heading {
		if !slices.ContainsFunc(signColumns, func(names []string) bool {
			return slices.Contains(names,
				tabular.Fold(h))
		}) {
			unknown = append(unknown, h)
		}
	}
	what := fmt.Sprintf("has no column %q", missing[0])
	for _, h := range unknown {
		if near := spelling.Nearest(tabular.Fold(h), missing); near != "" {
			what = fmt.Sprintf("has no column %q; is it %q?", near, h)
			break
		}
	}
	return 0, nil, &grading.Problem{Place: fmt.Sprintf("%s:%d", file, rows[best].Line), What: what, Do: want}
}

// ParseSignOffs reads what somebody wants to sign: the columns id, competency (its id or its title), date and by, in
// any order, below headings in the first rows. Where there is a column sign, a line counts that says yes in it. Lines
// that say nothing are passed over. What cannot be read for sure is a problem of its own line and stops no other one.
func ParseSignOffs(file string, rows []tabular.Row) (list []SignOff, look []grading.Problem) {
	head, at, problem := signHeading(file, rows)
	if problem != nil {
		return nil, []grading.Problem{*problem}
	}
	for _, r := range rows[head+1:] {
		cell := func(column int) string {
			if column < 0 || column >= len(r.Cells) {
				return ""
			}
			return strings.TrimSpace(r.Cells[column])
		}
		s := SignOff{Place: fmt.Sprintf("%s:%d", file, r.Line), Student: cell(at[0]), Competency: cell(at[1]),
			Date: cell(at[2]), By: cell(at[3])}
		switch signs, what := s.decided(at[4] >= 0, cell(at[4])); {
		case what != "":
			look = append(look, grading.Problem{Place: s.Place, What: what,
				Do: "correct the line; the others are not held up"})
		case signs:
			list = append(list, s)
		}
	}
	return list, look
}

// decided tells whether a line is to be signed, puts its competency and day into their usual form, and says what is
// wrong with it.
func (s *SignOff) decided(asked bool, answer string) (signs bool, what string) {
	if s.By == "" && (s.Date == "" && answer == "" || asked && (answer == "" || isNo(answer))) ||
		asked && isNo(answer) {
		return false, "" // nobody has written anything
	}
	if asked && !isYes(answer) {
		if answer == "" {
			return false, "has initials, but nothing in the column sign"
		}
		return false, fmt.Sprintf("%q in the column sign; write yes or not yet", answer)
	}
	for _, f := range []struct{ name, text string }{{"id", s.Student}, {"competency", s.Competency}, {"date", s.Date},
		{"by", s.By}} {
		switch {
		case f.text == "":
			return false, f.name + " is missing"
		case len(f.text) > evidence.LongestText:
			return false, fmt.Sprintf("%s has %d bytes, at most %d are read", f.name, len(f.text), evidence.LongestText)
		}
	}
	day, wrong := parseDay(s.Date)
	if wrong != "" {
		return false, fmt.Sprintf("date %q: %s", s.Date, wrong)
	}
	s.Date, s.Competency = day, competencyID(s.Competency)
	return true, ""
}

func isYes(text string) bool {
	return slices.Contains([]string{"yes", "y", "sign", "signed", "x", "true", "1"}, strings.ToLower(text))
}

func isNo(text string) bool {
	return slices.Contains([]string{"not yet", "no", "n", "false", "0"}, strings.ToLower(text))
}

// competencyID gives the id of a competency that is named by its id or its title; what is neither stays as it is.
func competencyID(text string) string {
	for _, c := range evidence.Table() {
		if tabular.Fold(text) == tabular.Fold(c.ID) || tabular.Fold(text) == tabular.Fold(c.Title) {
			return c.ID
		}
	}
	return text
}
