package transient

import "math"

type partKind uint8

const (
	partResistor partKind = iota
	partSource
	partCurrent
	partCapacitor
	partInductor
	partDevice // a switch or clamp: i is a curve of straight lines in v
	partGap
)

// part is one element. What changes during a run is in run.
type part struct {
	kind  partKind
	a, b  Node
	name  string
	ohms  float64
	size  float64                       // farads or henries
	start float64                       // volts or amperes when a run begins without a steady state
	drive func(seconds float64) float64 // volts or amperes of a source

	curves  [2]curve  // of a device: off, on
	on      bool      // how a device begins
	toggles []float64 // when it changes, ascending
	gap     Gap
}

// mutual couples two inductors, by element.
type mutual struct {
	first, second Element
	factor        float64
}

// Gap holds the values of a spark gap. It insulates until the voltage of
// either sign exceeds BreakdownVolts, then keeps BurnVolts of that sign with
// BurnOhms in series. Once the current has exceeded HoldAmps the spark ends
// when it falls below; before that it ends when the current reverses.
type Gap struct {
	BreakdownVolts float64 // > 0, at least BurnVolts
	BurnVolts      float64 // >= 0
	BurnOhms       float64 // > 0
	HoldAmps       float64 // >= 0
}

// segment is one straight line of a curve: i = siemens x v + amps while v lies
// within low and high.
type segment struct {
	low, high     float64
	siemens, amps float64
}

// curve is a continuous, rising current over voltage through the origin.
type curve []segment

// newCurve joins lines of the given slopes at the corner voltages, ascending
// and one fewer than slopes.
func newCurve(siemens []float64, corners ...float64) curve {
	k := make(curve, len(siemens))
	low, amps := math.Inf(-1), 0.0
	for i, g := range siemens {
		high := math.Inf(1)
		if i < len(corners) {
			high = corners[i]
		}
		if i > 0 { // meet the line before at the corner
			amps = k[i-1].siemens*low + k[i-1].amps - g*low
		}
		k[i] = segment{low: low, high: high, siemens: g, amps: amps}
		low = high
	}
	return k
}

// valid returns the first value that makes the curve unusable.
func (k curve) valid() (float64, bool) {
	for i, s := range k {
		if !(s.siemens > 0) || math.IsInf(s.siemens, 1) {
			return s.siemens, false
		}
		if !(s.low <= s.high) || i == 0 && !(s.high >= 0) {
			return s.high, false
		}
	}
	return 0, true
}

// Node is the index of a node in its Circuit.
type Node int

// Reference is the node at 0 V. It exists in every circuit.
const Reference Node = 0

// Element is the index of an element in its Circuit, in order of addition.
type Element int
