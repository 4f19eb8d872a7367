package circuit

// mesh is the circuit as a graph of conductances between groups of tied
// nodes, group 0 being the Reference. Every edge carries an electromotive
// force too: the voltage of one end above the other at which no current flows.
//
// It is solved by star-mesh reduction, which is Gaussian elimination of the
// conductance matrix without a pivot search: group k with conductances g to
// its neighbors is replaced by edges g_i g_j / sum(g) among them. All terms
// are positive, nothing is ever subtracted, and so the result keeps nearly
// full relative accuracy however far the resistances lie apart (O'Cinneide,
// "Entrywise perturbation theory and error analysis for Markov chains", 1993,
// gives the argument for the same elimination in Markov chains; from memory).
// Forces travel as voltages along the edges and not as large equal and
// opposite currents, which would leave their rounding error in any island held
// by a weak leak only.
type mesh struct {
	first  []int32   // by group: its first half-edge, -1 if none
	degree []int32   // by group: number of half-edges
	leak   []float64 // by group: conductance to the Reference
	force  []float64 // by group: force of that leak
	half   []half    // 2m and 2m+1 are the two directions of edge m
	ready  []int32   // stack of groups with at most two edges
	alive  []bool
}

type half struct {
	to, next, prev int32
	g, e           float64 // siemens; volts of this end above to at zero current
}

// step is one term of a removed group's voltage: weight x (volts of to + e).
type step struct {
	to        int32
	weight, e float64
}

// pivot is one removed group, its terms and the resistance 1/sum(g) seen at it
// from the groups removed later. The last group of an island that does not
// hold the Reference has no terms and resistance 0.
type pivot struct {
	group      int32
	start, end int32
	ohms       float64
}

func (m *mesh) reset(groups int) {
	m.first = grow(m.first, groups)
	m.degree = grow(m.degree, groups)
	m.leak = grow(m.leak, groups)
	m.force = grow(m.force, groups)
	m.alive = grow(m.alive, groups)
	for i := range m.first {
		m.first[i] = -1
		m.alive[i] = true
	}
	clear(m.degree)
	clear(m.leak)
	clear(m.force)
	m.half = m.half[:0]
	m.ready = m.ready[:0]
}

// parallel merges two conductances with forces.
func parallel(g1, e1, g2, e2 float64) (g, e float64) {
	g = g1 + g2
	if e1 == e2 {
		return g, e1
	}
	return g, e1 + (e2-e1)*(g2/g)
}

// join adds conductance g between groups i and j; e is the voltage of i above
// j at zero current.
func (m *mesh) join(i, j int32, g, e float64) {
	if i == 0 {
		i, j, e = j, i, -e
	}
	if j == 0 {
		m.leak[i], m.force[i] = parallel(m.leak[i], m.force[i], g, e)
		return
	}
	if m.degree[i] > m.degree[j] {
		i, j, e = j, i, -e
	}
	for h := m.first[i]; h >= 0; h = m.half[h].next {
		if p := &m.half[h]; p.to == j {
			p.g, p.e = parallel(p.g, p.e, g, e)
			q := &m.half[h^1]
			q.g, q.e = p.g, -p.e
			return
		}
	}
	h := int32(len(m.half))
	m.half = append(m.half, half{to: j, g: g, e: e}, half{to: i, g: g, e: -e})
	m.push(i, h)
	m.push(j, h+1)
}

func (m *mesh) push(i, h int32) {
	next := m.first[i]
	m.half[h].next, m.half[h].prev = next, -1
	if next >= 0 {
		m.half[next].prev = h
	}
	m.first[i] = h
	m.degree[i]++
}

func (m *mesh) drop(i, h int32) {
	next, prev := m.half[h].next, m.half[h].prev
	if prev >= 0 {
		m.half[prev].next = next
	} else {
		m.first[i] = next
	}
	if next >= 0 {
		m.half[next].prev = prev
	}
	m.degree[i]--
	if m.degree[i] <= 2 {
		m.ready = append(m.ready, i)
	}
}

// reduce removes all groups but the Reference. Groups of at most two edges go
// first, in any order, since they leave no more edges than they found: a
// circuit of wires in series and loads in parallel vanishes completely that
// way. Then the smallest degree goes next.
func (m *mesh) reduce(pivots []pivot, steps []step) ([]pivot, []step) {
	for i := len(m.first) - 1; i > 0; i-- {
		if m.degree[i] <= 2 {
			m.ready = append(m.ready, int32(i))
		}
	}
	for left := len(m.first) - 1; left > 0; left-- {
		k := m.next()
		m.alive[k] = false
		start := int32(len(steps))
		var ohms float64
		steps, ohms = m.remove(k, steps)
		pivots = append(pivots, pivot{group: k, start: start, end: int32(len(steps)), ohms: ohms})
	}
	return pivots, steps
}

func (m *mesh) next() int32 {
	for len(m.ready) > 0 {
		k := m.ready[len(m.ready)-1]
		m.ready = m.ready[:len(m.ready)-1]
		if m.alive[k] && m.degree[k] <= 2 {
			return k
		}
	}
	best := int32(0)
	for k := int32(1); k < int32(len(m.first)); k++ {
		if m.alive[k] && (best == 0 || m.degree[k] < m.degree[best]) {
			best = k
		}
	}
	return best
}

func (m *mesh) remove(k int32, steps []step) ([]step, float64) {
	start := len(steps)
	sum := m.leak[k]
	for h := m.first[k]; h >= 0; {
		p := m.half[h]
		sum += p.g
		steps = append(steps, step{to: p.to, weight: p.g, e: p.e})
		m.drop(p.to, h^1)
		h = p.next
	}
	if m.leak[k] > 0 {
		steps = append(steps, step{to: 0, weight: m.leak[k], e: m.force[k]})
	}
	terms := steps[start:]
	if len(terms) == 0 {
		return steps, 0
	}
	ohms := 1 / sum
	for i := range terms {
		a := &terms[i]
		g := a.weight
		a.weight *= ohms
		// Terms before i hold weights by now, and g_i weight_j = g_i g_j / sum.
		for _, b := range terms[:i] {
			m.join(a.to, b.to, g*b.weight, b.e-a.e)
		}
	}
	return steps, ohms
}
