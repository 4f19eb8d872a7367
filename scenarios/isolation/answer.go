package isolation

import (
	"math"
	"slices"
)

// frame returns a frame in which set can be solved: of those at hand the one with the fewest rows, else a new one.
func (s *Solver) frame(set Set) *frame {
	at := -1
	for i, f := range s.frames {
		if f.holds(set) && (at < 0 || len(f.members) < len(s.frames[at].members)) {
			at = i
		}
	}
	if at < 0 {
		at = len(s.frames)
		s.frames = append(s.frames, newFrame(s, set))
	}
	f := s.frames[at]
	s.frames = append(slices.Delete(s.frames, at, at+1), f) // the last one used comes last
	if len(s.frames) > maxFrames {
		s.frames = slices.Delete(s.frames, 0, 1)
	}
	return f
}

// maxFrames limits what is remembered of sets of which none leads to another.
const maxFrames = 16

// ask prepares for a question about set, which is not empty: a frame, a new budget, and room for the memo.
func (s *Solver) ask(set Set) *frame {
	f := s.frame(set)
	f.budget = budget{nodes: s.limits.Nodes, limited: s.limits.Nodes > 0}
	if s.limits.Bytes == 0 {
		return f
	}
	var total int64
	for _, o := range s.frames {
		total += o.memo.bytes()
	}
	if total > s.limits.Bytes/2 { // forgetting is better than refusing every question from now on
		for _, o := range s.frames {
			o.memo = memo{}
		}
		total = 0
	}
	f.budget.bytes = s.limits.Bytes - total + f.memo.bytes()
	return f
}

// bracket returns the value of r, or as much as the budget lets it find out.
func (f *frame) bracket(r rows) Bracket {
	k := f.prove(r, math.MaxInt64)
	if k.exact {
		return Bracket{k.low, k.low}
	}
	return Bracket{k.low, f.ahead(r)}
}

// first returns the cost of taking test first, as Solver.Cost.
func (f *frame) first(s *Solver, r rows, test int) Bracket {
	c := f.column(s, test, r)
	fee := c.minutes * f.mass(r)
	total := Bracket{fee, fee}
	for _, p := range c.parts {
		b := f.bracket(p)
		total.Low += b.Low
		total.High += b.High
	}
	return total
}

// attains tells whether test costs no more than value, the proven value of r.
func (f *frame) attains(s *Solver, r rows, test int, value int64) bool {
	c := f.column(s, test, r)
	cost := c.minutes * f.mass(r)
	lows := make([]int64, len(c.parts))
	for i, p := range c.parts {
		lows[i] = f.bound(p, f.top).low
		cost += lows[i]
	}
	for i, p := range c.parts {
		// Each part is only raised as far as it takes to exclude the test, which is much less work than its value.
		if cost > value {
			break
		}
		cost += f.prove(p, value-(cost-lows[i])).low - lows[i]
	}
	return cost <= value && !f.budget.spent
}

// best returns the first test that attains the value of r, or the most promising one if the budget does not suffice.
func (f *frame) best(s *Solver, r rows) (test int, ok bool) {
	b := f.bracket(r)
	if b.High == 0 {
		return 0, false
	}
	for t := range s.p.Minutes {
		if b.Proven() && f.attains(s, r, t, b.Low) {
			return t, true
		}
	}
	least := int64(math.MaxInt64)
	for i := range f.columns {
		c := &f.columns[i]
		if q := f.highest(c, r); q < least || q == least && c.test < test {
			least, test = q, c.test
		}
	}
	return test, true
}

// Value returns W(set) = V(set) x weight: the expected minutes of best play from set to a conclusion, times the
// weight of set. It is 0 when set is Done.
func (s *Solver) Value(set Set) Bracket {
	return s.of(set, (*frame).bracket)
}

// Cost returns Q(set, test) x weight: the expected minutes if test comes first and best play follows, on the
// scale of Value. Value <= Cost <= Value + minutes of test x weight of set; a test that tells nothing costs the latter.
func (s *Solver) Cost(set Set, test int) Bracket {
	return s.of(set, func(f *frame, rows rows) Bracket { return f.first(s, rows, test) })
}

// of asks something of a set in its frame; of no hypothesis everything is 0.
func (s *Solver) of(set Set, ask func(*frame, rows) Bracket) Bracket {
	if set = s.known(set); set.Empty() {
		return Bracket{}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	f := s.ask(set)
	return ask(f, f.rowsOf(set))
}

// Best returns the test with which best play goes on from set; of several equally good ones the first. ok is false
// when set is Done. When a limit leaves the value unproven it is the best test found so far.
func (s *Solver) Best(set Set) (test int, ok bool) {
	set = s.known(set)
	if set.Empty() {
		return 0, false
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	f := s.ask(set)
	return f.best(s, f.rowsOf(set))
}

// GreedyValue returns the cost of diagnosing set by the usual rule of thumb: always take the test with the most
// information per minute (the entropy of its outcomes divided by its minutes; the first of equals), on the scale of
// Value. It is never below Value and shows what exact best play is worth.
func (s *Solver) GreedyValue(set Set) int64 {
	s.mu.Lock()
	defer s.mu.Unlock()
	set = s.known(set)
	if set.Empty() {
		return 0
	}
	f := s.frame(set)
	return f.rollOut(f.rowsOf(set), false)
}
