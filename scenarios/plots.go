package scenarios

// plots puts the pictures of a sheet on their screens.
func (s *Sheet) plots(l *Lab) []Plot {
	var out []Plot
	for _, t := range s.Traces {
		for _, sc := range screens {
			if l.Tests[t.Test].Instrument != sc.instrument {
				continue
			}
			x := make([]float64, len(t.X))
			for i := range x {
				x[i] = 1e3 * t.X[i]
			}
			out = append(out, Plot{Line: s.Lines[t.Test].Number, Title: sc.title, XLabel: "ms", YLabel: sc.unit, X: x, Y: t.Y,
				XFrom: -1e3 * scopeBefore, XTo: 1e3 * scopeAfter, XPerDivision: 1e3 * scopeDivision,
				YFrom: sc.from, YTo: sc.to, YPerDivision: sc.division})
		}
	}
	return out
}
