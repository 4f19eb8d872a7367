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
//
// Without a pivot search the way of the reduction depends on the shape alone:
// a mesh finds it once, and replay.go goes it with values.
type mesh struct {
	first  []int32 // by group: its first half-edge, -1 if none
	degree []int32 // by group: number of half-edges
	leaks  []bool  // by group: it has an edge to the Reference
	half   []half  // 2m and 2m+1 are the two directions of edge m
	ready  []int32 // stack of groups with at most two edges
	alive  []bool

	pivots   []pivot // the way of the reduction, as a shape remembers it
	to       []int32
	from     []place
	products []place
}

type half struct{ to, next, prev int32 }

// reset makes a mesh of groups without edges.
func (m *mesh) reset(groups int) {
	m.first, m.degree, m.alive = grow(m.first, groups), grow(m.degree, groups), grow(m.alive, groups)
	m.leaks = grow(m.leaks, groups)
	for i := range m.first {
		m.first[i], m.degree[i], m.leaks[i], m.alive[i] = -1, 0, false, true
	}
	m.half, m.ready = m.half[:0], m.ready[:0]
	m.pivots, m.to, m.from, m.products = m.pivots[:0], m.to[:0], m.from[:0], m.products[:0]
}

// branches counts the leaks, a place for each group, and the edges.
func (m *mesh) branches() int { return len(m.first) + len(m.half)/2 }

// join adds a conductance between groups i and j and returns the branch that
// takes it up, as it goes from i to j.
func (m *mesh) join(i, j int32) place {
	flip := place(0)
	if i == 0 {
		i, j, flip = j, i, 1
	}
	if j == 0 {
		m.leaks[i] = true
		return place(i)<<1 | flip
	}
	if m.degree[i] > m.degree[j] {
		i, j, flip = j, i, 1-flip
	}
	at := func(h int32) place { return (place(2*len(m.first)) + place(h)) ^ flip }
	for h := m.first[i]; h >= 0; h = m.half[h].next {
		if m.half[h].to == j {
			return at(h)
		}
	}
	h := int32(len(m.half))
	m.half = append(m.half, half{to: j}, half{to: i})
	m.push(i, h)
	m.push(j, h+1)
	return at(h)
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
func (m *mesh) reduce() {
	for i := len(m.first) - 1; i > 0; i-- {
		if m.degree[i] <= 2 {
			m.ready = append(m.ready, int32(i))
		}
	}
	for left := len(m.first) - 1; left > 0; left-- {
		k := m.next()
		m.alive[k] = false
		start := int32(len(m.to))
		m.remove(k)
		m.pivots = append(m.pivots, pivot{group: k, start: start, end: int32(len(m.to))})
	}
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

func (m *mesh) remove(k int32) {
	start := len(m.to)
	for h := m.first[k]; h >= 0; {
		p := m.half[h]
		m.to, m.from = append(m.to, p.to), append(m.from, place(2*len(m.first))+place(h))
		m.drop(p.to, h^1)
		h = p.next
	}
	if m.leaks[k] {
		m.to, m.from = append(m.to, 0), append(m.from, place(k)<<1)
	}
	for i, a := range m.to[start:] {
		for _, b := range m.to[start : start+i] {
			m.products = append(m.products, m.join(a, b))
		}
	}
}
