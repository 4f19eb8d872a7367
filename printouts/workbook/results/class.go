package results

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"nospark/grading"
	"nospark/printouts/workbook"
)

const classSheet = "Class"

// Columns of the page of the class: tables at the left, charts from chartColumn on. The column between them only keeps
// them apart.
const (
	classLabel  = 1
	chartColumn = 8
)

// class writes one page about the class as a whole: figures and small tables at the left, charts of two of them at the
// right, and below both what several students had in common.
func (r *report) class() {
	s := r.AddSheet(classSheet)
	s.OnePage = true
	s.Widths[classLabel] = 40
	for c := 2; c < chartColumn-1; c++ {
		s.Widths[c] = 13
	}
	s.Widths[chartColumn-1] = 3
	s.Set(1, 1, workbook.TitleStyle, "Class: "+r.lab.Title)
	s.Set(2, 1, workbook.NoteStyle, r.headline())
	row := r.classSummary(s, 4)
	row = r.bySection(s, row+1)
	marksRow := row + 1
	row = r.distribution(s, marksRow)
	lostRow := row + 1
	row = r.lostByKind(s, lostRow)
	// Both charts together are higher than the tables beside them; what follows is as wide as the page and must not lie
	// under a chart.
	const below = 46
	row = writeTallies(s, max(row+1, below), "What came more than once", "remark", r.recurring())
	writeTallies(s, row+1, "What to practice next", "advice", r.advice())
	// Charts draw from the cells of the tables, so that nobody can change one of the two alone.
	s.ColumnChart(workbook.Ref(4, chartColumn), workbook.Chart{Title: "How many students have which mark",
		Across: "mark", Up: "students",
		Labels: s.Range(marksRow+2, 1, marksRow+11, 1), Values: s.Range(marksRow+2, 2, marksRow+11, 2),
		Alt: fmt.Sprintf("Columns: number of students by mark, in tens; the numbers are in the table %q at the left.",
			"Marks"), Color: workbook.SkyBlue, Number: workbook.Whole})
	s.ColumnChart(workbook.Ref(25, chartColumn), workbook.Chart{Title: "Minutes lost per student, mean",
		Across: "lost by", Up: "minutes",
		Labels: s.Range(lostRow+2, 1, lostRow+4, 1), Values: s.Range(lostRow+2, 2, lostRow+4, 2),
		Alt: "Columns: mean minutes lost per student by steps that were not best, by concluding too early and by " +
			"a wrong repair; the " +
			"numbers are in the table at the left.", Color: workbook.Orange, Number: workbook.Tenths})
}

// classSummary writes the figures of the class and returns the row after them. Mean and median stand together because a
// few sheets of nothing pull the one and not the other.
func (r *report) classSummary(s *workbook.Sheet, row int) int {
	// A mark can be set without any work, so marks and work are counted apart.
	all, lost := marks(r.students), lostMinutes(r.students)
	right, did, incomplete, missing, excused := 0, 0, 0, 0, 0
	for _, student := range r.students {
		switch {
		case worked(student):
			did++
			if student.Right {
				right++
			}
		case student.Status == grading.Incomplete:
			incomplete++
		case student.Status == grading.Blank:
			missing++
		case student.Status == grading.Excused:
			excused++
		}
	}
	figure := func(name string, l workbook.Style, value any) {
		s.Set(row, 1, workbook.Style{Border: true, Align: "left", Fill: workbook.PaleGray}, name)
		s.Set(row, 2, l, value)
		row++
	}
	figure("students", workbook.WholeStyle, len(r.students))
	figure("handed in", workbook.WholeStyle, did)
	if incomplete > 0 {
		figure("incomplete", workbook.WholeStyle, incomplete)
	}
	figure("not handed in", workbook.WholeStyle, missing)
	// Nobody misses a row of nobody, and most classes have none.
	if excused > 0 {
		figure("excused", workbook.WholeStyle, excused)
	}
	figure("right repair", workbook.Style{Border: true, Align: "right"}, fmt.Sprintf("%d of %d", right, did))
	figure("mean mark", workbook.TenthsStyle, mean(all))
	figure("middle mark (median)", workbook.TenthsStyle, median(all))
	figure("lowest and highest mark", workbook.Style{Border: true, Align: "right"}, rangeText(all))
	figure("mean minutes lost", workbook.TenthsStyle, mean(lost))
	figure("minutes of best play, easiest to hardest", workbook.Style{Border: true, Align: "right"},
		fmt.Sprintf("%.1f to %.1f", number(r.result.Spread.Low), number(r.result.Spread.High)))
	return row
}

