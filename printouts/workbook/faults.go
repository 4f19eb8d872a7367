package workbook

import "nospark/grading"

const faultsSheet = "Faults"

// faultColumns: the spreads tell a fault that is hard for everybody from one that some find at once.
var faultColumns = []column{
	{title: "hidden fault", width: 34, look: wrapLook},
	{title: "repair", width: 34, look: wrapLook, note: "that it needs"},
	{title: "sheets", width: 9, look: wholeLook, note: "given to students"},
	{title: "handed in", width: 10, look: wholeLook},
	{title: "right", width: 9, look: wholeLook, note: "students who found it"},
	{title: "share right", width: 9, look: percentLook},
	{title: "best play", width: 10, look: tenthsLook, note: "minutes, mean"},
	{title: "mean mark", width: 10, look: tenthsLook},
	{title: "lowest mark", width: 10, look: tenthsLook},
	{title: "highest mark", width: 10, look: tenthsLook},
	{title: "spread of marks", width: 10, look: tenthsLook, note: "standard deviation, divisor N"},
	{title: "mean minutes lost", width: 10, look: tenthsLook},
	{title: "spread of lost", width: 10, look: tenthsLook, note: "standard deviation, divisor N"},
}

// faults writes one row per fault that some student's sheet hid, in the order of the lab. Spare sheets that nobody used do not count.
func (r *report) faults() explained {
	s := r.sheet(faultsSheet)
	s.set(1, 1, titleLook, "Faults: "+r.lab.Title)
	s.set(2, 1, noteLook, "Not for students. A handful of sheets per fault says little; look at the single sheets before you change a lab.")
	of := make([][]*grading.StudentResult, len(r.lab.Faults)) // a list and no map: the order of the lab stays
	for _, student := range r.students {
		of[r.truth(student)] = append(of[r.truth(student)], student)
	}
	var rows [][]any
	for i, students := range of {
		if len(students) > 0 {
			rows = append(rows, r.faultRow(i, students))
		}
	}
	const head = 4
	end := s.main(head, faultColumns, rows, 1)
	s.bars(head+1, end-1, place(faultColumns, "mean mark"), "100", skyBlue)
	return explained{faultsSheet, faultColumns}
}

// faultRow has the values of a row in the order of faultColumns. Marks and lost minutes are over those who worked, best play over all sheets,
// since it is the same whoever had them.
func (r *report) faultRow(fault int, students []*grading.StudentResult) []any {
	handed, right := 0, 0
	var best []float64
	for _, s := range students {
		best = append(best, number(s.Best))
		if worked(s) {
			handed++
			if s.Right {
				right++
			}
		}
	}
	// Nobody found it is a zero only if somebody looked.
	found := any(right)
	if handed == 0 {
		found = nil
	}
	all, lost := marks(students), lostMinutes(students)
	f := r.lab.Faults[fault]
	return []any{f.Label, r.repairText(f.Repair), len(students), handed, found, share(right, handed), mean(best), mean(all), lowest(all), highest(all), deviation(all),
		mean(lost), deviation(lost)}
}
