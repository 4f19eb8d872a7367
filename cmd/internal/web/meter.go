package web

import (
	"nospark/grading/attempt"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// Reading is what a committed test shows.
type Reading struct {
	Line    int
	Letters string
	Text    string // as the instrument shows it, unit included
	Beside  string // the compared reading, "" for none
	Asks    bool   // for a verdict
	Plot    *handout.Plot
}

// meter tells the reading of a step of an attempt, and of nothing else. It is the only way from a student's request to
// a reading.
type meter func(a *attempt.Attempt, step int) Reading

// newMeter closes over the lines of one sheet.
func newMeter(l *lab.Lab, sheet *lab.Sheet, plots []handout.Plot) meter {
	readings := make(map[string]Reading, len(l.Tests))
	for t, test := range l.Tests {
		line := sheet.Lines[t]
		r := Reading{line.Number, line.Letters, line.Reading, line.Beside, !test.Bands[line.Band].Silent, nil}
		for i := range plots {
			if plots[i].Line == line.Number {
				r.Plot = &plots[i]
			}
		}
		readings[test.ID] = r
	}
	return func(a *attempt.Attempt, step int) Reading { return readings[a.Steps[step-1].Test] }
}
