package isolation

// candidate is a test that splits the set in hand, with a lower bound of what it costs to take it first.
type candidate struct {
	column  int32
	first   int32 // of its parts in the level's list
	n       int32 // number of parts
	refined bool  // the bound uses the memo
	mark    uint64
	cost    int64
}

// level is the scratch space of one depth of the search.
type level struct {
	cands   []candidate
	columns []int32 // those that split the set
	parts   []rows
	lows    []int64 // lower bound of each part
}
