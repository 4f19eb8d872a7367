package circuit

// tree holds the shorts and ideal sources. Those that joined two groups form
// trees, in which the sum of currents at the nodes determines every current;
// the others close loops. A node remembers its number of tree elements and
// the exclusive or of their numbers: at a leaf that is the one element left.
type tree struct {
	count  []int32
	mix    []int32
	loops  []int32 // elements that closed a loop
	size   int     // number of tree elements
	excess []float64
	leaves []Node
	rank   []int32 // by node: when it was peeled off, 0 if it is a root
	link   []int32 // by node: the element by which it was peeled off
}

func (t *tree) reset(nodes int) {
	t.count = grow(t.count, nodes)
	t.mix = grow(t.mix, nodes)
	clear(t.count)
	clear(t.mix)
	t.loops = t.loops[:0]
	t.size = 0
}

func (t *tree) add(i int, e *element, joined bool) {
	if !joined {
		t.loops = append(t.loops, int32(i))
		return
	}
	t.size++
	for _, a := range [2]Node{e.a, e.b} {
		t.count[a]++
		t.mix[a] ^= int32(i)
	}
}

// workspace is what Solve needs for the time of one call.
type workspace struct {
	ties ties
	mesh mesh
	amps []float64 // by group: current injected
	tree tree
}
