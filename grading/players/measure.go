package players

import (
	"strconv"

	"nospark/grading/adjust"
	"nospark/grading/submission"
	"nospark/scenarios/draw"
	"nospark/scenarios/lab"
)

// Measure lets players of one skill work on every sheet of a lab and gives the mean mark of each sheet over some
// rounds. Draws are always the same. The error is a lab that cannot be graded. Several goroutines must not measure one
// class at once.
func (c *Class) Measure(skill Skill, rounds int) ([]float64, error) {
	marks := make([]float64, len(c.lab.Sheets))
	for round := range rounds {
		rows := make([]submission.Row, len(marks))
		named := *c.lab
		named.Sheets = make([]lab.Sheet, len(marks))
		copy(named.Sheets, c.lab.Sheets)
		named.Vehicles = 0 // each sheet is measured by itself
		for i := range rows {
			s := draw.New([]byte("measure"), string(skill), strconv.Itoa(round), strconv.Itoa(i))
			rows[i] = c.Play(i, skill, s.Intn)
			named.Sheets[i].Student, named.Sheets[i].Vehicle = "measure-"+strconv.Itoa(i), 0
			rows[i].Student, rows[i].Reasoning, rows[i].Safe = named.Sheets[i].Student, 4, 1
		}
		result, err := c.memory.Grade(&named, rows, adjust.Decisions{})
		if err != nil {
			return nil, err
		}
		for i, r := range result.Students {
			marks[i] += r.Mark / float64(rounds)
		}
	}
	return marks, nil
}
