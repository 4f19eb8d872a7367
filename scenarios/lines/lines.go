// Package lines finds the line of every table, key and list item in a TOML text, which the TOML decoder does not tell.
//
// Start at Decode, which decodes a text or says in which line the slip is that keeps it from being TOML, and how to mend it. Of gives the
// tree of places of a decoded text; Place.Key and Place.Item walk down it beside the values. The package is no TOML parser: Of wants text
// that the decoder has accepted. On any other text it still ends and does not panic, but the tree means nothing.
package lines

import "strings"

// Place is where a table, a list or a single value begins. The zero Line of a nil Place is not used: Key and Item fall back on the
// place they are asked of, so that an error always has some line.
type Place struct {
	Line  int
	Order []string          // keys of a table in the order of the file
	Keys  map[string]*Place // nil unless this is a table
	Items []*Place          // items of a list or of an array of tables
}

// Key gives the place of a key of a table, or the table's own place when it has no such key.
func (p *Place) Key(name string) *Place {
	if below, ok := p.Keys[name]; ok {
		return below
	}
	return &Place{Line: p.Line}
}

// Item gives the place of item i of a list, or the list's own place when it has no such item.
func (p *Place) Item(i int) *Place {
	if i >= 0 && i < len(p.Items) {
		return p.Items[i]
	}
	return &Place{Line: p.Line}
}

// Of indexes a TOML text that a decoder has accepted. Lines count from 1 and end with LF or CRLF.
func Of(text string) *Place {
	s := scanner{text: strings.TrimPrefix(text, "\ufeff"), line: 1}
	root := &Place{Line: 1}
	s.document(root)
	return root
}

// Deepest gives the greatest depth of a text and its line: how many lists, inline tables and parts of dotted keys lie within each other.
// The decoder takes time with the square of that depth, so ask before decoding a text from outside and refuse what no person writes. Up
// to the first mistake in a text that is not TOML, the depth is right.
func Deepest(text string) (depth, line int) {
	s := scanner{text: strings.TrimPrefix(text, "\ufeff"), line: 1}
	s.document(&Place{Line: 1})
	return s.most, s.mostLine
}

// add makes the place of a key that is not there yet.
func (p *Place) add(name string, line int) *Place {
	if p.Keys == nil {
		p.Keys = map[string]*Place{}
	}
	if below, ok := p.Keys[name]; ok {
		return below
	}
	below := &Place{Line: line}
	p.Keys[name] = below
	p.Order = append(p.Order, name)
	return below
}

// into goes down a dotted key; the last table of an array of tables stands for the array, as in TOML headers.
func (p *Place) into(path []string, line int) *Place {
	for _, name := range path {
		p = p.add(name, line)
		if n := len(p.Items); n > 0 {
			p = p.Items[n-1]
		}
	}
	return p
}
