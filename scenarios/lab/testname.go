package lab

import (
	"fmt"
	"strings"
)

// TestName says how and where a test is made, in the words that the worksheet has for it:
//
//	volts to battery negative, key on, at 9 coil positive terminal
//	Coil lead, end to end, key off
func (l *Lab) TestName(test int) string {
	t := l.Tests[test]
	if t.Column >= 0 && t.Point >= 0 {
		column, point := l.Columns[t.Column], l.Points[t.Point]
		return fmt.Sprintf("%s, %s, at %d %s", column.Label, column.Condition, point.Number, point.Label)
	}
	if t.Condition == "" || strings.Contains(t.Label, t.Condition) {
		return t.Label
	}
	return t.Label + ", " + t.Condition
}
