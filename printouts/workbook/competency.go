package workbook

import (
	"cmp"
	"errors"
	"fmt"
	"iter"
	"slices"

	"nospark/grading/competency"
)

// CompetencyOptions say what a workbook of a term shows.
type CompetencyOptions struct {
	Names bool // ids and names; otherwise codes, in an order that tells nothing about names
}

// onPaper stands on every sheet of a term's workbook.
const onPaper = competency.OnPaper

// The sheets of the workbook.
const (
	matrixSheet   = "Matrix"
	standingSheet = "Standings"
	trendSheet    = "Trend"
	evidenceSheet = "Evidence"
	programSheet  = "Program"
	sectionsSheet = "Sections"
	mapSheet      = "Map"
	rulesSheet    = "Rules"
	lookAtSheet   = "Problems"
)

// summary is what the sheets of a term's workbook are made from. Its methods write a sheet each, in the order of their tabs.
type summary struct {
	*book
	t     *competency.Term
	names bool
	order []int             // students as they are listed
	code  map[string]string // by id
}

// Competency makes the workbook of a term: who can do what, on how much evidence, and where it goes. The error is about options that
// the term cannot meet.
func Competency(t *competency.Term, o CompetencyOptions) ([]byte, error) {
	s := &summary{t: t, names: o.Names, code: map[string]string{}}
	for i := range t.Students {
		student := &t.Students[i]
		if !o.Names && student.Code == "" {
			return nil, errors.New("students have codes only with the key of the term")
		}
		s.order = append(s.order, i)
		s.code[student.ID] = student.Code
	}
	date := ""
	if n := len(t.Records); n > 0 {
		date = t.Records[n-1].Date
	}
	if !o.Names {
		slices.SortStableFunc(s.order, func(a, b int) int {
			x, y := &t.Students[a], &t.Students[b]
			return cmp.Or(cmp.Compare(x.Section, y.Section), cmp.Compare(x.Code, y.Code))
		})
	}
	// Dated by the latest lab and not by today, so that the same records give the same bytes.
	s.book = newBook("Competency, "+t.Term.Program, t.Term.Paper, date)
	s.matrix()
	s.standings()
	s.trend()
	s.evidence()
	s.program()
	s.sections()
	s.hiddenFaults()
	s.tasks()
	s.rules()
	s.lookAt()
	return s.bytes(matrixSheet)
}

// statusLook is how a status is shown beside its words: a sign and a colour that say the same.
type statusLook struct {
	sign, fill string
}

// What the matrix says beside a status.
const (
	underHalf    = "✗ under half"
	latestMissed = "latest missed"
)

var statusLooks = [...]statusLook{
	competency.TooLittle: {"…", paleGrey},
	competency.NotYet:    {"✗", deepAmber},
	competency.ToSign:    {"✎", paleBlue},
	competency.Competent: {"✓", paleGreen},
}

// Colours of the matrix beside those of all workbooks: tints of the same set. They get darker with the distance from competent, so that a
// black-and-white print is a heat map too.
const (
	paleGreen      = "DDF3EA"
	deepAmber      = "F3D9A4"
	paleVermillion = "EFB48A"
)

// arrows stand for a direction.
var arrows = [...]string{competency.Unclear: "", competency.Better: "↑", competency.Steady: "→", competency.Worse: "↓"}

// statusText is a status with its sign, by which it can be filtered.
func statusText(s competency.Status) string { return statusLooks[s].sign + " " + s.String() }

// studentColumns are the columns that say who somebody is. They are as wide as the texts need, the same on every sheet: what they do not take
// makes the print of the matrix larger.
func (s *summary) studentColumns() []column {
	if !s.names {
		return []column{{title: "section", width: 9, look: textLook}, {title: "student", width: 13, look: textLook}}
	}
	id, name := 8.0, 14.0
	for i := range s.t.Students {
		id = max(id, textWidth(s.t.Students[i].ID)+2.5)
		name = max(name, textWidth(s.t.Students[i].Name)+2.5)
	}
	return []column{{title: "section", width: 9, look: textLook},
		{title: "id", width: min(id, maxWidth), look: look{Border: true, Across: "left", Number: asText}},
		{title: "name", width: min(name, maxWidth), look: wrapLook}}
}

// studentCells are their values.
func (s *summary) studentCells(student *competency.Student) []any {
	if !s.names {
		return []any{orNil(student.Section), student.Code}
	}
	return []any{orNil(student.Section), student.ID, orNil(student.Name)}
}

// Rows of the matrix above the students.
const (
	legendRow  = 3
	countRow   = 4
	matrixHead = 5
)

// matrix writes one row per student and one column per competency: the whole class on one page, as a heat map whose cells can be read without
// the heat.
func (s *summary) matrix() {
	t, rule := s.t, s.t.Term.Mastery
	sh := s.sheet(matrixSheet)
	sh.tab = blue
	sh.set(1, 1, titleLook, "Competency: "+t.Term.Program)
	note := fmt.Sprintf("%s %s", onPaper, s.coverage())
	sh.set(2, 1, noteLook, note)
	columns := append(s.studentColumns(), column{title: "sheets", width: 8, look: midLook})
	first := len(columns) + 1
	for _, c := range t.Competencies {
		columns = append(columns, column{title: c.Title, width: 13, look: midLook})
	}
	var rows [][]any
	for _, i := range s.order {
		student := &t.Students[i]
		row := append(s.studentCells(student), student.Sheets)
		for range t.Competencies {
			row = append(row, nil) // written below, each with its own look
		}
		rows = append(rows, row)
	}
	// To the right of the title, since the rows below it are full.
	sh.set(1, first+5, noteLook, "More: Standings by student, Trend by lab, Evidence for every opportunity, Rules for what is counted.")
	sh.legend(legendRow, first, rule.Of)
	end := sh.main(matrixHead, columns, rows, len(s.studentColumns()))
	for r, i := range s.order {
		for c := range t.Competencies {
			sh.standing(matrixHead+1+r, first+c, &t.Students[i].Standings[c])
		}
	}
	sh.merge(countRow, 1, first-1, look{Ink: textGrey, Across: "right"}, "students by status")
	for c := range t.Competencies {
		sh.counts(countRow, first+c, matrixHead+1, end-1, c, s)
	}
	sh.heights[countRow] = 2*lineHeight + 4
}

