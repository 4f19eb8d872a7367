package players

import (
	"nospark/scenarios/lab"
)

// UseChart lets the chart players follow the best play of another lab of the same pack. Complaints have the same index
// in both.
func (c *Class) UseChart(other *lab.Lab) error {
	charts, err := suspectsOf(other, nil)
	if err != nil {
		return err
	}
	c.chart, c.charts = other, charts
	return nil
}

// UsePool tells the list players that only these faults are hidden, as others have found out.
func (c *Class) UsePool(faults []int) { c.pool = faults }
