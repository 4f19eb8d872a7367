package isolation

// budget is what is left of the limits of the question in hand.
type budget struct {
	nodes   int64 // left, if limited
	bytes   int64 // for the memo, if limited
	limited bool  // nodes are
	spent   bool
}

// spend takes one node from the budget. It is false, and stays so, when a limit is reached.
func (b *budget) spend(m *memo) bool {
	if b.limited && b.nodes <= 0 || b.bytes > 0 && m.bytes() > b.bytes {
		b.spent = true
	}
	b.nodes--
	return !b.spent
}
