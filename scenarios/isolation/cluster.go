package isolation

import (
	"math"
	"math/bits"
	"slices"
)

// shape is a hierarchy without its rows: the leaves in order are runs of consecutive rows.
type shape struct {
	size int
	kids [2]*shape
}

// cluster proposes a hierarchy. The bound is tight when rows that only dear tests can tell apart are together, so
// groups are joined by decreasing average square of the price of telling a row of one from a row of the other, with a
// preference for small groups that keeps the hierarchy balanced. Any hierarchy is correct; this one was the best of
// several on circuit-like problems. What fits into a leaf of at most leaf rows becomes one.
func cluster(f *frame, leaf int) (order []int, top *shape) {
	n := len(f.members)
	groups := make([][]int, n)
	shapes := make([]*shape, n)
	price := make([][]float64, n) // sum over pairs of rows
	for i := range n {
		groups[i] = []int{i}
		shapes[i] = &shape{size: 1}
		price[i] = make([]float64, n)
		for j := range n {
			minutes := float64(f.pairCost(i, j))
			price[i][j] = minutes * minutes
		}
	}
	for len(groups) > 1 {
		i, j := dearest(groups, price)
		joint := &shape{size: shapes[i].size + shapes[j].size}
		if joint.size > leaf {
			joint.kids = [2]*shape{shapes[i], shapes[j]}
		}
		shapes[i] = joint
		groups[i] = append(groups[i], groups[j]...)
		for k := range price {
			price[i][k] += price[j][k]
			price[k][i] = price[i][k]
		}
		groups = slices.Delete(groups, j, j+1)
		shapes = slices.Delete(shapes, j, j+1)
		price = slices.Delete(price, j, j+1)
		for k := range price {
			price[k] = slices.Delete(price[k], j, j+1)
		}
	}
	return groups[0], shapes[0]
}

// dearest returns the two groups to join next, i < j.
func dearest(groups [][]int, price [][]float64) (i, j int) {
	best := math.Inf(-1)
	for a := range groups {
		for b := a + 1; b < len(groups); b++ {
			m, n := float64(len(groups[a])), float64(len(groups[b]))
			if p := price[a][b] / (m * n * math.Sqrt(m+n)); p > best {
				best, i, j = p, a, b
			}
		}
	}
	return i, j
}

// plant turns a shape into blocks over the frame's rows and fills the leaves.
func (f *frame) plant(s *shape, from int) *block {
	b := &block{from: from, size: s.size}
	for r := range s.size {
		b.rows = b.rows.or(row(from + r))
	}
	if s.kids[0] == nil {
		f.tabulate(b)
		b.leaves = []*block{b}
		return b
	}
	b.kids[0] = f.plant(s.kids[0], from)
	b.kids[1] = f.plant(s.kids[1], from+s.kids[0].size)
	b.leaves = slices.Concat(b.kids[0].leaves, b.kids[1].leaves)
	return b
}

// split is a test on the subsets of a leaf: which rows of it stay together, as bits.
type split struct {
	minutes int64
	parts   []int
}

// tabulate computes the value of every subset of a leaf, small subsets first.
func (f *frame) tabulate(b *block) {
	splits := f.splits(b)
	alike := make([]int, len(f.alike))
	for l := range alike {
		alike[l] = b.index(f.alike[l].and(b.rows))
	}
	b.value = make([]int64, 1<<b.size)
	mass := make([]int64, 1<<b.size)
	for m := 1; m < len(b.value); m++ {
		least := b.from + bits.TrailingZeros(uint(m))
		mass[m] = mass[m&(m-1)] + f.weight[least]
		if m&^alike[f.label[least]] != 0 {
			b.value[m] = b.cheapest(splits, m, mass[m])
		}
	}
}

// splits are the tests that divide a leaf, cheapest first, without those that tell less than one before.
func (f *frame) splits(b *block) []split {
	var splits []split
	var seen [][]rows
	for _, c := range f.columns {
		var local []rows
		sp := split{minutes: c.minutes}
		for _, p := range c.parts {
			if p = p.and(b.rows); !p.empty() {
				local = append(local, p)
				sp.parts = append(sp.parts, b.index(p))
			}
		}
		if len(sp.parts) < 2 || slices.ContainsFunc(seen, func(k []rows) bool { return finer(k, local) }) {
			continue
		}
		seen = append(seen, local)
		splits = append(splits, sp)
	}
	return splits
}

// cheapest is the value of a subset of a leaf by the values of smaller ones.
func (b *block) cheapest(splits []split, subset int, mass int64) int64 {
	best := int64(math.MaxInt64)
	for _, sp := range splits {
		v := sp.minutes * mass
		if v >= best { // the next ones take longer still
			break
		}
		whole := false
		for _, p := range sp.parts {
			whole = whole || p&subset == subset
			v += b.value[p&subset]
		}
		if !whole && v < best {
			best = v
		}
	}
	return best
}
