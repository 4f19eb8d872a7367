package grading

import "fmt"

// studentMarks gives every student one mark, in the order of their first sheets: that of the sheet, or with several
// vehicles the mean over all but the excused ones. While one of them is missing or incomplete beside others there is no
// mark: it is incomplete until the instructor excuses that sheet or sets its mark.
func studentMarks(results []StudentResult) []StudentMark {
	var marks []StudentMark
	place := map[string]int{}
	for i, s := range results {
		at, known := place[s.Student]
		if !known {
			at = len(marks)
			place[s.Student] = at
			marks = append(marks, StudentMark{Student: s.Student, Name: s.Name, Section: s.Section})
		}
		marks[at].Results = append(marks[at].Results, i)
	}
	for i := range marks {
		marks[i].sum(results)
	}
	return marks
}

// sum makes one of the marks of a student's sheets.
func (m *StudentMark) sum(results []StudentResult) {
	n, missing, begun := 0, false, false
	m.Status = Excused
	for _, i := range m.Results {
		s := results[i]
		m.Why = join(m.Why, m.said(s))
		switch s.Status {
		case Excused:
			continue
		case Incomplete, Blank:
			missing = true
			begun = begun || s.Status == Incomplete
			continue
		}
		if n == 0 || s.Mark < m.Low {
			m.Low = s.Mark
		}
		m.High = max(m.High, s.Mark)
		m.Mark += s.Mark
		if n == 0 || s.Status == Provisional {
			m.Status = s.Status
		}
		n++
	}
	switch {
	case missing && (n > 0 || begun):
		m.Status, m.Mark, m.Low, m.High = Incomplete, 0, 0, 0
	case n > 0:
		m.Mark /= float64(n)
	case missing:
		m.Status = Blank
	}
}

// said is the reason of a sheet's status. Of several the sheet is named.
func (m *StudentMark) said(s StudentResult) string {
	if s.Why == "" || len(m.Results) == 1 {
		return s.Why
	}
	return fmt.Sprintf("sheet %s: %s", s.Sheet, s.Why)
}
