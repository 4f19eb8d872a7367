package circuit

import "math"

// ties groups nodes whose voltage differences are known beforehand: joined by
// shorts and ideal sources. It is a union-find whose links carry the voltage
// of a node above the node it points to. Ideal sources so leave the equations
// altogether, and what remains is a symmetric problem of conductances.
//
// The root of a group is always its lowest node, so the Reference is a root.
type ties struct {
	up    []Node
	above []float64 // volts of the node above up[node]
}

func (t *ties) reset(nodes int) {
	t.up = grow(t.up, nodes)
	t.above = grow(t.above, nodes)
	for i := range t.up {
		t.up[i] = Node(i)
		t.above[i] = 0
	}
}

// find returns the root of a's group and the volts of a above it.
func (t *ties) find(a Node) (root Node, volts float64) {
	for t.up[a] != a {
		if next := t.up[a]; t.up[next] != next { // halve the path on the way
			t.above[a] += t.above[next]
			t.up[a] = t.up[next]
		}
		volts += t.above[a]
		a = t.up[a]
	}
	return a, volts
}

// tie puts a at volts above b. It returns false if that voltage was fixed
// already, together with its value.
func (t *ties) tie(a, b Node, volts float64) (joined bool, fixed float64) {
	rootA, overA := t.find(a)
	rootB, overB := t.find(b)
	if rootA == rootB {
		return false, overA - overB
	}
	lift := volts + overB - overA // of root A above root B
	if rootA < rootB {
		t.up[rootB], t.above[rootB] = rootA, -lift
	} else {
		t.up[rootA], t.above[rootA] = rootB, lift
	}
	return true, volts
}

// contradicts compares a voltage already fixed with the one a source asks
// for; it forgives the rounding of a sum of sources in series.
func contradicts(fixed, asked float64) bool {
	return math.Abs(fixed-asked) > 1e-12*(math.Abs(fixed)+math.Abs(asked))
}

// grow returns a slice of the wanted length, with its old memory if that is
// enough. The contents are whatever was there.
func grow[T any](s []T, length int) []T {
	if cap(s) >= length {
		return s[:length]
	}
	return make([]T, length, length+length/4)
}
