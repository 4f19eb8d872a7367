package handout

import "nospark/scenarios/lab"

// plots puts the pictures of a sheet on their screens.
func plots(s *lab.Sheet, l *lab.Lab) []Plot {
	var out []Plot
	for _, t := range s.Traces {
		for _, sc := range lab.Screens {
			if l.Tests[t.Test].Instrument != sc.Instrument {
				continue
			}
			x := make([]float64, len(t.X))
			for i := range x {
				x[i] = 1e3 * t.X[i]
			}
			out = append(out, Plot{Line: s.Lines[t.Test].Number, Title: sc.Title, XLabel: "ms", YLabel: sc.Unit, X: x,
				Y:     t.Y,
				XFrom: -1e3 * lab.ScopeBefore, XTo: 1e3 * lab.ScopeAfter, XPerDivision: 1e3 * lab.ScopeDivision,
				YFrom: sc.From, YTo: sc.To, YPerDivision: sc.Division})
		}
	}
	return out
}
