package transient

import (
	"math"
	"slices"
)

// pace chooses the length of steps and cuts them at events.
type pace struct {
	r         *run
	moments   []float64
	tiny      float64 // too short to change a state
	first     float64 // step after an event
	longest   float64
	tolerance float64
	fixed     bool

	h       float64
	euler   int         // half-steps of backward Euler still to do
	past    [][]float64 // by age: states of the last points since the event, the newest first
	when    [3]float64
	points  int
	largest []float64 // by state: largest magnitude so far, volts or amperes
}

func newPace(r *run, o Options) *pace {
	p := &pace{r: r, moments: r.c.moments(o.Until), longest: o.MaxStep, tolerance: o.Tolerance,
		past: make([][]float64, 3), largest: make([]float64, len(r.dynamic))}
	if p.tolerance == 0 {
		p.tolerance = 1e-5
	}
	if p.longest == 0 {
		p.longest = o.Until / 200
	}
	p.first = p.longest * 1e-5 // doubles from here: a dozen steps lead back to normal
	if o.FixedStep > 0 {
		p.fixed, p.longest, p.first = true, o.FixedStep, o.FixedStep
	}
	p.tiny = p.longest * 1e-8
	for i := range p.past {
		p.past[i] = make([]float64, len(r.dynamic))
	}
	return p
}

// restart begins a smooth stretch at the present state: differences across an
// event would mean nothing.
func (p *pace) restart() {
	p.h, p.euler, p.points = p.first, 2, 0
	p.remember()
}

// state is the variable that makes a part remember: the voltage of a capacitor
// or the current of an inductor. Events do not make it jump.
func (p *pace) state(k int, of []charge) float64 {
	e := p.r.dynamic[k]
	if p.r.c.parts[e].kind == partCapacitor {
		return of[e].volts
	}
	return of[e].amps
}

func (p *pace) remember() {
	p.past[0], p.past[1], p.past[2] = p.past[2], p.past[0], p.past[1]
	p.when[0], p.when[1], p.when[2] = p.r.now, p.when[0], p.when[1]
	for k := range p.past[0] {
		y := p.state(k, p.r.was)
		p.past[0][k] = y
		p.largest[k] = math.Max(p.largest[k], math.Abs(y))
	}
	p.points++
}

// step does one step. If it ends at a moment announced before or where a
// device has left its line, happened is true and the circuit has to settle.
func (p *pace) step() (happened bool, err error) {
	r := p.r
	_, start := r.leaver()
	for len(p.moments) > 0 && p.moments[0] <= r.now {
		p.moments = p.moments[1:]
	}
	h, off, atMoment, err := p.advance()
	if err != nil {
		return false, err
	}
	_, margin := r.leaver()
	if margin > 1 {
		whole := h
		if h, err = p.cut(whole, start, margin); err != nil {
			return false, err
		}
		atMoment = atMoment && h == whole
	}
	r.keep(h)
	if atMoment {
		r.now = p.moments[0] // exactly, however the sum was rounded
	}
	if atMoment || margin > here {
		return true, nil
	}
	p.remember()
	if p.euler > 0 {
		p.euler--
	} else if off < 1.0/16 && !p.fixed && p.points > 3 { // twice as long is 8 times the error
		p.h = math.Min(2*p.h, p.longest)
	}
	return false, nil
}

// advance solves for the end of a step that is as long as its error allows and
// goes to the next moment at the most. The length is judged before what
// devices do: until one switches the circuit is smooth, and a crossing found
// in a bad step would be in the wrong place.
func (p *pace) advance() (h, off float64, atMoment bool, err error) {
	for {
		h, atMoment = p.h, false
		if p.euler > 0 {
			h /= 2
		}
		if left := p.moments[0] - p.r.now; h > left*0.9999 {
			h, atMoment = left, true
		}
		if err := p.r.advance(h, p.euler > 0); err != nil {
			return 0, 0, false, err
		}
		off = p.error(h)
		if off > 1 && h > p.tiny {
			p.h = math.Min(p.h, h) / 2
			continue
		}
		return h, off, atMoment, nil
	}
}

// error estimates the error of the latest trapezoidal step in units of what is
// allowed, from the third divided difference of every state over the step and
// the three points before.
func (p *pace) error(h float64) float64 {
	if p.fixed || p.euler > 0 || p.points < 3 {
		return 0
	}
	t1 := p.r.now + h
	t0, ta, tb := p.when[0], p.when[1], p.when[2]
	worst := 0.0
	for k := range p.largest {
		y1 := p.state(k, p.r.got)
		d1 := (y1 - p.past[0][k]) / (t1 - t0)
		d2 := (p.past[0][k] - p.past[1][k]) / (t0 - ta)
		d3 := (p.past[1][k] - p.past[2][k]) / (ta - tb)
		dd1, dd2 := (d1-d2)/(t1-ta), (d2-d3)/(t0-tb)
		third := 6 * (dd1 - dd2) / (t1 - tb)
		allowed := p.tolerance * math.Max(math.Max(p.largest[k], math.Abs(y1)), 1e-6)
		worst = math.Max(worst, math.Abs(third)*h*h*h/12/allowed)
	}
	return worst
}

// cut finds the length of the step, shorter than h, after which the first
// device has just left its line. The margin is a continuous function of the
// length with the given values at 0, below here, and at h, above 1; it is
// brought to between here and 1 by regula falsi with halved weights (the
// Illinois rule). On return the latest solution is that of the shorter step.
func (p *pace) cut(h, start, end float64) (float64, error) {
	const aim = 0.5
	r := p.r
	euler := p.euler > 0
	// An element far from leaving must not spoil the first guess.
	low, high := math.Max(start, -1/nearEnough)-aim, end-aim
	from, to, side := 0.0, h, 0
	for range 60 {
		if to-from <= p.tiny*1e-3 || to <= p.tiny {
			break
		}
		try := from + (to-from)*low/(low-high)
		if !(try > from && try < to) {
			try = (from + to) / 2
		}
		if err := r.advance(try, euler); err != nil {
			return 0, err
		}
		_, m := r.leaver()
		switch m -= aim; {
		case math.Abs(m) < aim-here:
			return try, nil
		case m > 0:
			to, high = try, m
			if side == 1 {
				low /= 2
			}
			side = 1
		default:
			from, low = try, m
			if side == -1 {
				high /= 2
			}
			side = -1
		}
	}
	return to, r.advance(to, euler)
}

// Options of a run. All times are in seconds.
type Options struct {
	Until   float64 // end; a run begins at 0
	MaxStep float64 // longest step; 0: Until/200
	// Tolerance is the error allowed per step in each capacitor voltage and
	// inductor current, relative to the largest value it has had; 0: 1e-5.
	Tolerance float64
	// FixedStep, if not 0, makes all steps this long but for those that events
	// cut short, and ignores the two above.
	FixedStep float64
	// FromSteady begins in the steady state with the sources at time 0 instead
	// of with the preset voltages and currents.
	FromSteady bool
}

// moments are the times at which steps must end, ascending.
func (c *Circuit) moments(until float64) []float64 {
	all := append(slices.Clone(c.breaks), until)
	for i := range c.parts {
		all = append(all, c.parts[i].toggles...)
	}
	slices.Sort(all)
	return slices.DeleteFunc(slices.Compact(all), func(t float64) bool { return t <= 0 || t > until })
}
