package workbook

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"nospark/grading"
)

const classSheet = "Class"

// Columns of the page of the class: tables at the left, charts from chartColumn on.
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
	const below = 46 // the charts end here
	row = s.counted(max(row+1, below), "What came more than once", "remark", r.recurring())
	s.counted(row+1, "What to practise next", "advice", r.practise())
	s.columnChart(at(4, chartColumn), chart{title: "How many students have which mark", across: "mark", up: "students",
		labels: s.area(marksRow+2, 1, marksRow+11, 1), values: s.area(marksRow+2, 2, marksRow+11, 2), colour: skyBlue, number: whole})
	s.columnChart(at(25, chartColumn), chart{title: "Minutes lost per student, mean", across: "lost by", up: "minutes",
		labels: s.area(lostRow+2, 1, lostRow+4, 1), values: s.area(lostRow+2, 2, lostRow+4, 2), colour: orange, number: tenths})
}

// classSummary writes the figures of the class and returns the row after them.
func (r *report) classSummary(s *sheet, row int) int {
	all, lost := marks(r.students), lostMinutes(r.students)
	right, did, missing, excused := 0, 0, 0, 0
	for _, student := range r.students {
		switch {
		case worked(student):
			did++
			if student.Right {
				right++
			}
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
	figure("not handed in", wholeLook, missing)
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

// reach is the lowest and the highest value.
func reach(values []float64) any {
	if len(values) == 0 {
		return nil
	}
	return fmt.Sprintf("%.1f to %.1f", lowest(values), highest(values))
}

// bySection writes a row per section.
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

// lostByKind writes the minutes lost per student, by what cost them.
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

// tally is how many students something is true of, and the first sheet of them.
type tally struct {
	text     string
	students int
	sheet    string
}

// tallies counts each text once per student, most frequent first.
type tallies struct {
	all  []tally
	at   map[string]int
	seen map[string]bool // of the present student
}

func newTallies() *tallies { return &tallies{at: map[string]int{}} }

// next begins another student.
func (t *tallies) next() { t.seen = map[string]bool{} }

func (t *tallies) add(text, sheet string) {
	if text == "" || t.seen[text] {
		return
	}
	t.seen[text] = true
	i, ok := t.at[text]
	if !ok {
		i = len(t.all)
		t.at[text] = i
		t.all = append(t.all, tally{text: text, sheet: sheet})
	}
	t.all[i].students++
}

// sorted returns those that are true of at least least students, the most frequent first, at most most of them.
func (t *tallies) sorted(least, most int) []tally {
	some := slices.DeleteFunc(slices.Clone(t.all), func(x tally) bool { return x.students < least })
	slices.SortStableFunc(some, func(a, b tally) int { return cmp.Compare(b.students, a.students) })
	return some[:min(len(some), most)]
}

// recurring finds the remarks that several students share. Remarks that quote a reading are peculiar to a sheet: a wrong verdict is
// counted by its test instead.
func (r *report) recurring() []tally {
	t := newTallies()
	for _, student := range r.students {
		t.next()
		for _, step := range student.Steps {
			wrong := !step.Agrees && step.Judged != "" && step.Test >= 0 && (step.State == grading.Counted || step.State == grading.Repeat)
			if wrong {
				is := map[bool]string{true: "in order", false: "not in order"}[step.Normal]
				t.add(fmt.Sprintf("judged %s, but it is %s: %s", verdict(step.Judged), is, r.lab.Tests[step.Test].Label), student.Sheet)
			}
			for _, remark := range step.Remarks {
				if !(wrong && step.Reading != "" && strings.Contains(remark, step.Reading)) {
					t.add(remark, student.Sheet)
				}
			}
		}
		for _, remark := range student.Remarks {
			t.add(remark, student.Sheet)
		}
	}
	return t.sorted(2, 15) // once is no pattern, and more than 15 nobody reads
}

// practise counts the advice by its first words, before what is peculiar to a student.
func (r *report) practise() []tally {
	t := newTallies()
	for _, student := range r.students {
		t.next()
		advice := student.Practise
		if i := strings.IndexAny(advice, ";:."); i > 0 {
			advice = advice[:i]
		}
		t.add(advice, student.Sheet)
	}
	return t.sorted(1, 10)
}

// counted writes a table of tallies below everything else, as wide as the page, and returns the row after it.
func (s *sheet) counted(row int, heading, what string, all []tally) int {
	s.set(row, 1, headingLook, heading)
	row++
	if len(all) == 0 {
		s.set(row, 1, noteLook, "Nothing.")
		return row + 1
	}
	s.merge(row, 1, chartColumn-1, headLook, what)
	s.merge(row, chartColumn, chartColumn+1, headLook, "students")
	s.merge(row, chartColumn+2, chartColumn+3, headLook, "for example sheet")
	for _, t := range all {
		row++
		s.merge(row, 1, chartColumn-1, wrapLook, t.text)
		s.merge(row, chartColumn, chartColumn+1, midLook, t.students)
		s.merge(row, chartColumn+2, chartColumn+3, midLook, t.sheet)
		s.lines(row, lineCount(t.text, s.span(1, chartColumn-1)))
	}
	return row + 1
}

// span is the width of several columns together.
func (s *sheet) span(from, to int) (width float64) {
	for c := from; c <= to; c++ {
		width += s.widths[c]
	}
	return width - 2
}
