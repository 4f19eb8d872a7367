package lab

import (
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/spec"
)

// FrameTests freezes tests of a pack, by their index there, and the columns of the grid that they fill.
func (l *Lab) FrameTests(p *pack.Pack, tests []int) {
	place := map[int]int{}     // pack test -> lab test
	column := map[[2]int]int{} // sweep and condition -> column; one that no allowed test fills is left out
	for i, t := range tests {
		place[t] = i
		if s := p.Tests[t].Sweep; s >= 0 {
			column[[2]int{s, p.Tests[t].Condition}] = -1
		}
	}
	for s, sweep := range p.Sweeps {
		for _, c := range sweep.Conditions {
			if _, used := column[[2]int{s, c}]; !used {
				continue
			}
			column[[2]int{s, c}] = len(l.Columns)
			l.Columns = append(l.Columns, Column{Sweep: sweep.ID, Label: sweep.Label, Instrument: sweep.Instrument.ID,
				Condition: p.Conditions[c].Label, Minutes: sweep.Minutes})
		}
	}
	for _, i := range tests {
		t := p.Tests[i]
		test := Test{ID: t.ID, Label: t.Label, Instrument: t.Instrument.ID, Condition: p.Conditions[t.Condition].Label,
			Minutes: t.Minutes, Column: -1, Point: -1, Group: t.Group, Compare: -1, Spec: spec.Text(t, p),
			Competency: t.Competency,
			Unplugged:  []string{}}
		if t.Sweep >= 0 {
			test.Column, test.Point = column[[2]int{t.Sweep, t.Condition}], t.Point(p)
		}
		if t.Part >= 0 {
			test.Part = p.Parts[t.Part].ID
		}
		// A reading is printed beside another even where the plan does not allow it as a test of its own.
		if at, allowed := place[t.Compare]; t.Compare >= 0 && allowed {
			test.Compare = at
		}
		for _, b := range t.Bands {
			test.Bands = append(test.Bands, Band{Name: b.Name, Normal: b.Normal, Silent: b.Silent})
		}
		for _, part := range t.Unplug {
			test.Unplugged = append(test.Unplugged, p.Parts[part].Label)
		}
		l.Tests = append(l.Tests, test)
	}
}
