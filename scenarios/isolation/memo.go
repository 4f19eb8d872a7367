package isolation

// memo is a hash table from sets of rows to what is known of their value. Open addressing, because the search asks it
// for several sets per test and node; a Go map is three times slower here. Most questions are about sets that it does
// not hold, which the short tags answer without a look at the slots.
type memo struct {
	tags  []uint32 // part of the hash of the slot, 0 where it is free
	slots []slot
	used  int
}

// slot holds one set and what is known of it.
type slot struct {
	set   rows
	known known
}

// known is a lower bound of a value, and whether it is the value itself.
type known struct {
	low   int64
	exact bool
}

const slotBytes = 52

// find returns the slot of s, or the free one where it belongs, and its tag.
func (m *memo) find(s rows) (slot int, tag uint32) {
	h := s.hash()
	tag = uint32(h>>32) | 1
	mask := len(m.tags) - 1
	i := int(h) & mask
	for m.tags[i] != 0 && (m.tags[i] != tag || m.slots[i].set != s) {
		i = (i + 1) & mask
	}
	return i, tag
}

// get returns what is known of s, the zero known if nothing.
func (m *memo) get(s rows) (known, bool) {
	if m.used == 0 {
		return known{}, false
	}
	i, _ := m.find(s)
	if m.tags[i] == 0 {
		return known{}, false
	}
	return m.slots[i].known, true
}

// put stores what is known of s, which is not empty, in place of what was stored before.
func (m *memo) put(s rows, k known) {
	if 4*(m.used+1) > 3*len(m.slots) {
		m.grow()
	}
	i, tag := m.find(s)
	if m.tags[i] == 0 {
		m.used++
		m.tags[i] = tag
		m.slots[i].set = s
	}
	m.slots[i].known = k
}

func (m *memo) grow() {
	old := *m
	n := max(1024, 2*len(old.slots))
	m.slots, m.tags = make([]slot, n), make([]uint32, n)
	for i, tag := range old.tags {
		if tag != 0 {
			j, _ := m.find(old.slots[i].set)
			m.tags[j], m.slots[j] = tag, old.slots[i]
		}
	}
}

func (m *memo) bytes() int64 { return int64(len(m.slots)) * slotBytes }
