package workbooktest

import (
	"fmt"

	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

// SampleLab is an invented lab with as many sheets as asked for, in two sections, and two spare sheets. Its names try
// the forms that a class list may hold: letters of several scripts, a name that looks like a formula, an id with
// leading zeros.
func SampleLab(students int) *lab.Lab {
	l := &lab.Lab{
		Format: lab.Format, Term: "test-term-1", Program: "Automotive Technology", Name: "week05",
		Title: "Week 5: cranks & does not start",
		Date:  "2026-10-05", Paper: "letter", Rows: 12, Rubric: term.DefaultRubric(),
		Complaints: []lab.Complaint{{ID: "no-start", Label: "Cranks, does not start"}},
	}
	for i, label := range []string{"Replace ignition fuse", "Repair ground at the module bracket", "Replace ICM",
		"Replace CKP sensor", "Replace coil",
		"Repair feed wire to the coil", "Nothing wrong found; return to customer"} {
		l.Repairs = append(l.Repairs, lab.Repair{ID: fmt.Sprintf("r%d", i), Label: label,
			Code: fmt.Sprintf("%02d", 97-13*i), Letters: letters(i + 3),
			Minutes: int64(150 + 50*i), Rarity: []string{"common", "occasional", "rare"}[i%3]})
		id := fmt.Sprintf("f%d", i)
		if i == 6 {
			id = lab.NothingWrong
		}
		l.Faults = append(l.Faults, lab.Fault{ID: id, Label: []string{"ignition fuse blown",
			"module ground corroded", "module does not switch",
			"sensor signal missing", "coil primary open", "coil feed wire broken", "nothing wrong"}[i], Repair: i})
		l.Hypotheses = append(l.Hypotheses, lab.Hypothesis{Fault: i, Weight: 1})
	}
	for i := range 24 {
		l.Tests = append(l.Tests, lab.Test{ID: fmt.Sprintf("t%d", i), Minutes: int64(10 + 5*(i%4)),
			Condition: "cranking",
			Label: fmt.Sprintf("volts to battery -, %s, at point %d", []string{"key on, engine off", "cranking"}[i%2],
				i+1)})
	}
	for i := range students + 2 {
		s := lab.Sheet{Code: fmt.Sprintf("%c%d-%s%c", 'B'+rune(i%3), 2+i%8, letters(i),
			"BCDFGHJKLMNPQRSTVWXZ"[i/400%20]), Truth: i % 7, Minutes: int64(60 + 10*(i%5))}
		if i < students {
			s.Student, s.Name, s.Section = fmt.Sprintf("%04d", 17+i), SampleName(i), string(rune('A'+2*i/students))
		}
		for t := range l.Tests {
			s.Lines = append(s.Lines, lab.Line{Number: 100 + (i*37+t*61)%900, Letters: letters(i + t),
				Reading: "12.39 V"})
		}
		l.Sheets = append(l.Sheets, s)
	}
	return l
}

// letters makes two check letters from a number.
func letters(n int) string {
	const of = "BCDFGHJKLMNPQRSTVWXZ"
	return string([]byte{of[n%20], of[n/20%20]})
}

// SampleName tries what a class list may hold, then plain names.
func SampleName(i int) string {
	names := []string{"Testina Example", `=HYPERLINK("http://example.invalid","x")`, "Δοκιμή Παράδειγμα",
		"Nguyễn Thử Nghiệm", "例 試", "Ó Sample-Müller, Ærø",
		"-1 Minus", "@SUM(A1:A9)", "_x0041_ Underline", "Пример Тестов", "O'Sample \"Quoted\""}
	if i < len(names) {
		return names[i]
	}
	return fmt.Sprintf("Student Number %d", i+1)
}

// JudgedLab has all six parts of the mark.
func JudgedLab(students int) *lab.Lab {
	l := SampleLab(students)
	l.Rubric = lab.Rubric{Evidence: 15, Diagnosis: 35, Efficiency: 25, Interpretation: 10, Reasoning: 10,
		Safety: 5}
	return l
}
