package proof

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"nospark/scenarios/pack/cards"
	"nospark/scenarios/strict"
	"nospark/scenarios/vehicle"
	"nospark/scenarios/vehicle/meter"
)

// A module's or controller's pull-up sits inside its box: no diagram draws it. Through it a lost feed or ground shows
// at a pin that nothing drawn joins with it. Where best play rests on that, a student who reads the diagram expects
// another reading, so the repair order must tell of it.

// undrawn names the parts with pull-ups through which a fault of another part shows in a test of best play.
func (l *linter) undrawn() {
	p := l.f.p
	for part := range p.Parts {
		pulls := slices.ContainsFunc(p.Parts[part].Kind.Params, func(c cards.Param) bool {
			return strings.Contains(c.Name, "pullup") && !math.IsInf(p.Parts[part].Value(c.Name), 1)
		})
		if !pulls {
			continue
		}
		apart := vehicle.Healthy(p)
		apart.SetApart(part)
		var faults []string
		for _, w := range l.ways {
			row := &l.m.Rows[w.row]
			if row.Fault < 0 || slices.Contains(partsOf(p.Faults[row.Fault]), part) {
				continue
			}
			id := strconv.Quote(p.Faults[row.Fault].ID)
			if !slices.Contains(faults, id) && l.through(apart, w) {
				faults = append(faults, id)
			}
		}
		if len(faults) > 0 {
			l.say(strict.Warning, p.Parts[part].Line, "undrawn", p.Parts[part].ID,
				"tell of it on the repair order, then accept it",
				"best play to %s rests on a pull-up inside %q, which no diagram draws", strings.Join(faults, ", "),
				p.Parts[part].ID)
		}
	}
}

// through tells whether an abnormal test on the way shows another band with the part's pull-ups set apart.
func (l *linter) through(apart *vehicle.Vehicle, w way) bool {
	row := &l.m.Rows[w.row]
	v := apart.Clone()
	v.Apply(l.f.p.Faults[row.Fault], row.Severity)
	shown := make([]meter.Shown, len(l.f.p.Tests))
	read := func(t int) {
		shown[t] = meter.Show(l.f.p.Tests[t].Instrument, v.Read(t), meter.Error{})
	}
	return slices.ContainsFunc(l.f.wrong(row, w.taken), func(t int) bool {
		read(t)
		if beside := l.f.p.Tests[t].Compare; beside >= 0 {
			read(beside)
		}
		return v.BandAmong(t, shown) != row.Bands[t]
	})
}
