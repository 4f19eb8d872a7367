package results

import (
	"fmt"
	"math"
	"strings"

	"nospark/grading"
	"nospark/printouts/workbook"
)

const scoresSheet = "Scores"

// Rows of the scores above the students.
const (
	weightRow  = 2
	tryRow     = 3
	scoresHead = 4
)

// part is a part of the mark that has a weight in the rubric.
type part struct {
	name   string
	weight int
	points func(*grading.StudentResult) float64 // NaN while the instructor has not judged
}

// parts lists the parts of the mark that have weight in this lab's rubric. The instructor's own two go by other
// names than their columns, which stand on the same sheet with what was entered.
func (r *report) parts() []part {
	w := r.lab.Rubric
	var some []part
	for _, p := range []part{
		{"evidence", w.Evidence, func(s *grading.StudentResult) float64 { return s.Parts.Evidence }},
		{"diagnosis", w.Diagnosis, func(s *grading.StudentResult) float64 { return s.Parts.Diagnosis }},
		{"efficiency", w.Efficiency, func(s *grading.StudentResult) float64 { return s.Parts.Efficiency }},
		{"interpretation", w.Interpretation, func(s *grading.StudentResult) float64 { return s.Parts.Interpretation }},
		{"reasoning part", w.Reasoning, func(s *grading.StudentResult) float64 {
			return blankUnless(s.Reasoning >= 0,
				s.Parts.Reasoning)
		}},
		{"safety part", w.Safety, func(s *grading.StudentResult) float64 {
			return blankUnless(s.Safe >= 0,
				s.Parts.Safety)
		}},
	} {
		if p.weight > 0 {
			some = append(some, p)
		}
	}
	return some
}

// scores writes one row per student. Marks and their parts are values; beside each mark stands a live formula that
// makes it from its parts again, so that an instructor can check the sum and try other weights without grading anew.
// Every part is its weight times a share, so other weights need nothing but the parts.
func (r *report) scores() explained {
	s := r.AddSheet(scoresSheet)
	s.TabColor = workbook.Blue
	parts := r.parts()
	columns := scoreColumns(parts)
	first := workbook.ColumnIndex(columns, "right") + 1 // the parts begin here
	var rows [][]any
	for i, student := range r.students {
		rows = append(rows, r.scoreRow(student, parts, scoresHead+1+i, first))
	}
	s.Set(1, 1, workbook.TitleStyle, "Scores: "+r.lab.Title)
	s.Set(weightRow, 1, workbook.NoteStyle, r.headline())
	s.Set(tryRow, 1, workbook.NoteStyle, "Type other weights into the framed cells of this row to see the marks that "+
		"they would give.")
	end := s.MainTable(scoresHead, columns, rows, 3)
	writeWeights(s, parts, first)
	// what can be read on a page; the rest is for the screen
	s.PrintedColumns = workbook.ColumnIndex(columns, "steps") - 1
	if len(rows) == 0 {
		return explained{scoresSheet, columns}
	}
	mark := first + len(parts)
	s.Bars(scoresHead+1, end-1, mark, "100", workbook.SkyBlue)
	s.Bars(scoresHead+1, end-1, workbook.ColumnIndex(columns, "lost"), most(lostMinutes(r.students)), workbook.Orange)
	s.Highlight(workbook.Ref(scoresHead+1, mark+1)+":"+workbook.Ref(end-1, mark+1), differs(mark, first, len(parts)),
		workbook.PaleAmber, `"≠ "0.0`)
	// A provisional mark has a sign as well as a color; the status itself is in words anyway.
	status := workbook.ColumnIndex(columns, "status")
	s.Highlight(workbook.Ref(scoresHead+1, status)+":"+workbook.Ref(end-1, status),
		fmt.Sprintf(`$%s="provisional"`, workbook.Ref(scoresHead+1, status)), workbook.PaleAmber, `"! "@`)
	return explained{scoresSheet, columns}
}

// most is the upper end of a scale of bars, as the file has it.
func most(values []float64) string {
	if len(values) == 0 {
		return "1"
	}
	return fmt.Sprint(max(1, math.Ceil(highest(values))))
}

