package isolation

// memo is a hash table from sets of rows to what is known of their value. Open addressing, because the search asks it
// for several sets per test and node; a Go map is three times slower here.
type memo struct {
	slots []slot
	used  int
}

// slot holds one set; the empty set, whose value needs no table, marks a free slot.
type slot struct {
	set   rows
	known known
}

// known is a lower bound of a value, and whether it is the value itself.
type known struct {
	low   int64
	exact bool
}

const slotBytes = 48

func (m *memo) find(s rows) int {
	mask := uint64(len(m.slots) - 1)
	i := s.hash() & mask
	for m.slots[i].set != s && !m.slots[i].set.empty() {
		i = (i + 1) & mask
	}
	return int(i)
}

// get returns what is known of s, the zero known if nothing.
func (m *memo) get(s rows) (known, bool) {
	if m.used == 0 {
		return known{}, false
	}
	at := &m.slots[m.find(s)]
	return at.known, !at.set.empty()
}

// put stores what is known of s, which is not empty, in place of what was stored before.
func (m *memo) put(s rows, k known) {
	if 4*(m.used+1) > 3*len(m.slots) {
		m.grow()
	}
	at := &m.slots[m.find(s)]
	if at.set.empty() {
		m.used++
		at.set = s
	}
	at.known = k
}

func (m *memo) grow() {
	old := m.slots
	m.slots = make([]slot, max(1024, 2*len(old)))
	for i := range old {
		if !old[i].set.empty() {
			m.slots[m.find(old[i].set)] = old[i]
		}
	}
}

func (m *memo) bytes() int64 { return int64(len(m.slots)) * slotBytes }
