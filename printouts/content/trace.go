package content

import (
	"fmt"
	"math"
	"strconv"

	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// TraceWords tell an oscilloscope picture as somebody describes it who sees it: how high, how steep, how long. They
// name what is on the screen and judge nothing. Values are as fine as an eye takes them from the screen, a twentieth of
// a division; what lies beyond an edge is not told.
func TraceWords(p handout.Plot) []string {
	t := seenTrace(p)
	low, high, ok := t.extremes(p.XFrom, p.XTo)
	switch {
	case !ok:
		return []string{"There is no trace."}
	case high-low < p.YPerDivision/20:
		return []string{fmt.Sprintf("A flat line at %s.", t.up(t.at(p.XFrom)))}
	case p.YLabel == "A": // amperes are a coil's current, kilovolts its spark, volts the signal of a sensor
		return t.ramp()
	case p.YLabel == "kV":
		return t.spark()
	case p.YLabel == "V" && p.Title == lab.PrimaryTitle:
		return t.primary()
	case p.YLabel == "V":
		return t.signal(low, high)
	}
	return []string{fmt.Sprintf("The trace lies between %s and %s.", t.up(low), t.up(high))}
}

// seenTrace is a plot whose times are compared in its own unit.
type seenTrace handout.Plot

// ramp tells how a coil's current rises until its switch opens at 0.
func (t seenTrace) ramp() []string {
	_, peak, _ := t.extremes(t.XFrom, 0)
	begins, before := t.XFrom, true // the current flows already at the left edge
	for i := range t.X {
		if t.X[i] < 0 && t.Y[i] < 0.01*peak {
			begins, before = t.X[i], false
		}
	}
	early := min(0.4, -begins/2)
	slope := figures((t.at(begins+early)-t.at(begins))/early, 2)
	var said []string
	if before {
		said = append(said, fmt.Sprintf("At the left edge the current is %s already and rises by %s A in a millisecond.",
			t.up(t.at(begins)), slope))
	} else {
		said = append(said, fmt.Sprintf("The current begins at %s and rises at first by %s A in a millisecond.",
			t.along(begins), slope))
	}
	if level := t.first(func(x, y float64) bool { return x > begins && y > 0.98*peak }); level < begins/4 {
		said = append(said, fmt.Sprintf("From %s on it stays level.", t.along(level)))
	}
	if before {
		return append(said, fmt.Sprintf("It reaches %s and breaks off at 0 %s.", t.up(peak), t.XLabel))
	}
	return append(said, fmt.Sprintf("It reaches %s and breaks off at 0 %s, after %s.", t.up(peak), t.XLabel,
		t.along(-begins)))
}

// spark tells the firing line, and the spark line if one follows. A spark takes the voltage down within 5
// microseconds; its line ends where the voltage leaves it, upwards or through 0.
func (t seenTrace) spark() []string {
	const down = 5e-3
	top := -1
	for i := range t.X {
		if t.X[i] > 0 && (top < 0 || t.Y[i] > t.Y[top]) {
			top = i
		}
	}
	if top < 0 {
		return []string{"There is no firing line."}
	}
	x, y := t.X[top], t.Y[top]
	said := []string{fmt.Sprintf("The firing line rises to %s at %s.", t.up(y), t.along(x))}
	low, _, _ := t.extremes(x, t.XTo)
	if t.at(x+down) > 0.6*y {
		return append(said, "No spark line follows.", fmt.Sprintf("The lowest voltage after it is %s.", t.up(low)))
	}
	ends, line, fallen := math.NaN(), math.Inf(1), false
	for i := top; i < len(t.X); i++ {
		if fallen = fallen || t.Y[i] < 0.6*y; !fallen || t.X[i] < x+down {
			continue
		}
		if line = min(line, t.Y[i]); t.Y[i] > line+0.2 || t.Y[i] < 0 {
			ends = t.X[i]
			break
		}
	}
	if math.IsNaN(ends) {
		return append(said, fmt.Sprintf("A spark line follows, %s high in its middle, and goes on beyond the right edge.",
			t.up(t.at((x+t.XTo)/2))))
	}
	return append(said, fmt.Sprintf("A spark line follows, %s high in its middle, and lasts %s.",
		t.up(t.at((x+ends)/2)), t.along(ends-x)))
}

// primary tells the steps of a coil's negative terminal: the level at rest, the one while the switch is closed, and the
// line after the spike, which begins where the trace comes back to the screen and ends where it leaves the line upwards
// or through the level at rest.
func (t seenTrace) primary() []string {
	calm, begins := t.at(t.XFrom), t.XFrom
	for i := range t.X {
		if t.X[i] < 0 && t.Y[i] > 0.9*calm {
			begins = t.X[i]
		}
	}
	calm = t.at(begins - 1e-3)
	const later = 2 // ms
	said := []string{fmt.Sprintf("At rest it lies at %s.", t.up(calm)), fmt.Sprintf(
		"At %s it falls, and %d ms later, or halfway, it is at %s %s.", t.along(begins), later,
		fine(t.at(begins+min(later, -begins/2)), t.YPerDivision/40), t.YLabel),
		fmt.Sprintf("It shoots up at 0 %s, after %s.", t.XLabel, t.along(-begins))}
	starts, line := 0.0, math.Inf(1)
	for i := range t.X {
		if t.X[i] > 0 && t.X[i] < 0.3 && t.Y[i] >= t.YTo {
			starts = t.X[i]
		}
	}
	for i := range t.X {
		if t.X[i] <= starts || t.Y[i] >= t.YTo {
			continue
		}
		if line = min(line, t.Y[i]); t.Y[i] > line+2 || t.Y[i] < calm-2 {
			return append(said, fmt.Sprintf("A line follows, %s high in its middle, and lasts %s %s.",
				t.up(t.at((starts+t.X[i])/2)), fine(t.X[i]-starts, t.XPerDivision/40), t.XLabel))
		}
	}
	return append(said, "No line follows.")
}

// stays are the longest times that a signal is above and below its middle without a break; of a wave, the longest time
// from one wave to the next, and that of one wave, a third of which lies above three quarters of its height.
func (t seenTrace) stays(low, high float64, wave bool) (longest, other float64) {
	if wave {
		line, rise, risen := low+0.75*(high-low), 0.0, false
		for i := 1; i < len(t.X); i++ {
			switch up, was := t.Y[i] >= line, t.Y[i-1] >= line; {
			case up && !was:
				if risen {
					longest = max(longest, t.X[i]-rise)
				}
				rise, risen = t.X[i], true
			case was && !up && risen:
				other = max(other, 3*(t.X[i]-rise))
			}
		}
		return longest, other
	}
	since := t.X[0]
	for i := range t.X {
		up := t.Y[i] > (low+high)/2
		if i > 0 && up != (t.Y[i-1] > (low+high)/2) {
			since = t.X[i]
		}
		if up {
			longest = max(longest, t.X[i]-since)
		} else {
			other = max(other, t.X[i]-since)
		}
	}
	return longest, other
}

// signal tells between which levels a sensor's signal changes and how often.
func (t seenTrace) signal(low, high float64) []string {
	times, jumps, above, middle := 0, 0, 0.0, (low+high)/2
	for i := 1; i < len(t.X); i++ {
		if t.Y[i-1] < middle && t.Y[i] >= middle {
			times++
		}
		if t.X[i] == t.X[i-1] {
			jumps++
		} else if t.Y[i-1]+t.Y[i] > 2*middle {
			above += t.X[i] - t.X[i-1]
		}
	}
	said := []string{fmt.Sprintf("The signal changes between %s and %s.", t.up(low), t.up(high)),
		fmt.Sprintf("Times it goes up in %s: %d.", t.along(t.XTo-t.XFrom), times)}
	longest, other := t.stays(low, high, jumps == 0)
	if jumps == 0 {
		said = append(said, "It is a smooth wave.")
		if longest > 0 {
			said = append(said, fmt.Sprintf("One wave takes %s; the next one comes after %s at most.", t.along(other),
				t.along(longest)))
		}
		return said
	}
	return append(said, fmt.Sprintf("It jumps between the two and is high for %s %% of the time.",
		figures(100*above/(t.XTo-t.XFrom), 2)), fmt.Sprintf("It stays high for %s at most and low for %s at most.",
		t.along(longest), t.along(other)))
}

// extremes are the lowest and the highest value between two places of the horizontal axis; ok is false where it has
// none.
func (t seenTrace) extremes(from, to float64) (low, high float64, ok bool) {
	low, high = math.Inf(1), math.Inf(-1)
	for i := range min(len(t.X), len(t.Y)) {
		if t.X[i] >= from && t.X[i] <= to && !math.IsNaN(t.Y[i]) {
			low, high = min(low, t.Y[i]), max(high, t.Y[i])
		}
	}
	return low, high, low <= high
}

// at is the value at a place, on a straight line between entries.
func (t seenTrace) at(x float64) float64 {
	for i := 1; i < len(t.X); i++ {
		if t.X[i] >= x && t.X[i] > t.X[i-1] {
			return t.Y[i-1] + (t.Y[i]-t.Y[i-1])*max(0, x-t.X[i-1])/(t.X[i]-t.X[i-1])
		}
	}
	return t.Y[len(t.Y)-1]
}

// first is the first place of an entry of a kind, the right edge if there is none.
func (t seenTrace) first(is func(x, y float64) bool) float64 {
	for i := range t.X {
		if is(t.X[i], t.Y[i]) {
			return t.X[i]
		}
	}
	return t.XTo
}

// up is a value of the vertical axis with its unit; of one beyond an edge the screen shows no more than that.
func (t seenTrace) up(v float64) string {
	switch {
	case v > t.YTo:
		return fmt.Sprintf("more than %s %s", figures(t.YTo, 3), t.YLabel)
	case v < t.YFrom:
		return fmt.Sprintf("less than %s %s", figures(t.YFrom, 3), t.YLabel)
	}
	return fine(v, t.YPerDivision/20) + " " + t.YLabel
}

// along is a time with its unit.
func (t seenTrace) along(v float64) string { return fine(v, t.XPerDivision/20) + " " + t.XLabel }

// fine writes a value in whole steps.
func fine(v, step float64) string {
	if step > 0 {
		v = step * math.Round(v/step)
	}
	return figures(v, 3)
}

// figures writes a value with a number of digits and no exponent.
func figures(v float64, digits int) string {
	v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	if v == 0 {
		return "0" // never "-0"
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}
