package circuit

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// profile says what a random netlist may hold.
type profile struct {
	nodes       int
	extra       int     // elements beyond a spanning tree
	low, high   float64 // resistances, drawn log-uniformly
	shorts      float64 // share of resistors that are ideal shorts
	opens       float64 // share of resistors that are open: this makes islands
	idealShare  float64 // share of sources without series resistance
	sourceShare float64 // share of elements that are sources
	currents    int     // current sources, within one island each
}

var shapes = map[string]profile{
	"tree-like": {nodes: 45, extra: 18, low: 1e-3, high: 1e7, shorts: 0.05, opens: 0.05, idealShare: 0.3,
		sourceShare: 0.06, currents: 2},
	"dense": {nodes: 16, extra: 60, low: 1e-3, high: 1e7, shorts: 0.02, opens: 0.05, idealShare: 0.3,
		sourceShare: 0.1, currents: 2},
	"moderate": {nodes: 24, extra: 20, low: 1, high: 1e4, idealShare: 0.5, sourceShare: 0.1, currents: 1},
	"islands": {nodes: 30, extra: 6, low: 1e-3, high: 1e7, shorts: 0.1, opens: 0.3, idealShare: 0.3,
		sourceShare: 0.15},
	"small": {nodes: 4, extra: 3, low: 1e-3, high: 1e7, shorts: 0.1, opens: 0.1, idealShare: 0.3, sourceShare: 0.3,
		currents: 1},
	"wire-bound": {nodes: 40, extra: 15, low: 1e-3, high: 1e-1, opens: 0.02, sourceShare: 0.1},
}

func logUniform(r *rand.Rand, low, high float64) float64 {
	return low * math.Exp(r.Float64()*math.Log(high/low))
}

// random draws a netlist without contradictions and without loops of shorts
// and ideal sources, so that all voltages and currents are determined.
func random(r *rand.Rand, n *Netlist, sh profile) {
	n.Reset()
	for i := 1; i < sh.nodes; i++ {
		n.Node(fmt.Sprintf("p%d", i))
	}
	var ideal, wired ties
	ideal.reset(sh.nodes)
	wired.reset(sh.nodes)
	for i := 1; i < sh.nodes+sh.extra; i++ {
		a, b := Node(i), Node(0)
		if i < sh.nodes { // hang on a recent node: long chains with branches
			b = Node(max(0, i-1-r.IntN(4)))
			if r.IntN(8) == 0 {
				b = Node(r.IntN(i))
			}
		} else {
			a, b = Node(r.IntN(sh.nodes)), Node(r.IntN(sh.nodes))
			if r.IntN(3) == 0 {
				b = Reference
			}
		}
		if a == b {
			continue
		}
		if r.IntN(2) == 0 {
			a, b = b, a
		}
		ohms := logUniform(r, sh.low, sh.high)
		isSource := r.Float64() < sh.sourceShare
		draw := r.Float64()
		switch {
		case isSource && draw < sh.idealShare, !isSource && draw < sh.shorts:
			if joined := ideal.tie(a, b); joined {
				ohms = 0
			}
		case !isSource && draw < sh.shorts+sh.opens:
			ohms = math.Inf(1)
		}
		if !math.IsInf(ohms, 1) {
			wired.tie(a, b)
		}
		name := fmt.Sprintf("e%d", i)
		if isSource {
			n.Source(name, a, b, math.Round(r.Float64()*300-100)/10, ohms)
		} else {
			n.Resistor(name, a, b, ohms)
		}
	}
	for placed := 0; placed < sh.currents; {
		a, b := Node(r.IntN(sh.nodes)), Node(r.IntN(sh.nodes))
		rootA := wired.find(a)
		rootB := wired.find(b)
		if rootA != rootB {
			continue
		}
		n.Current(fmt.Sprintf("i%d", placed), a, b, r.Float64()*4-2)
		placed++
	}
}

// highest is the largest voltage in a solution, at least one volt.
func (s *Solution) highest() float64 {
	most := 1.0
	for _, v := range s.volts {
		most = math.Max(most, math.Abs(v))
	}
	return most
}
