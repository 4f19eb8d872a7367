package results

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nospark/grading"
	"nospark/printouts/workbook"
)

// tally is how many students something is true of, and the first sheet of them: one to open and talk about.
type tally struct {
	text     string
	students int
	sheet    string
}

// tallies counts each text once per student: somebody who makes one mistake five times is still one student. In order
// of first appearance, so that the counts do not depend on the order of a map.
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

// sorted returns those that are true of at least least students, the most frequent first, at most most of them. Equally
// frequent ones stay in the order in which they came.
func (t *tallies) sorted(least, most int) []tally {
	some := slices.DeleteFunc(slices.Clone(t.all), func(x tally) bool { return x.students < least })
	slices.SortStableFunc(some, func(a, b tally) int { return cmp.Compare(b.students, a.students) })
	return some[:min(len(some), most)]
}

// recurring finds the remarks that several students share. Remarks that quote a reading are peculiar to a sheet: a
// wrong verdict is counted by its test instead.
func (r *report) recurring() []tally {
	t := newTallies()
	for _, student := range r.students {
		t.next()
		for _, step := range student.Steps {
			wrong := !step.Agrees && step.Judged != "" && step.Test >= 0 &&
				(step.State == grading.Counted || step.State == grading.Repeat)
			if wrong {
				is := map[bool]string{true: "in order", false: "not in order"}[step.Normal]
				t.add(fmt.Sprintf("judged %s, but it is %s: %s", verdict(step.Judged), is,
					r.lab.Tests[step.Test].Label), student.Sheet)
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

// advice counts the advice by its first words, before what is peculiar to a student. A class of one advice is a
// lesson for the whole class, so even what one student needs is listed.
func (r *report) advice() []tally {
	t := newTallies()
	for _, student := range r.students {
		t.next()
		advice := student.Practice
		if i := strings.IndexAny(advice, ";:."); i > 0 {
			advice = advice[:i]
		}
		t.add(advice, student.Sheet)
	}
	return t.sorted(1, 10)
}

// writeTallies writes a table of tallies below everything else, as wide as the page, and returns the row after it. Its
// cells are merged, because the columns above are made for numbers and a remark is a sentence.
func writeTallies(s *workbook.Sheet, row int, heading, what string, all []tally) int {
	s.Set(row, 1, workbook.HeadingStyle, heading)
	row++
	if len(all) == 0 {
		s.Set(row, 1, workbook.NoteStyle, "Nothing.")
		return row + 1
	}
	s.Merge(row, 1, chartColumn-1, workbook.HeadStyle, what)
	s.Merge(row, chartColumn, chartColumn+1, workbook.HeadStyle, "students")
	s.Merge(row, chartColumn+2, chartColumn+3, workbook.HeadStyle, "for example sheet")
	for _, t := range all {
		row++
		s.Merge(row, 1, chartColumn-1, workbook.WrapStyle, t.text)
		s.Merge(row, chartColumn, chartColumn+1, workbook.CenterStyle, t.students)
		s.Merge(row, chartColumn+2, chartColumn+3, workbook.CenterStyle, t.sheet)
		s.FitLines(row, workbook.LineCount(t.text, s.Span(1, chartColumn-1)))
	}
	return row + 1
}
