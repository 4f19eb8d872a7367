package circuit

// workspace is what Solve needs for the time of one call, and the shapes that it remembers.
type workspace struct {
	signature []uint64
	shapes    map[uint64][]*shape // by a hash of the signature
	ties      ties
	mesh      conductances
	amps      []float64 // by group: current injected
	excess    []float64 // by node: current that arrives
}
