package isolation

import "math/bits"

// rows is a set of a frame's merged rows. It holds what a Set holds, but as four fields: the compiler keeps a small
// struct in registers and an array in memory, and the search does little else than intersect these.
type rows struct{ a, b, c, d uint64 }

func (s rows) and(o rows) rows  { return rows{s.a & o.a, s.b & o.b, s.c & o.c, s.d & o.d} }
func (s rows) or(o rows) rows   { return rows{s.a | o.a, s.b | o.b, s.c | o.c, s.d | o.d} }
func (s rows) less(o rows) rows { return rows{s.a &^ o.a, s.b &^ o.b, s.c &^ o.c, s.d &^ o.d} }
func (s rows) empty() bool      { return s.a|s.b|s.c|s.d == 0 }

// within tells whether s is a subset of o.
func (s rows) within(o rows) bool {
	return s.a&^o.a|s.b&^o.b|s.c&^o.c|s.d&^o.d == 0
}

func (s rows) words() [rowWords]uint64 { return [rowWords]uint64{s.a, s.b, s.c, s.d} }

func (s rows) len() int {
	return bits.OnesCount64(s.a) + bits.OnesCount64(s.b) + bits.OnesCount64(s.c) + bits.OnesCount64(s.d)
}

// first returns the least member of a set that is not empty.
func (s rows) first() int {
	switch {
	case s.a != 0:
		return bits.TrailingZeros64(s.a)
	case s.b != 0:
		return 64 + bits.TrailingZeros64(s.b)
	case s.c != 0:
		return 128 + bits.TrailingZeros64(s.c)
	}
	return 192 + bits.TrailingZeros64(s.d)
}

// members appends the members in ascending order to list.
func (s rows) members(list []int) []int {
	for i, w := range s.words() {
		for ; w != 0; w &= w - 1 {
			list = append(list, i<<6+bits.TrailingZeros64(w))
		}
	}
	return list
}

// row returns the set of row r alone.
func row(r int) rows {
	bit := uint64(1) << (r & 63)
	switch r >> 6 {
	case 0:
		return rows{a: bit}
	case 1:
		return rows{b: bit}
	case 2:
		return rows{c: bit}
	}
	return rows{d: bit}
}

// hash mixes all words; equal sets have equal hashes.
func (s rows) hash() uint64 {
	x := s.a*0x9e3779b97f4a7c15 ^ bits.RotateLeft64(s.b*0xc2b2ae3d27d4eb4f, 23) ^
		bits.RotateLeft64(s.c*0x165667b19e3779f9, 41) ^ bits.RotateLeft64(s.d*0xd6e8feb86659fd93, 53)
	x ^= x >> 32
	x *= 0xd6e8feb86659fd93
	return x ^ x>>29
}
