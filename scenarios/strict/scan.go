package strict

import (
	"strings"

	"github.com/BurntSushi/toml"
)

// maxNesting is how far lists, tables and dotted keys may nest before the scanner gives up; it keeps the stack small on
// hostile text.
const maxNesting = 500

// scanner walks through a TOML text and notes where things begin.
type scanner struct {
	text  string
	pos   int
	line  int
	depth int

	most, mostLine int // greatest depth so far
}

// locate gives the position of every table, key and item in a text that the decoder has accepted. On any other text it
// still ends and does not panic, but the tree means nothing. Lines count from 1 and end with LF or CRLF.
func locate(text string) *Position {
	s := scanner{text: strings.TrimPrefix(text, "\ufeff"), line: 1}
	root := &Position{Line: 1}
	s.document(root)
	return root
}

// depthOf gives the greatest depth of a text and its line: how many lists, inline tables and parts of dotted keys lie
// within each other. The decoder takes time with the square of that depth, so ask before decoding a text from outside
// and refuse what no person writes. Up to the first mistake in a text that is not TOML, the depth is right.
func depthOf(text string) (depth, line int) {
	s := scanner{text: strings.TrimPrefix(text, "\ufeff"), line: 1}
	s.document(&Position{Line: 1})
	return s.most, s.mostLine
}

// reach notes a depth.
func (s *scanner) reach(depth int) {
	if depth > s.most {
		s.most, s.mostLine = depth, s.line
	}
}

// document reads headers and statements up to the end. The open table changes with every header.
func (s *scanner) document(root *Position) {
	table := root
	for s.blank(); s.pos < len(s.text); s.blank() {
		from := s.pos
		if s.text[s.pos] == '[' {
			table = s.header(root)
		} else {
			s.pair(table)
		}
		if s.pos == from { // not TOML: step over it rather than stand still
			s.pos++
		}
	}
}

// header reads [a.b] or [[a.b]] and returns the table it opens.
func (s *scanner) header(root *Position) *Position {
	line := s.line
	s.pos++
	array := s.accept('[')
	path := s.key()
	s.accept(']')
	if array {
		s.accept(']')
	}
	if len(path) == 0 {
		return root
	}
	last := len(path) - 1
	parent := root.into(path[:last], line)
	table := parent.add(path[last], line)
	if array {
		item := &Position{Line: line}
		table.Items = append(table.Items, item)
		return item
	}
	if table.Keys == nil {
		table.Line = line // a table that so far only its subtables implied
	}
	return table
}

// pair reads key = value into a table.
func (s *scanner) pair(table *Position) {
	line := s.line
	path := s.key()
	s.space()
	if !s.accept('=') || len(path) == 0 {
		return
	}
	last := len(path) - 1
	s.value(table.into(path[:last], line).add(path[last], line))
}

// value reads one value and fills in what lies below it.
func (s *scanner) value(at *Position) {
	s.space()
	s.depth++
	s.reach(s.depth)
	defer func() { s.depth-- }()
	if s.pos >= len(s.text) || s.depth > maxNesting {
		s.pos = len(s.text)
		return
	}
	switch s.text[s.pos] {
	case '"', '\'':
		s.quoted()
	case '[':
		s.pos++
		s.inside(']', func() {
			item := &Position{Line: s.line}
			at.Items = append(at.Items, item)
			s.value(item)
		})
	case '{':
		s.pos++
		s.inside('}', func() { s.pair(at) })
	default:
		s.bare()
	}
}

// inside reads what stands between commas up to the closing bracket, over line ends and comments.
func (s *scanner) inside(end byte, element func()) {
	for s.blank(); s.pos < len(s.text); s.blank() {
		if s.accept(end) {
			return
		}
		if s.accept(',') {
			continue
		}
		from := s.pos
		element()
		if s.pos == from {
			s.pos++
		}
	}
}

// bare reads a number, a date or a boolean, comments excluded. A date may have a space before its time.
func (s *scanner) bare() {
	for s.pos < len(s.text) && !strings.ContainsRune(",]}#\r\n", rune(s.text[s.pos])) {
		s.pos++
	}
}

// key reads a dotted key. Quoted parts are decoded, so that they compare with the decoder's.
func (s *scanner) key() (path []string) {
	defer func() { s.reach(s.depth + len(path)) }()
	for len(path) <= maxNesting {
		s.space()
		if s.pos >= len(s.text) {
			return path
		}
		from := s.pos
		if c := s.text[s.pos]; c == '"' || c == '\'' {
			s.quoted()
			path = append(path, unquote(s.text[from:s.pos]))
		} else {
			for s.pos < len(s.text) && !strings.ContainsRune(" \t\r\n.=[]{},#\"'", rune(s.text[s.pos])) {
				s.pos++
			}
			if s.pos == from {
				return path
			}
			path = append(path, s.text[from:s.pos])
		}
		s.space()
		if !s.accept('.') {
			return path
		}
	}
	s.pos = len(s.text)
	return path
}

// unquote reads a quoted key. Escapes are left to the decoder itself: one meaning of them, not two. It panics on some
// text that is no TOML, which counts as unreadable here.
func unquote(raw string) (key string) {
	key = strings.Trim(raw, raw[:1])
	if !strings.Contains(key, `\`) {
		return key
	}
	defer func() { _ = recover() }()
	var one struct{ K string }
	if _, err := toml.Decode("K = "+raw, &one); err == nil {
		key = one.K
	}
	return key
}

// quoted moves behind a string of any of the four kinds.
func (s *scanner) quoted() {
	quote := s.text[s.pos]
	long := strings.Repeat(string(quote), 3)
	if !strings.HasPrefix(s.text[s.pos:], long) {
		for s.pos++; s.pos < len(s.text) && s.text[s.pos] != quote && s.text[s.pos] != '\n'; {
			s.character(quote)
		}
		s.accept(quote)
		return
	}
	for s.pos += 3; s.pos < len(s.text) && !strings.HasPrefix(s.text[s.pos:], long); {
		s.character(quote)
	}
	s.pos = min(s.pos+3, len(s.text))
	for range 2 { // one or two quotes may stand before the closing three
		s.accept(quote)
	}
}

// character moves over one byte of a string, or two when a backslash escapes the second.
func (s *scanner) character(quote byte) {
	if quote == '"' && s.text[s.pos] == '\\' && s.pos+1 < len(s.text) {
		s.pos++
	}
	if s.text[s.pos] == '\n' {
		s.line++
	}
	s.pos++
}

// accept moves over c when it comes next.
func (s *scanner) accept(c byte) bool {
	if s.pos < len(s.text) && s.text[s.pos] == c {
		s.pos++
		return true
	}
	return false
}

// space moves over blanks within a line.
func (s *scanner) space() {
	for s.accept(' ') || s.accept('\t') {
		continue
	}
}

// blank moves over blanks, line ends and comments.
func (s *scanner) blank() {
	for s.pos < len(s.text) {
		switch s.text[s.pos] {
		case '\n':
			s.line++
		case ' ', '\t', '\r':
		case '#':
			for s.pos+1 < len(s.text) && s.text[s.pos+1] != '\n' {
				s.pos++
			}
		default:
			return
		}
		s.pos++
	}
}
