package workbook

import (
	"fmt"
	"math"
	"strings"

	"nospark/grading"
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

// parts lists the parts of the mark that have weight in this lab's rubric. The instructor's own two go by other names than their columns, which
// stand on the same sheet with what was entered.
func (r *report) parts() []part {
	w := r.lab.Rubric
	var some []part
	for _, p := range []part{
		{"evidence", w.Evidence, func(s *grading.StudentResult) float64 { return s.Parts.Evidence }},
		{"diagnosis", w.Diagnosis, func(s *grading.StudentResult) float64 { return s.Parts.Diagnosis }},
		{"efficiency", w.Efficiency, func(s *grading.StudentResult) float64 { return s.Parts.Efficiency }},
		{"interpretation", w.Interpretation, func(s *grading.StudentResult) float64 { return s.Parts.Interpretation }},
		{"reasoning part", w.Reasoning, func(s *grading.StudentResult) float64 { return blankUnless(s.Reasoning >= 0, s.Parts.Reasoning) }},
		{"safety part", w.Safety, func(s *grading.StudentResult) float64 { return blankUnless(s.Safe >= 0, s.Parts.Safety) }},
	} {
		if p.weight > 0 {
			some = append(some, p)
		}
	}
	return some
}

// scores writes one row per student. Marks and their parts are values; beside each mark stands a live formula that makes it from its
// parts again, so that an instructor can check the sum and try other weights without grading anew. Every part is its weight times a
// share, so other weights need nothing but the parts.
func (r *report) scores() explained {
	s := r.sheet(scoresSheet)
	s.tab = blue
	parts := r.parts()
	columns := scoreColumns(parts)
	first := place(columns, "right") + 1 // the parts begin here
	var rows [][]any
	for i, student := range r.students {
		rows = append(rows, r.scoreRow(student, parts, scoresHead+1+i, first))
	}
	s.set(1, 1, titleLook, "Scores: "+r.lab.Title)
	s.set(weightRow, 1, noteLook, r.headline())
	s.set(tryRow, 1, noteLook, "Type other weights into the framed cells of this row to see the marks that they would give.")
	end := s.main(scoresHead, columns, rows, 3)
	s.weights(parts, first)
	s.printed = place(columns, "steps") - 1 // what can be read on a page; the rest is for the screen
	if len(rows) == 0 {
		return explained{scoresSheet, columns}
	}
	mark := first + len(parts)
	s.bars(scoresHead+1, end-1, mark, "100", skyBlue)
	s.bars(scoresHead+1, end-1, place(columns, "lost"), most(lostMinutes(r.students)), orange)
	s.when(at(scoresHead+1, mark+1)+":"+at(end-1, mark+1), s.differs(mark, first, len(parts)), paleAmber, `"≠ "0.0`)
	// A provisional mark has a sign as well as a colour; the status itself is in words anyway.
	status := place(columns, "status")
	s.when(at(scoresHead+1, status)+":"+at(end-1, status), fmt.Sprintf(`$%s="provisional"`, at(scoresHead+1, status)), paleAmber, `"! "@`)
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
	text := fmt.Sprintf("%s. %d students, %d with a mark. Reference time %.1f minutes.", r.lab.Date, len(r.students), handed, number(r.result.Reference))
	if provisional > 0 {
		text += fmt.Sprintf(" %d provisional: see Problems.", provisional)
	}
	return text
}

// weights writes the weights of the rubric, which stay as they were when the lab was graded, and the row in which others can be tried,
// above the parts. Only parts with weight are there: a part of weight 0 tells nothing of its share.
func (s *sheet) weights(parts []part, first int) {
	label := look{Ink: textGrey, Across: "right"}
	s.set(weightRow, first-1, label, "weight")
	s.set(tryRow, first-1, label, "try")
	for i, p := range parts {
		s.set(weightRow, first+i, look{Border: true, Across: "right", Number: whole, Fill: paleGrey}, p.weight)
		s.set(tryRow, first+i, look{Border: true, Across: "right", Number: whole, Unlocked: true}, p.weight)
	}
	sum, total := first+len(parts), 0
	for _, p := range parts {
		total += p.weight
	}
	for _, row := range []int{weightRow, tryRow} {
		s.set(row, sum, look{Border: true, Across: "right", Number: whole, Bold: true},
			formula{fmt.Sprintf("SUM(%s:%s)", at(row, first), at(row, sum-1)), total})
	}
}

// differs is a formula that is true where the mark is not the sum of its parts although no other weights are tried: where it was set.
func (s *sheet) differs(mark, first, parts int) string {
	row := func(r int) string { return fixed(r, first) + ":" + fixed(r, first+parts-1) }
	top := scoresHead + 1
	return fmt.Sprintf("AND(ISNUMBER($%s),ISNUMBER($%s),SUMPRODUCT(ABS(%s-%s))=0,ABS($%s-$%s)>0.05)",
		at(top, mark), at(top, mark+1), row(weightRow), row(tryRow), at(top, mark), at(top, mark+1))
}

// scoreColumns are the columns of a rubric with these parts: who, the mark and how it came about, then what it was lost by. What one acts on
// comes last, because it is the widest.
func scoreColumns(parts []part) []column {
	columns := []column{
		{title: "sheet", look: textLook, note: "code on the worksheet"},
		{title: "id", look: look{Border: true, Across: "left", Number: asText}, note: "as in the class list"},
		{title: "name", look: textLook},
		{title: "section", width: 9, look: textLook},
		{title: "status", width: 14, look: textLook, note: "graded; provisional: something does not fit, see remarks; incomplete: handed in, but nothing to grade yet; not handed in; excused"},
		{title: "repair concluded", width: 34, look: wrapLook, note: "code, letters and words; empty: none"},
		{title: "right", width: 9, look: midLook, note: "the right repair, or one that no test could tell from it"},
	}
	for _, p := range parts {
		columns = append(columns, column{title: p.name, width: max(11, textWidth(p.name)+2), look: tenthsLook})
	}
	return append(columns, []column{
		{title: "mark", width: 10, look: look{Border: true, Across: "right", Bold: true, Number: tenths}, note: "sum of the parts, or set by you in adjust.toml"},
		{title: "mark with these weights", width: 12, look: tenthsLook, note: "live formula with the row \"try\"; ≠ where a mark was set"},
		{title: "e", width: 7, look: look{Border: true, Across: "right", Number: "0.00"}, note: "share of the other repairs ruled out, by how common"},
		{title: "minutes", width: 10, look: tenthsLook, note: "of all steps"},
		{title: "best play", width: 8, look: tenthsLook, note: "minutes of best play to this fault"},
		{title: "lost", width: 9, look: tenthsLook, note: "minutes lost, the sum of the next three"},
		{title: "steps", width: 8, look: tenthsLook, note: "lost by steps that were not best"},
		{title: "too early", width: 8, look: tenthsLook, note: "lost by concluding before it was proven"},
		{title: "wrong repair", width: 8, look: tenthsLook, note: "minutes of a repair that was not needed"},
		{title: "steps taken", width: 8, look: wholeLook},
		{title: "steps needed", width: 8, look: wholeLook, note: "steps of best play to this fault"},
		{title: "reasoning", width: 11, look: wholeLook, note: "your 0 to 4"},
		{title: "safe", width: 7, look: midLook, note: "your yes or no"},
		{title: "to practise next", width: 66, look: wrapLook},
		{title: "remarks", width: 50, look: textLook}, // long; the last column may run on to the right
	}...)
}

// scoreRow is the row of a student, in the order of scoreColumns. row and first say where it will stand, for its formula.
func (r *report) scoreRow(s *grading.StudentResult, parts []part, row, first int) []any {
	// A mark that was set without any work has no parts, minutes or repair to show.
	cells := []any{s.Sheet, orNil(s.Student), orNil(s.Name), orNil(s.Section), statusWords(s.Status)}
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
	cells = append(cells, blankUnless(marked(s), s.Mark), r.recomputed(s, parts, row, first), blankUnless(did, s.Evidence), tenth(float64(s.Minutes)),
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
	return append(cells, reasoning, safe, orNil(s.Practise), orNil(joined("; ", remarks...)))
}

// recomputed is the live formula of a mark:
//
//	sum of part x try / weight, times sum of try / sum of try over the parts that are there
//
// A part is missing while the instructor has not judged it; then the others count for its weight too, as in the engine's mark. With the
// rubric's own weights the formula gives the mark, unless it was set.
func (r *report) recomputed(s *grading.StudentResult, parts []part, row, first int) any {
	if !worked(s) || len(parts) == 0 {
		return nil
	}
	here := at(row, first) + ":" + at(row, first+len(parts)-1)
	line := func(of int) string { return fixed(of, first) + ":" + fixed(of, first+len(parts)-1) }
	present := fmt.Sprintf(`SUMPRODUCT((%s<>"")*%s)`, here, line(tryRow))
	text := fmt.Sprintf("IF(%s=0,0,SUMPRODUCT(%s,%s/%s)*SUM(%s)/%s)", present, here, line(tryRow), line(weightRow), line(tryRow), present)
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
	return formula{text, sum}
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
