package scenarios

import (
	"fmt"

	"nospark/scenarios/draw"
)

// sheet writes a drawn vehicle on a person's sheet. The code comes later: it has to differ from those of all others.
func (d *drawer) sheet(who person, c candidate, dr drawn) Sheet {
	s := Sheet{Student: who.id, Name: who.name, Family: who.family, Section: who.section, LargePrint: who.large, Complaint: c.complaint, Truth: dr.hypothesis,
		Severity: dr.severity, Minutes: c.minutes, Lines: make([]Line, len(dr.readings)), Traces: dr.traces}
	if who.spare {
		s.Student = ""
	}
	// Number and letters hang on lab and person alone. They may not hang on the fault: a classmate could learn from them.
	numbers := shuffled(100, maxLines, draw.New(d.key[:], who.labels(d.lab.Name, "lines")...))
	letters := draw.New(d.key[:], who.labels(d.lab.Name, "letters")...)
	for i, r := range dr.readings {
		s.Lines[i] = Line{Number: numbers[i], Letters: letters.Letters(2), Reading: r.text, Beside: r.beside, Band: r.band}
	}
	return s
}

// code draws the code of a person's sheet, K7-PTX: random, so that it neither tells who has it nor where it comes in a list. No digit
// looks like a letter.
func (d *drawer) code(who person, taken map[string]bool) string {
	s := draw.New(d.key[:], who.labels(d.lab.Name, "code")...)
	for {
		code := fmt.Sprintf("%s%d-%s", s.Letters(1), 2+s.Intn(8), s.Letters(3))
		if !taken[code] {
			taken[code] = true
			return code
		}
	}
}