// coverage says what the workbook rests on. Sheets that wait and problems are told here, on the first sheet, because each of them changes the
// figures.
func (s *summary) coverage() string {
	labs := s.t.Labs()
	text := fmt.Sprintf("%s, %s", count(len(s.t.Students), "student", "students"), count(len(labs), "lab", "labs"))
	if n := len(labs); n > 0 {
		text += fmt.Sprintf(" from %s to %s", labs[0].Date, labs[n-1].Date)
	}
	waiting := 0
	for i := range s.t.Students {
		waiting += s.t.Students[i].Waiting
	}
	if waiting > 0 {
		text += fmt.Sprintf("; %s without evidence until confirmed", count(waiting, "provisional sheet", "provisional sheets"))
	}
	if n := len(s.t.Problems); n > 0 {
		text += fmt.Sprintf("; %s in the records", count(n, "thing to look at", "things to look at"))
	}
	return text + "."
}

// legend explains the signs in the row above the table; first is the column of the first competency, of the rule's number of opportunities.
func (sh *sheet) legend(row, first, of int) {
	for i, status := range []competency.Status{competency.Competent, competency.ToSign, competency.NotYet, competency.TooLittle} {
		sh.set(row, first+i, look{Border: true, Across: "center", Fill: statusLooks[status].fill}, statusText(status))
	}
	sh.set(row, first+4, look{Border: true, Across: "center", Fill: paleVermillion}, underHalf)
	sh.set(row, first+5, noteLook, fmt.Sprintf("3 of %d, n 8: met 3 of the last %d opportunities, 8 in the term. ↑ more met in their later half than in the earlier, → as many, ↓ fewer.", of, of))
}

// standing writes one cell of the matrix: status, evidence and direction. The number of opportunities always stands beside the status, since
// "competent" from 5 and from 15 are not the same.
func (sh *sheet) standing(row, column int, x *competency.Standing) {
	l := statusLooks[x.Status]
	fill := l.fill
	if x.Status == competency.NotYet && 2*x.MetInWindow < x.Window {
		fill = paleVermillion
	}
	evidence := fmt.Sprintf("%d of %d, n %d %s", x.MetInWindow, x.Window, len(x.Opportunities), arrows[x.Direction])
	lines := stacked{statusText(x.Status), evidence}
	if x.Status == competency.ToSign && x.LatestMissed() {
		lines = append(lines, latestMissed)
	}
	sh.set(row, column, look{Border: true, Across: "center", Fill: fill, Wrap: true}, lines)
	sh.heights[row] = max(sh.heights[row], float64(len(lines))*lineHeight+4)
}

// counts writes how many students have each status, as a formula over the column below.
func (sh *sheet) counts(row, column, from, to, c int, s *summary) {
	l := look{Border: true, Across: "center", Wrap: true, Fill: paleGrey}
	if to < from {
		sh.set(row, column, l, nil)
		return
	}
	var have [len(statusLooks)]int
	for i := range s.t.Students {
		have[s.t.Students[i].Standings[c].Status]++
	}
	// Two beside each other in two lines: CHAR(10) is a line break.
	text, value := "", stacked{"", ""}
	for i, status := range []competency.Status{competency.Competent, competency.ToSign, competency.NotYet, competency.TooLittle} {
		sign := statusLooks[status].sign
		text += fmt.Sprintf(`%s"%s "&COUNTIF(%s:%s,"%s*")`, [...]string{"", `&"  "&`, "&CHAR(10)&", `&"  "&`}[i], sign, at(from, column), at(to, column), sign)
		value[i/2] += fmt.Sprintf("%s%s %d", [...]string{"", "  "}[i%2], sign, have[status])
	}
	sh.set(row, column, l, formula{text, value})
}

// count words a number of things.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// long makes a table of n rows, which are made one at a time while the file is written; it is the last thing on its sheet. Its columns have
// widths of their own.
func (sh *sheet) long(top int, columns []column, stay, n int, rows iter.Seq[[]any]) {
	sh.main(top, columns, nil, stay)
	if n > 0 {
		sh.filter = at(top, 1) + ":" + at(top+n, len(columns))
		sh.heights[top] += lineHeight
	}
	sh.more = func(yield func([]any, float64) bool) {
		row := top
		for values := range rows {
			row++
			cells, lines := make([]any, len(columns)), 1
			for i, value := range values {
				l := columns[i].look
				if x, ok := value.(looked); ok {
					l, value = x.look, x.value
				}
				if text, ok := value.(string); ok && l.Wrap {
					lines = max(lines, lineCount(text, columns[i].width-2))
				}
				cells[i] = sh.cell(l, value, row, i+1)
			}
			height := 0.0
			if lines > 1 {
				height = float64(lines)*lineHeight + 3
			}
			if !yield(cells, height) {
				return
			}
		}
	}
}

// looked is a value with a look other than its column's.
type looked struct {
	look  look
	value any
}
