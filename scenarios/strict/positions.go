package strict

// Position is where a table, a list or a single value begins. Key and Item fall back on the position they are asked of,
// so that an error always has some line.
type Position struct {
	Line  int
	Order []string             // keys of a table in the order of the file
	Keys  map[string]*Position // nil unless this is a table
	Items []*Position          // items of a list or of an array of tables
}

// Key gives the position of a key of a table, or the table's own when it has no such key.
func (p *Position) Key(name string) *Position {
	if below, ok := p.Keys[name]; ok {
		return below
	}
	return &Position{Line: p.Line}
}

// Item gives the position of item i of a list, or the list's own when it has no such item.
func (p *Position) Item(i int) *Position {
	if i >= 0 && i < len(p.Items) {
		return p.Items[i]
	}
	return &Position{Line: p.Line}
}

// add makes the position of a key that is not there yet.
func (p *Position) add(name string, line int) *Position {
	if p.Keys == nil {
		p.Keys = map[string]*Position{}
	}
	if below, ok := p.Keys[name]; ok {
		return below
	}
	below := &Position{Line: line}
	p.Keys[name] = below
	p.Order = append(p.Order, name)
	return below
}

// into goes down a dotted key; the last table of an array of tables stands for the array, as in TOML headers.
func (p *Position) into(path []string, line int) *Position {
	for _, name := range path {
		p = p.add(name, line)
		if n := len(p.Items); n > 0 {
			p = p.Items[n-1]
		}
	}
	return p
}
