package page

import (
	"math"
	"testing"
)

func TestChartOfNothing(t *testing.T) {
	d := New(Options{Date: sampleDate})
	f := d.Section(Frame{})
	f.Chart(Chart{})
	f.Chart(Chart{Series: []Series{{Name: "a", X: []float64{math.NaN(), 1, 2}, Y: []float64{1, math.Inf(1)}}, {}, {},
		{}, {}}})
	f.Bars(Bar{}, Bar{Label: "a", Value: math.NaN(), Of: 1})
	f.Bars()
	if _, err := d.Bytes(); err != nil {
		t.Error(err)
	}
}
