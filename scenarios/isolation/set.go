package isolation

import (
	"iter"
	"math/bits"
)

// MaxHypotheses is the number of hypotheses that a Set can hold.
const MaxHypotheses = 64 * setWords

const setWords = 8

// MaxDistinct is the number of hypotheses in one question that some test tells from each other. A question about more
// panics: whoever poses the problem counts them with Solver.Groups.
const MaxDistinct = 64 * rowWords

const rowWords = 4

// Set is a set of hypotheses, by their index in Problem.Weight. It is a value: compare two with ==, use one as
// the key of a map, copy it freely. The zero Set is empty. Indexes outside 0..MaxHypotheses-1 panic.
type Set [setWords]uint64

// SetOf returns the set of the given hypotheses.
func SetOf(members ...int) Set {
	var s Set
	for _, h := range members {
		s[h>>6] |= 1 << (h & 63)
	}
	return s
}

// Has tells whether hypothesis h is in s.
func (s Set) Has(h int) bool { return s[h>>6]>>(h&63)&1 == 1 }

// With returns s and hypothesis h.
func (s Set) With(h int) Set {
	s[h>>6] |= 1 << (h & 63)
	return s
}

// Without returns s less hypothesis h.
func (s Set) Without(h int) Set {
	s[h>>6] &^= 1 << (h & 63)
	return s
}

// Union returns what is in s or in o.
func (s Set) Union(o Set) Set {
	for i := range s {
		s[i] |= o[i]
	}
	return s
}

// Intersect returns what is in s and in o.
func (s Set) Intersect(o Set) Set {
	for i := range s {
		s[i] &= o[i]
	}
	return s
}

// Minus returns what is in s and not in o.
func (s Set) Minus(o Set) Set {
	for i := range s {
		s[i] &^= o[i]
	}
	return s
}

// Empty tells whether s has no members.
func (s Set) Empty() bool { return s == Set{} }

// Within tells whether every member of s is in o.
func (s Set) Within(o Set) bool { return s.Minus(o).Empty() }

// Len returns the number of members.
func (s Set) Len() int {
	n := 0
	for _, word := range s {
		n += bits.OnesCount64(word)
	}
	return n
}

// First returns the least member, or -1 when s is empty.
func (s Set) First() int {
	for i, word := range s {
		if word != 0 {
			return i<<6 + bits.TrailingZeros64(word)
		}
	}
	return -1
}

// All yields the members in ascending order.
func (s Set) All() iter.Seq[int] {
	return func(yield func(int) bool) {
		for i, word := range s {
			for ; word != 0; word &= word - 1 {
				if !yield(i<<6 + bits.TrailingZeros64(word)) {
					return
				}
			}
		}
	}
}