// headline sums up how many handed in, and the reference time, in one sentence for the head of a sheet.
func (r *report) headline() string {
	handed, provisional := 0, 0
	for _, s := range r.students {
		if marked(s) {
			handed++
		}
		if s.Status == grading.Provisional {
			provisional++
		}
	}
	text := fmt.Sprintf("%s. %d students, %d with a mark. Reference time %.1f minutes.", r.lab.Date, len(r.students),
		handed, number(r.result.Reference))
	if provisional > 0 {
		text += fmt.Sprintf(" %d provisional: see Problems.", provisional)
	}
	return text
}

// writeWeights writes the weights of the rubric, which stay as they were when the lab was graded, and the row in which
// others can be tried, above the parts. Only parts with weight are there: a part of weight 0 tells nothing of its
// share.
func writeWeights(s *workbook.Sheet, parts []part, first int) {
	label := workbook.Style{Color: workbook.TextGray, Align: "right"}
	s.Set(weightRow, first-1, label, "weight")
	s.Set(tryRow, first-1, label, "try")
	for i, p := range parts {
		s.Set(weightRow, first+i, workbook.Style{Border: true, Align: "right", Format: workbook.Whole,
			Fill: workbook.PaleGray}, p.weight)
		s.Set(tryRow, first+i, workbook.Style{Border: true, Align: "right", Format: workbook.Whole, Unlocked: true},
			p.weight)
	}
	sum, total := first+len(parts), 0
	for _, p := range parts {
		total += p.weight
	}
	for _, row := range []int{weightRow, tryRow} {
		s.Set(row, sum, workbook.Style{Border: true, Align: "right", Format: workbook.Whole, Bold: true},
			workbook.Formula{Text: fmt.Sprintf("SUM(%s:%s)", workbook.Ref(row, first), workbook.Ref(row, sum-1)),
				Value: total})
	}
}

// differs is a formula that is true where the mark is not the sum of its parts although no other weights are tried:
// where it was set.
func differs(mark, first, parts int) string {
	row := func(r int) string { return workbook.FixedRef(r, first) + ":" + workbook.FixedRef(r, first+parts-1) }
	top := scoresHead + 1
	return fmt.Sprintf("AND(ISNUMBER($%s),ISNUMBER($%s),SUMPRODUCT(ABS(%s-%s))=0,ABS($%s-$%s)>0.05)",
		workbook.Ref(top, mark), workbook.Ref(top, mark+1), row(weightRow), row(tryRow), workbook.Ref(top, mark),
		workbook.Ref(top, mark+1))
}

// scoreColumns are the columns of a rubric with these parts: who, the mark and how it came about, then what it was lost
// by. What one acts on comes last, because it is the widest.
func scoreColumns(parts []part) []workbook.Column {
	columns := []workbook.Column{
		{Title: "sheet", Style: workbook.TextStyle, Note: "code on the worksheet"},
		{Title: "id", Style: workbook.Style{Border: true, Align: "left", Format: workbook.AsText},
			Note: "as in the class list"},
		{Title: "name", Style: workbook.TextStyle},
		{Title: "section", Width: 9, Style: workbook.TextStyle},
		{Title: "status", Width: 14, Style: workbook.TextStyle, Note: "graded; provisional: something does not fit, " +
			"see remarks; incomplete: handed in, but nothing to grade yet; not handed in; excused"},
		{Title: "repair concluded", Width: 34, Style: workbook.WrapStyle, Note: "code, letters and words; empty: none"},
		{Title: "right", Width: 9, Style: workbook.CenterStyle, Note: "the right repair, or one that no test could " +
			"tell from it"},
	}
	for _, p := range parts {
		columns = append(columns, workbook.Column{Title: p.name, Width: max(11, workbook.TextWidth(p.name)+2),
			Style: workbook.TenthsStyle})
	}
	return append(columns, []workbook.Column{
		{Title: "mark", Width: 10, Style: workbook.Style{Border: true, Align: "right", Bold: true,
			Format: workbook.Tenths}, Note: "sum of the parts, or set by you in adjust.toml"},
		{Title: "mark with these weights", Width: 12, Style: workbook.TenthsStyle, Note: "live formula with the row " +
			"\"try\"; ≠ where a mark was set"},
		{Title: "e", Width: 7, Style: workbook.Style{Border: true, Align: "right", Format: "0.00"},
			Note: "share of the other repairs ruled out, by how common"},
		{Title: "minutes", Width: 10, Style: workbook.TenthsStyle, Note: "of all steps"},
		{Title: "best play", Width: 8, Style: workbook.TenthsStyle, Note: "minutes of best play to this fault"},
		{Title: "lost", Width: 9, Style: workbook.TenthsStyle, Note: "minutes lost, the sum of the next three"},
		{Title: "steps", Width: 8, Style: workbook.TenthsStyle, Note: "lost by steps that were not best"},
		{Title: "too early", Width: 8, Style: workbook.TenthsStyle, Note: "lost by concluding before it was proven"},
		{Title: "wrong repair", Width: 8, Style: workbook.TenthsStyle, Note: "minutes of a repair that was not needed"},
		{Title: "steps taken", Width: 8, Style: workbook.WholeStyle},
		{Title: "steps needed", Width: 8, Style: workbook.WholeStyle, Note: "steps of best play to this fault"},
		{Title: "reasoning", Width: 11, Style: workbook.WholeStyle, Note: "your 0 to 4"},
		{Title: "safe", Width: 7, Style: workbook.CenterStyle, Note: "your yes or no"},
		{Title: "to practice next", Width: 66, Style: workbook.WrapStyle},
		{Title: "remarks", Width: 50, Style: workbook.TextStyle}, // long; the last column may run on to the right
	}...)
}

