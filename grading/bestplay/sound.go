package bestplay

import (
	"fmt"

	"nospark/scenarios/lab"
)

// Sound finds what would make grading fail in a lab that was built in memory; a lab read from its file has been checked
// already.
func Sound(l *lab.Lab) error {
	for i := range l.Sheets {
		s := &l.Sheets[i]
		if s.Complaint < 0 || s.Complaint >= len(l.Complaints) || s.Truth < 0 || s.Truth >= len(l.Hypotheses) {
			return fmt.Errorf("lab %s: sheet %d leads outside the lab", l.Name, i)
		}
		if !l.Suspects(s.Complaint).Has(s.Truth) {
			return fmt.Errorf("lab %s: sheet %s hides a fault that does not give its complaint", l.Name, s.Code)
		}
		if len(s.Lines) != len(l.Tests) {
			return fmt.Errorf("lab %s: sheet %s has %d lines for %d tests", l.Name, s.Code, len(s.Lines), len(l.Tests))
		}
		for t, line := range s.Lines {
			if line.Band != l.Hypotheses[s.Truth].Band(t) || int(line.Band) >= len(l.Tests[t].Bands) {
				return fmt.Errorf("lab %s: line %d of sheet %s is not in the band of its fault", l.Name, line.Number,
					s.Code)
			}
		}
		for _, k := range Known(l, s) {
			if s.Lines[k.Test].Band != k.Band {
				return fmt.Errorf("lab %s: sheet %s does not read what its case says of %s", l.Name, s.Code,
					l.Tests[k.Test].ID)
			}
		}
	}
	return nil
}
