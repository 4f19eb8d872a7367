package circuit

import "math"

// ties groups nodes whose voltage differences are known beforehand: joined by
// shorts and ideal sources. Ideal sources so leave the equations altogether,
// and what remains is a symmetric problem of conductances.
//
// The root of a group is always its lowest node, so the Reference is a root.
type ties struct{ up []Node }

func (t *ties) reset(nodes int) {
	t.up = grow(t.up, nodes)
	for i := range t.up {
		t.up[i] = Node(i)
	}
}

// find returns the root of a's group.
func (t *ties) find(a Node) (root Node) {
	for t.up[a] != a {
		t.up[a] = t.up[t.up[a]] // halve the path on the way
		a = t.up[a]
	}
	return a
}

// tie joins the groups of a and b; false if they were one.
func (t *ties) tie(a, b Node) (joined bool) {
	rootA, rootB := t.find(a), t.find(b)
	t.up[max(rootA, rootB)] = min(rootA, rootB)
	return rootA != rootB
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
