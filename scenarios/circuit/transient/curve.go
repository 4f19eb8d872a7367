package transient

import "math"

const (
	leakSiemens = 1e-12 // of what does not conduct: keeps every node defined
	// limitSlope is the relative rise of a limited current per volt. A perfectly
	// stiff limit would answer the least excess of an inductor's current with
	// an unbounded voltage.
	limitSlope = 1e-5
)

// condition is what a device or gap does at a moment.
type condition struct {
	on      bool
	at      int     // segment of the curve
	burning float64 // of a gap: sign of its spark, 0 for none
	held    bool    // the spark has exceeded the holding current
	next    int     // next entry of toggles
}

// norton returns the line the part follows now: i = siemens x v + amps.
func (p *part) norton(c *condition) (siemens, amps float64) {
	if p.kind == partGap {
		if c.burning == 0 {
			return leakSiemens, 0
		}
		return 1 / p.gap.BurnOhms, -c.burning * p.gap.BurnVolts / p.gap.BurnOhms
	}
	s := &p.curve(c)[c.at]
	return s.siemens, s.amps
}

func (p *part) curve(c *condition) curve {
	if c.on {
		return p.curves[1]
	}
	return p.curves[0]
}

// nearEnough is the relative width within which a crossing is located.
const nearEnough = 1e-8

// margin tells how far the part has left its line: positive outside, above 1
// too far for the crossing to be here.
func (p *part) margin(c *condition, volts, amps float64) float64 {
	if p.kind != partGap {
		s := &p.curve(c)[c.at]
		below := (s.low - volts) / (nearEnough * math.Max(1, math.Abs(s.low)))
		above := (volts - s.high) / (nearEnough * math.Max(1, math.Abs(s.high)))
		switch {
		case math.IsInf(s.low, -1) && math.IsInf(s.high, 1):
			return math.Inf(-1)
		case math.IsInf(s.low, -1):
			return above
		case math.IsInf(s.high, 1):
			return below
		}
		return math.Max(below, above)
	}
	g := &p.gap
	switch {
	case c.burning == 0:
		return (math.Abs(volts) - g.BreakdownVolts) / (nearEnough * g.BreakdownVolts)
	case c.held:
		return (g.HoldAmps - c.burning*amps) / math.Max(1e-9, nearEnough*g.HoldAmps)
	}
	return (-c.burning*amps - 1e-9) / 1e-9
}

// cross moves the part to the line beyond the one it has left and says what
// happened.
func (p *part) cross(c *condition, volts float64) Change {
	if p.kind != partGap {
		if volts > p.curve(c)[c.at].high {
			c.at++
			return Rises
		}
		c.at--
		return Falls
	}
	c.held = false
	if c.burning != 0 {
		c.burning = 0
		return GoesOut
	}
	c.burning = math.Copysign(1, volts)
	return BreaksDown
}
