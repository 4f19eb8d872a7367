package results

import (
	"fmt"

	"nospark/printouts/workbook"
)

const readMeSheet = "Read me"

// arithmetic is how a mark comes about, in the words of whoever wants to recompute it. The names are those of the
// columns of Scores.
func (r *report) arithmetic() [][2]string {
	w := r.lab.Rubric
	ref := number(r.result.Reference)
	lines := [][2]string{
		{"mark", "the sum of its parts below, 0 to 100; empty where nothing was handed in or the student is excused"},
		{"e", "how common the faults are that need another repair and were ruled out by the readings, divided by how " +
			"common all such faults are; what no test can tell from the truth does not count. The weights stand in the " +
			"sheet Suspects, with both sums: choose the sheet in its filter"},
		{"lost", "steps + too early + wrong repair. A step loses what it makes the expected time to the proof longer " +
			"than best play from the same point; concluding early loses the minutes of best play that were left; a " +
			"wrong " +
			"repair " +
			"loses its own minutes"},
		{"reference", fmt.Sprintf("minutes that best play takes on average from where a sheet begins, its known "+
			"readings "+
			"included; over the sheets of this lab it is %.1f", ref)},
		{fmt.Sprintf("evidence, %d", w.Evidence), fmt.Sprintf("%d x e", w.Evidence)},
		{fmt.Sprintf("diagnosis, %d", w.Diagnosis), fmt.Sprintf("%d x c for the right repair, or one that no test "+
			"can tell from it; c is the weight that speaks for it divided by the weight of all that is left, owed "+
			"checks "+
			"included, 1 once it is proven; a wrong one that every reading still allows earns the smaller of e/4 and "+
			"half "+
			"the smaller c of the two; else 0", w.Diagnosis)},
		{fmt.Sprintf("efficiency, %d", w.Efficiency), fmt.Sprintf("%d x e x reference / (reference + 2 x lost)",
			w.Efficiency)},
		{fmt.Sprintf("interpretation, %d", w.Interpretation),
			fmt.Sprintf("%d x (counted - wrong verdicts) / counted x (steps needed - steps missing) / steps needed. "+
				"A missing verdict is a wrong one. All wrong ones count, right ones where the step lost less than "+
				"all its "+
				"minutes; "+
				"counted is the smaller of their number and steps needed; a result below 0 is 0. Steps missing are "+
				"those that "+
				"best "+
				"play to the fault would still have had to make at the end", w.Interpretation)},
	}
	if w.Reasoning > 0 {
		lines = append(lines, [2]string{fmt.Sprintf("reasoning, %d", w.Reasoning),
			fmt.Sprintf("%d x your 0 to 4, divided by 4", w.Reasoning)})
	}
	if w.Safety > 0 {
		lines = append(lines, [2]string{fmt.Sprintf("safety, %d", w.Safety),
			fmt.Sprintf("%d if you entered yes, 0 if no", w.Safety)})
	}
	// Otherwise the sum of the parts would not be the mark, and somebody would look for the mistake.
	if w.Reasoning+w.Safety > 0 {
		lines = append(lines, [2]string{"not yet judged", "while your own column is empty the mark is provisional, " +
			"and the other parts count for 100 together"})
	}
	return append(lines, r.workedExample()...)
}

// workedExample recomputes one mark with its numbers: the one nearest to the median among those not set, since an
// extreme one would hide parts of the arithmetic. The reader can look it up by its sheet.
func (r *report) workedExample() [][2]string {
	middle := median(marks(r.students))
	best := -1
	for i, s := range r.students {
		if worked(s) && !s.Set && (best < 0 || abs(s.Mark-middle) < abs(r.students[best].Mark-middle)) {
			best = i
		}
	}
	if best < 0 {
		return nil
	}
	s, w := r.students[best], r.lab.Rubric
	// With as many decimals as make the sum come out on paper.
	ref, lost := number(s.Reference), s.Lost/10
	return [][2]string{{"example", fmt.Sprintf("sheet %s: e = %.3f, lost = %.2f. evidence %d x %.3f = %.2f; "+
		"diagnosis %.2f; efficiency %d x %.3f x %.1f / (%.1f + 2 x %.2f) = %.2f; interpretation %.2f; mark %.1f",
		s.Sheet, s.Evidence, lost, w.Evidence, s.Evidence, s.Parts.Evidence, s.Parts.Diagnosis, w.Efficiency,
		s.Evidence, ref, ref, lost, s.Parts.Efficiency,
		s.Parts.Interpretation, s.Mark)}}
}

// abs is the distance from zero.
func abs(v float64) float64 { return max(v, -v) }

// readMe explains every column and the arithmetic of the mark, on one page. The explanations are the notes of the
// columns themselves, so that a new column cannot be forgotten here.
func (r *report) readMe(tables []explained) {
	s := r.AddSheet(readMeSheet)
	s.OnePage = true
	const pairs = 3 // stacks of explanations beside each other, so that all fit one screen
	for i := range pairs {
		s.Widths[1+3*i], s.Widths[2+3*i], s.Widths[3+3*i] = 18, 44, 2
	}
	s.Set(1, 1, workbook.TitleStyle, "How to read these results")
	s.Set(2, 1, workbook.NoteStyle, "For the instructor. Times are minutes. Everything follows from what was handed "+
		"in and from the lab as it was built; a row of the sheet Scores can be recomputed with a pencil:")
	row := 4
	name := workbook.Style{Bold: true, Top: true, Border: true, Align: "left", Fill: workbook.PaleGray}
	text := workbook.Style{Top: true, Wrap: true, Border: true, Align: "left"}
	for _, line := range r.arithmetic() {
		s.Set(row, 1, name, line[0])
		s.Merge(row, 2, 3*pairs-1, text, line[1])
		s.FitLines(row, workbook.LineCount(line[1], s.Span(2, 3*pairs-1)))
		row++
	}
	row++
	small := workbook.Style{Size: 9, Border: true, Align: "left", Wrap: true, Top: true}
	smallName := small
	smallName.Bold, smallName.Fill = true, workbook.PaleGray
	// The columns of the tables, in three stacks; columns whose heading says it all, and the parts explained above, are
	// left out.
	stacks := [pairs][]explained{}
	for i, t := range tables {
		stacks[min(i, pairs-1)] = append(stacks[min(i, pairs-1)], t)
	}
	for i, stack := range stacks {
		at := row
		for _, t := range stack {
			if at > row {
				at++
			}
			s.Set(at, 1+3*i, workbook.HeadingStyle, "Columns of "+t.sheet)
			at++
			for _, c := range t.columns {
				if c.Note != "" {
					s.Set(at, 1+3*i, smallName, c.Title)
					s.Set(at, 2+3*i, small, c.Note)
					s.FitLines(at, max(workbook.LineCount(c.Title, 1.1*s.Widths[1+3*i]-2),
						workbook.LineCount(c.Note, 1.1*s.Widths[2+3*i]-2)))
					at++
				}
			}
		}
	}
}
