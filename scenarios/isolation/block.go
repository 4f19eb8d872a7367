package isolation

// block is a node of the hierarchy of a frame's rows, which the lower bound adds up: a policy for a set also serves
// each of its parts, so W(S) >= W(S in first kid) + W(S in second kid), with W = value x weight. (Each row pays its
// path in one tree or the other, and removing the other rows from a tree never lengthens a path.) A leaf knows the
// value of every one of its subsets.
type block struct {
	rows   rows
	kids   [2]*block // nil in a leaf
	from   int       // first row
	size   int       // number of rows, which are consecutive
	value  []int64   // of each subset of a leaf, its rows counted from the first
	leaves []*block  // at or below
}

// leafRows is the usual size of the largest leaf. Larger tables take longer to fill and leave the caches without
// proving much more.
const leafRows = 12

// index returns the subset of s in a leaf as the index of its value.
func (b *block) index(s rows) int {
	w := s.words()
	i, shift := b.from>>6, b.from&63
	x := w[i] >> shift
	if shift+b.size > 64 {
		x |= w[i+1] << (64 - shift)
	}
	return int(x & (1<<b.size - 1))
}

// leaf tells whether b has a table.
func (b *block) leaf() bool { return b.kids[0] == nil }

// within returns the smallest block at or below b that contains s.
func (b *block) within(s rows) *block {
	for !b.leaf() {
		switch {
		case s.within(b.kids[0].rows):
			b = b.kids[0]
		case s.within(b.kids[1].rows):
			b = b.kids[1]
		default:
			return b
		}
	}
	return b
}

// tables returns the part of bound that needs no memo.
func (b *block) tables(s rows) int64 {
	var low int64
	for _, leaf := range b.leaves {
		low += leaf.value[leaf.index(s)]
	}
	return low
}
