package players

import (
	"fmt"

	"nospark/grading/submission"
)

// Play lets a player of that skill work on a sheet. draw(n) gives a number from 0 to n-1; the same draws give the same
// row.
func (c *Class) Play(sheet int, skill Skill, draw func(n int) int) submission.Row {
	s := &c.lab.Sheets[sheet]
	p := &player{c: c, s: c.suspects[s.Complaint], sheet: s, taken: make([]bool, len(c.lab.Tests)), draw: draw}
	p.set = p.s.Start(s)
	p.row = submission.Row{Place: "sheet " + s.Code, Student: s.Student, Name: s.Name, Sheet: s.Code, Reasoning: -1,
		Safe: -1}
	switch skill {
	case Expert:
		p.expert()
	case Careful:
		p.careful()
	case Walker:
		p.walker()
	case Guesser:
		p.guesser()
	case Technician:
		p.technician()
	case Chart:
		p.chart()
	case List:
		p.list()
	case Told:
		p.told()
	case PartsChanger:
		p.commonest(p.set)
	default:
		panic(fmt.Sprintf("players: no skill %q", skill))
	}
	return p.row
}
