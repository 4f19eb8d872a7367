package handout

import "nospark/scenarios/lab"

// plots puts the pictures of a sheet on their screens.
func plots(s *lab.Sheet, l *lab.Lab) []Plot {
	var out []Plot
	for _, t := range s.Traces {
		sc := lab.ScreenOf(l.Tests[t.Test].Instrument)
		if sc == nil {
			continue
		}
		const milli = 1e3
		x := make([]float64, len(t.X))
		for i := range x {
			x[i] = milli * t.X[i]
		}
		title := sc.Title
		if sc.Beside == "" {
			title = l.Tests[t.Test].Label
		}
		out = append(out, Plot{Line: s.Lines[t.Test].Number, Title: title, XLabel: "ms", YLabel: sc.Unit, X: x, Y: t.Y,
			XFrom: milli * sc.Begin, XTo: milli * sc.End, XPerDivision: milli * sc.Step,
			YFrom: sc.From, YTo: sc.To, YPerDivision: sc.Division})
	}
	return out
}
