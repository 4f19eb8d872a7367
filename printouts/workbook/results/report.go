package results

import (
	"math"

	"nospark/grading"
	"nospark/printouts/workbook"
	"nospark/scenarios/lab"
)

// report is what the sheets of the results are made from.
type report struct {
	*workbook.Book
	lab      *lab.Lab
	result   *grading.Result
	students []*grading.StudentResult // without spare sheets that nobody used
}

// explained is a table whose columns the last sheet explains.
type explained struct {
	sheet   string
	columns []workbook.Column
}

// marked tells whether a student has a mark that counts.
func marked(s *grading.StudentResult) bool {
	return s.Status.HasMark()
}

// worked tells whether there are steps or a conclusion to report; a mark may have been set without any.
func worked(s *grading.StudentResult) bool {
	return marked(s) && (len(s.Steps) > 0 || s.Repair >= 0)
}

// statusWords are the words for a status.
func statusWords(s grading.Status) string {
	if s == grading.Blank {
		return "not handed in"
	}
	return string(s)
}

// marks collects the marks of students who have one.
func marks(students []*grading.StudentResult) []float64 {
	var all []float64
	for _, s := range students {
		if marked(s) {
			all = append(all, s.Mark)
		}
	}
	return all
}

// lostMinutes collects the lost minutes of students who worked.
func lostMinutes(students []*grading.StudentResult) []float64 {
	var all []float64
	for _, s := range students {
		if worked(s) {
			all = append(all, s.Lost/10)
		}
	}
	return all
}

// truth returns the index of the hidden fault of a student's sheet.
func (r *report) truth(s *grading.StudentResult) int {
	return r.lab.Hypotheses[r.lab.Sheets[s.Index].Truth].Fault
}

// repairText is a repair as students write and as people read it; nothing for none.
func (r *report) repairText(i int) any {
	if i < 0 || i >= len(r.lab.Repairs) {
		return nil
	}
	repair := r.lab.Repairs[i]
	return repair.Code + repair.Letters + "  " + repair.Label
}

// testText is the label of a test; nothing for none.
func (r *report) testText(i int) any {
	if i < 0 || i >= len(r.lab.Tests) {
		return nil
	}
	return r.lab.Tests[i].Label
}

func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}

// blankUnless empties a number that means nothing.
func blankUnless(ok bool, v float64) float64 {
	if !ok {
		return math.NaN()
	}
	return v
}

// number gives tenths of a minute as minutes.
func number(tenths int64) float64 { return float64(tenths) / 10 }