// rangeText is the lowest and the highest value in words; an empty cell for no values.
func rangeText(values []float64) any {
	if len(values) == 0 {
		return nil
	}
	return fmt.Sprintf("%.1f to %.1f", lowest(values), highest(values))
}

// bySection writes a row per section. A lab of one section has it too: its name is nowhere else on the page.
func (r *report) bySection(s *workbook.Sheet, row int) int {
	of := map[string][]*grading.StudentResult{} // sorted by name below
	for _, student := range r.students {
		of[student.Section] = append(of[student.Section], student)
	}
	var names []string
	for name := range of {
		names = append(names, name)
	}
	slices.Sort(names)
	var rows [][]any
	for _, name := range names {
		right, did := 0, 0
		for _, student := range of[name] {
			if worked(student) {
				did++
				if student.Right {
					right++
				}
			}
		}
		rows = append(rows, []any{cmp.Or(name, "(no section)"), len(of[name]), did, right, mean(marks(of[name])),
			mean(lostMinutes(of[name]))})
	}
	s.Set(row, 1, workbook.HeadingStyle, "By section")
	return s.Table(row+1, 1, []workbook.Column{
		{Title: "section", Style: workbook.TextStyle}, {Title: "students", Style: workbook.WholeStyle},
		{Title: "handed in", Style: workbook.WholeStyle}, {Title: "right", Style: workbook.WholeStyle},
		{Title: "mean mark", Style: workbook.TenthsStyle}, {Title: "mean lost", Style: workbook.TenthsStyle},
	}, rows)
}

// distribution counts the marks by tens. A mark belongs where it is shown, rounded to a tenth.
func (r *report) distribution(s *workbook.Sheet, row int) int {
	// Rounded first: 89.96 is shown as 90.0 and has to be found among the nineties.
	var counts [10]int
	for _, m := range marks(r.students) {
		counts[max(0, min(9, int(math.Round(m*10)/10/10)))]++
	}
	var rows [][]any
	for i, n := range counts {
		label := fmt.Sprintf("%d to %d", 10*i, 10*i+9)
		if i == 9 {
			label = "90 to 100"
		}
		rows = append(rows, []any{label, n})
	}
	s.Set(row, 1, workbook.HeadingStyle, "Marks")
	return s.Table(row+1, 1, []workbook.Column{{Title: "mark", Style: workbook.TextStyle},
		{Title: "students", Style: workbook.WholeStyle}}, rows)
}

// lostByKind writes the minutes lost per student, by what cost them: each of the three asks for another lesson. Results
// have tenths of a minute.
func (r *report) lostByKind(s *workbook.Sheet, row int) int {
	var steps, early, wrong []float64
	for _, student := range r.students {
		if worked(student) {
			steps = append(steps, student.LostSteps/10)
			early = append(early, student.LostEarly/10)
			wrong = append(wrong, student.LostWrong/10)
		}
	}
	s.Set(row, 1, workbook.HeadingStyle, "Minutes lost per student")
	return s.Table(row+1, 1, []workbook.Column{{Title: "lost by", Style: workbook.TextStyle},
		{Title: "mean", Style: workbook.TenthsStyle}, {Title: "most", Style: workbook.TenthsStyle}}, [][]any{
		{"steps that were not best", mean(steps), highest(steps)},
		{"concluding too early", mean(early), highest(early)},
		{"a wrong repair", mean(wrong), highest(wrong)},
	})
}
