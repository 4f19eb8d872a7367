package isolation

import "math"

// prove raises what is known of s until the value is proven or found to exceed limit, or the budget is spent.
//
// The limit of the search rises in small steps from the lower bound. Each round then visits only sets that every proof
// has to visit (up to the step), whatever the order of tests, and what it learns stays in the memo for the next round.
func (f *frame) prove(s rows, limit int64) known {
	columns := make([]int32, len(f.columns))
	for i := range columns {
		columns[i] = int32(i)
	}
	k := f.bound(s, f.top)
	for !k.exact && k.low <= limit && !f.budget.spent {
		k = f.solve(s, f.top, min(limit, k.low+k.low/limitStep), columns)
	}
	return k
}

// limitStep is the fraction by which the limit rises from round to round.
const limitStep = 32

// bound returns what is known of s without any search; b is a block that contains s.
func (f *frame) bound(s rows, b *block) known {
	if f.settled(s) {
		return known{exact: true}
	}
	b = b.within(s)
	if b.leaf() {
		return known{b.value[b.index(s)], true}
	}
	if k, ok := f.memo.get(s); ok {
		return k
	}
	return known{low: f.bound(s.and(b.kids[0].rows), b.kids[0]).low + f.bound(s.and(b.kids[1].rows), b.kids[1]).low}
}

// solve raises what is known of s until the value is proven or found to exceed limit (or the budget is spent). The
// columns include all that may help; b is a block that contains s. The halves come before the tests because one bound
// that exceeds limit settles the matter, while all tests have to be excluded one by one.
func (f *frame) solve(s rows, b *block, limit int64, columns []int32) known {
	if f.settled(s) {
		return known{exact: true}
	}
	b = b.within(s)
	if b.leaf() {
		return known{b.value[b.index(s)], true}
	}
	k, _ := f.memo.get(s)
	if k.exact || k.low > limit {
		return k
	}
	k.low = max(k.low, f.halves(s, b, limit, columns))
	if k.low <= limit && f.budget.spend(&f.memo) {
		k = f.expand(s, b, limit, columns, k)
	}
	f.memo.put(s, k)
	return k
}

// halves bounds s by the sum of its shares of both kids of b, solving these as far as limit asks.
func (f *frame) halves(s rows, b *block, limit int64, columns []int32) int64 {
	left, right := s.and(b.kids[0].rows), s.and(b.kids[1].rows)
	l, r := f.bound(left, b.kids[0]).low, f.bound(right, b.kids[1]).low
	if l+r <= limit {
		l = f.solve(left, b.kids[0], limit-r, columns).low
	}
	if l+r <= limit {
		r = f.solve(right, b.kids[1], limit-l, columns).low
	}
	return l + r
}

// expand compares the tests that split s, the most promising first.
func (f *frame) expand(s rows, b *block, limit int64, columns []int32, k known) known {
	if f.depth == len(f.levels) {
		f.levels = append(f.levels, &level{})
	}
	lv := f.levels[f.depth]
	f.depth++
	defer func() { f.depth-- }()
	if inLine := f.list(lv, s, b, columns); inLine {
		if value, ok := f.lineUp(lv, s); ok {
			return known{value, true}
		}
	}
	best, mass := int64(math.MaxInt64), f.mass(s)
	for !f.budget.spent {
		c := lv.cheapest()
		ceiling := min(limit, best-1)
		if c.cost > ceiling || best <= k.low {
			break
		}
		if !c.refined {
			// Asking the memo is the dearest part of a node, so it is put off until the tables do not exclude the test.
			f.refine(lv, c, b)
			// What remains without the minutes of the test bounds s itself, as in block.
			k.low = max(k.low, c.cost-f.columns[c.column].minutes*mass)
			if k.low > limit {
				return k
			}
			continue
		}
		if f.follow(lv, c, b, ceiling) {
			best = c.cost
		}
	}
	low := max(k.low, min(best, lv.cheapest().cost))
	return known{low, best <= low}
}

// list fills lv with the tests that split s. Of tests that split it alike only the first is listed, which is the
// cheapest. It reports whether each of them leaves exactly one part unsettled.
func (f *frame) list(lv *level, s rows, b *block, columns []int32) (inLine bool) {
	lv.cands, lv.columns, lv.parts, lv.lows = lv.cands[:0], lv.columns[:0], lv.parts[:0], lv.lows[:0]
	mass := f.mass(s)
	inLine = true
	for _, i := range columns {
		c := candidate{column: i, first: int32(len(lv.parts))}
		for _, p := range f.columns[i].parts {
			if p = p.and(s); !p.empty() {
				lv.parts = append(lv.parts, p)
				c.mark += p.hash()
				c.n++
			}
		}
		if c.n < 2 || lv.repeats(c) {
			lv.parts = lv.parts[:c.first]
			continue
		}
		c.cost = f.columns[i].minutes * mass
		for _, p := range lv.parts[c.first:] {
			low := b.tables(p)
			lv.lows = append(lv.lows, low)
			c.cost += low
		}
		inLine = inLine && f.unsettled(lv.parts[c.first:]) == 1
		lv.cands = append(lv.cands, c)
		lv.columns = append(lv.columns, i)
	}
	return inLine
}

// unsettled counts the parts that need another test.
func (f *frame) unsettled(parts []rows) int {
	n := 0
	for _, p := range parts {
		if !f.settled(p) {
			n++
		}
	}
	return n
}

// repeats tells whether a candidate of lv splits the set as c does, whose parts are the last of the list.
func (lv *level) repeats(c candidate) bool {
	for i := range lv.cands {
		o := &lv.cands[i]
		if o.mark == c.mark && o.n == c.n && finer(lv.parts[o.first:o.first+o.n], lv.parts[c.first:]) {
			return true
		}
	}
	return false
}

// cheapest returns the candidate with the least bound, the first of equals.
func (lv *level) cheapest() *candidate {
	best := &lv.cands[0]
	for i := range lv.cands {
		if lv.cands[i].cost < best.cost {
			best = &lv.cands[i]
		}
	}
	return best
}

// refine raises the bound of c by what the memo knows of its parts.
func (f *frame) refine(lv *level, c *candidate, b *block) {
	c.refined = true
	for i := c.first; i < c.first+c.n; i++ {
		c.learn(lv, i, f.bound(lv.parts[i], b).low)
	}
}

// learn replaces the lower bound of the candidate's part i.
func (c *candidate) learn(lv *level, i int32, low int64) {
	c.cost += low - lv.lows[i]
	lv.lows[i] = low
}

// follow solves the parts of c until their sum is proven or exceeds ceiling. Small parts come first: they cost little
// and what they add may spare the large ones. It reports a proof.
func (f *frame) follow(lv *level, c *candidate, b *block, ceiling int64) bool {
	exact := true
	parts, lows := lv.parts[c.first:c.first+c.n], lv.lows[c.first:c.first+c.n]
	for i := range parts {
		least := i
		for j := i + 1; j < len(parts); j++ {
			if parts[j].len() < parts[least].len() {
				least = j
			}
		}
		parts[i], parts[least] = parts[least], parts[i]
		lows[i], lows[least] = lows[least], lows[i]
		k := f.solve(parts[i], b, ceiling-(c.cost-lows[i]), lv.columns)
		c.learn(lv, c.first+int32(i), max(k.low, lows[i]))
		exact = exact && k.exact
		if c.cost > ceiling || f.budget.spent {
			return exact && i == len(parts)-1 && c.cost <= ceiling
		}
	}
	return exact
}
