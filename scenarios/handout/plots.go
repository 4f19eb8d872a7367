package handout

import (
	"strings"

	"nospark/scenarios/lab"
)

// plots puts the pictures of a sheet on their screens.
func plots(s *lab.Sheet, l *lab.Lab) []Plot {
	var out []Plot
	for _, t := range s.Traces {
		sc := t.Screen(l.Tests[t.Test].Instrument)
		if sc == nil {
			continue
		}
		const milli = 1e3
		x := make([]float64, len(t.X))
		for i := range x {
			x[i] = milli * t.X[i]
		}
		name := ""
		if sc.Beside == "" {
			name = pictured(&l.Tests[t.Test])
		}
		out = append(out, Plot{Line: s.Lines[t.Test].Number, Test: name, Title: sc.Title, XLabel: "ms", YLabel: sc.Unit,
			X: x, Y: t.Y,
			XFrom: milli * sc.Begin, XTo: milli * sc.End, XPerDivision: milli * sc.Step,
			YFrom: sc.From, YTo: sc.To, YPerDivision: sc.Division})
	}
	return out
}

// pictured names a test together with its condition.
func pictured(t *lab.Test) string {
	if strings.Contains(t.Label, t.Condition) {
		return t.Label
	}
	return t.Label + ", " + t.Condition
}
