package workbook

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"nospark/grading"
)

const classSheet = "Class"

// Columns of the page of the class: tables at the left, charts from chartColumn on. The column between them only keeps them apart.
const (
	classLabel  = 1
	chartColumn = 8
)

// class writes one page about the class as a whole: figures and small tables at the left, charts of two of them at the right, and below
// both what several students had in common.
func (r *report) class() {
	s := r.sheet(classSheet)
	s.onePage = true
	s.widths[classLabel] = 40
	for c := 2; c < chartColumn-1; c++ {
		s.widths[c] = 13
	}
	s.widths[chartColumn-1] = 3
	s.set(1, 1, titleLook, "Class: "+r.lab.Title)
	s.set(2, 1, noteLook, r.headline())
	row := r.classSummary(s, 4)
	row = r.bySection(s, row+1)
	marksRow := row + 1
	row = r.distribution(s, marksRow)
	lostRow := row + 1
	row = r.lostByKind(s, lostRow)
	// Both charts together are higher than the tables beside them; what follows is as wide as the page and must not lie under a chart.
	const below = 46
	row = s.counted(max(row+1, below), "What came more than once", "remark", r.recurring())
	s.counted(row+1, "What to practise next", "advice", r.practise())
	// Charts draw from the cells of the tables, so that nobody can change one of the two alone.
	s.columnChart(at(4, chartColumn), chart{title: "How many students have which mark", across: "mark", up: "students",
		labels: s.area(marksRow+2, 1, marksRow+11, 1), values: s.area(marksRow+2, 2, marksRow+11, 2), colour: skyBlue, number: whole})
	s.columnChart(at(25, chartColumn), chart{title: "Minutes lost per student, mean", across: "lost by", up: "minutes",
		labels: s.area(lostRow+2, 1, lostRow+4, 1), values: s.area(lostRow+2, 2, lostRow+4, 2), colour: orange, number: tenths})
}

// classSummary writes the figures of the class and returns the row after them. Mean and median stand together because a few sheets of nothing
// pull the one and not the other.
func (r *report) classSummary(s *sheet, row int) int {
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
	figure := func(name string, l look, value any) {
		s.set(row, 1, look{Border: true, Across: "left", Fill: paleGrey}, name)
		s.set(row, 2, l, value)
		row++
	}
	figure("students", wholeLook, len(r.students))
	figure("handed in", wholeLook, did)
	if incomplete > 0 {
		figure("incomplete", wholeLook, incomplete)
	}
	figure("not handed in", wholeLook, missing)
	// Nobody misses a row of nobody, and most classes have none.
	if excused > 0 {
		figure("excused", wholeLook, excused)
	}
	figure("right repair", look{Border: true, Across: "right"}, fmt.Sprintf("%d of %d", right, did))
	figure("mean mark", tenthsLook, mean(all))
	figure("middle mark (median)", tenthsLook, median(all))
	figure("lowest and highest mark", look{Border: true, Across: "right"}, reach(all))
	figure("mean minutes lost", tenthsLook, mean(lost))
	figure("minutes of best play, easiest to hardest", look{Border: true, Across: "right"},
		fmt.Sprintf("%.1f to %.1f", number(r.result.Spread.Low), number(r.result.Spread.High)))
	return row
}

// reach is the lowest and the highest value in words; an empty cell for no values.
func reach(values []float64) any {
	if len(values) == 0 {
		return nil
	}
	return fmt.Sprintf("%.1f to %.1f", lowest(values), highest(values))
}

// bySection writes a row per section. A lab of one section has it too: its name is nowhere else on the page.
func (r *report) bySection(s *sheet, row int) int {
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
		rows = append(rows, []any{cmp.Or(name, "(no section)"), len(of[name]), did, right, mean(marks(of[name])), mean(lostMinutes(of[name]))})
	}
	s.set(row, 1, headingLook, "By section")
	return s.table(row+1, 1, []column{
		{title: "section", look: textLook}, {title: "students", look: wholeLook}, {title: "handed in", look: wholeLook}, {title: "right", look: wholeLook},
		{title: "mean mark", look: tenthsLook}, {title: "mean lost", look: tenthsLook},
	}, rows)
}

// distribution counts the marks by tens. A mark belongs where it is shown, rounded to a tenth.
func (r *report) distribution(s *sheet, row int) int {
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
	s.set(row, 1, headingLook, "Marks")
	return s.table(row+1, 1, []column{{title: "mark", look: textLook}, {title: "students", look: wholeLook}}, rows)
}

// lostByKind writes the minutes lost per student, by what cost them: each of the three asks for another lesson. Results have tenths of a
// minute.
func (r *report) lostByKind(s *sheet, row int) int {
	var steps, early, wrong []float64
	for _, student := range r.students {
		if worked(student) {
			steps = append(steps, student.LostSteps/10)
			early = append(early, student.LostEarly/10)
			wrong = append(wrong, student.LostWrong/10)
		}
	}
	s.set(row, 1, headingLook, "Minutes lost per student")
	return s.table(row+1, 1, []column{{title: "lost by", look: textLook}, {title: "mean", look: tenthsLook}, {title: "most", look: tenthsLook}}, [][]any{
		{"steps that were not best", mean(steps), highest(steps)},
		{"concluding too early", mean(early), highest(early)},
		{"a wrong repair", mean(wrong), highest(wrong)},
	})
}