// scoreRow is the row of a student, in the order of scoreColumns. row and first say where it will stand, for its
// formula.
func (r *report) scoreRow(s *grading.StudentResult, parts []part, row, first int) []any {
	// A mark that was set without any work has no parts, minutes or repair to show.
	cells := []any{s.Sheet, workbook.OrEmpty(s.Student), workbook.OrEmpty(s.Name), workbook.OrEmpty(s.Section),
		statusWords(s.Status)}
	did := worked(s)
	if !did {
		cells = append(cells, nil, nil)
	} else {
		cells = append(cells, r.repairText(s.Repair), yesNo(s.Right))
	}
	for _, p := range parts {
		cells = append(cells, blankUnless(did, p.points(s)))
	}
	tenth := func(v float64) float64 { return blankUnless(did, v/10) }
	cells = append(cells, blankUnless(marked(s), s.Mark), r.recomputed(s, parts, row, first),
		blankUnless(did, s.Evidence), tenth(float64(s.Minutes)),
		tenth(float64(s.Best)), tenth(s.Lost), tenth(s.LostSteps), tenth(s.LostEarly), tenth(s.LostWrong))
	if !did {
		cells = append(cells, nil, nil)
	} else {
		cells = append(cells, len(s.Steps), len(s.Path))
	}
	var reasoning, safe any
	if s.Reasoning >= 0 {
		reasoning = s.Reasoning
	}
	if s.Safe >= 0 {
		safe = yesNo(s.Safe == 1)
	}
	remarks := append([]string{s.Why}, s.Remarks...)
	return append(cells, reasoning, safe, workbook.OrEmpty(s.Practice), workbook.OrEmpty(joined("; ", remarks...)))
}

// recomputed is the live formula of a mark:
//
//	sum of part x try / weight, times sum of try / sum of try over the parts that are there
//
// A part is missing while the instructor has not judged it; then the others count for its weight too, as in the
// engine's mark. With the rubric's own weights the formula gives the mark, unless it was set.
func (r *report) recomputed(s *grading.StudentResult, parts []part, row, first int) any {
	if !worked(s) || len(parts) == 0 {
		return nil
	}
	here := workbook.Ref(row, first) + ":" + workbook.Ref(row, first+len(parts)-1)
	line := func(of int) string {
		return workbook.FixedRef(of, first) + ":" + workbook.FixedRef(of, first+len(parts)-1)
	}
	present := fmt.Sprintf(`SUMPRODUCT((%s<>"")*%s)`, here, line(tryRow))
	text := fmt.Sprintf("IF(%s=0,0,SUMPRODUCT(%s,%s/%s)*SUM(%s)/%s)", present, here, line(tryRow), line(weightRow),
		line(tryRow), present)
	sum, total, open := 0.0, 0.0, 0.0
	for _, p := range parts {
		total += float64(p.weight)
		if v := p.points(s); math.IsNaN(v) {
			open += float64(p.weight)
		} else {
			sum += v
		}
	}
	if open < total {
		sum *= total / (total - open)
	}
	return workbook.Formula{Text: text, Value: sum}
}

// joined puts the texts that are not empty one after the other.
func joined(between string, texts ...string) string {
	var some []string
	for _, t := range texts {
		if t != "" {
			some = append(some, t)
		}
	}
	return strings.Join(some, between)
}
