package scenarios

import (
	"slices"
	"strings"

	"nospark/scenarios/pack"
)

// specs is the table of specifications: tests with the same place, meter and words share a row that lists their conditions. A test of the
// grid has the role of its point for its place, so that a pack of twenty points makes do with a dozen rows.
func (l *Lab) specs(p *pack.Pack) []SpecRow {
	type group struct {
		row  SpecRow
		when []string
	}
	var groups []group
	place := map[SpecRow]int{}
	for _, t := range l.Tests {
		row := SpecRow{Where: t.Label, Meter: meterLabel(t.Instrument), Good: t.Spec}
		if t.Column >= 0 {
			row.Where = l.Points[t.Point].Label
			if role := l.Points[t.Point].Role; role != "" {
				row.Where = strings.ReplaceAll(role, "-", " ")
			}
			row.Meter = l.columnMeter(t.Column)
		} else {
			row.Where = strings.TrimSuffix(t.Label, ", "+t.Condition) // a test declared for several conditions
		}
		at, known := place[row]
		if !known {
			at = len(groups)
			place[row] = at
			groups = append(groups, group{row: row})
		}
		if g := &groups[at]; !slices.Contains(g.when, t.Condition) {
			g.when = append(g.when, t.Condition)
		}
	}
	rows := make([]SpecRow, len(groups))
	for i, g := range groups {
		rows[i] = g.row
		rows[i].When = joinConditions(p, g.when)
	}
	return rows
}

// columnMeter names the meter of a column, with the column's own words when the grid has that meter in several sweeps: volts to battery
// negative and volts to the engine block are not the same test.
func (l *Lab) columnMeter(column int) string {
	c := l.Columns[column]
	label := meterLabel(c.Instrument)
	for _, o := range l.Columns {
		if o.Instrument == c.Instrument && o.Sweep != c.Sweep {
			return label + ", " + c.Label
		}
	}
	return label
}

// joinConditions lists conditions in the order of the pack.
func joinConditions(p *pack.Pack, when []string) string {
	var all []string
	for _, c := range p.Conditions {
		if slices.Contains(when, c.Label) {
			all = append(all, c.Label)
		}
	}
	return strings.Join(all, ", ")
}
