package grading

import (
	"fmt"
	"nospark/scenarios/lab"
	"strings"
)

// TestName says how and where a test of a lab is made, in the words that the worksheet has for it:
//
//	volts to battery -, key on, at 9 coil + terminal
//	Coil lead, end to end, key off
func TestName(lab *lab.Lab, test int) string {
	t := lab.Tests[test]
	if t.Column >= 0 && t.Point >= 0 {
		column, point := lab.Columns[t.Column], lab.Points[t.Point]
		return fmt.Sprintf("%s, %s, at %d %s", column.Label, column.Condition, point.Number, point.Label)
	}
	if t.Condition == "" || strings.Contains(t.Label, t.Condition) {
		return t.Label
	}
	return t.Label + ", " + t.Condition
}
