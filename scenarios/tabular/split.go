package tabular

import "strings"

const (
	openQuote = `a cell begins with a quote but does not end with one; close it, and double quotes inside it`
	bareQuote = `a quote in the middle of a cell; put the whole cell in quotes and double the one inside`
)

// splitter takes a text with line feeds apart after RFC 4180, with one
// difference: a quote that is never properly closed is a plain character.
type splitter struct {
	text      string // what is left of it
	separator string
	line      int // of the text, where what is left begins
}

// split takes a text apart and keeps what lies within the bounds.
func split(text string, separator rune, opts Options) Text {
	s := splitter{text: text, separator: string(separator), line: 1}
	var t Text
	for s.text != "" {
		if opts.Rows > 0 && len(t.Rows) == opts.Rows {
			t.Cut = true
			return t
		}
		row := Row{Line: s.line}
		for end := false; !end; {
			var cell, wrong string
			line := s.line
			cell, wrong, end = s.cell()
			if wrong != "" && !row.broken {
				row.broken = true
				t.Findings = append(t.Findings, Finding{line, wrong})
			}
			if opts.Columns > 0 && len(row.Cells) == opts.Columns {
				t.Cut = t.Cut || cell != ""
				continue
			}
			row.Cells = append(row.Cells, Original(strings.TrimSpace(cell)))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// cell takes a cell and what ends it from the front of the text. end reports
// the end of its row; wrong what is wrong with its quotes.
func (s *splitter) cell() (cell, wrong string, end bool) {
	cell, after, quoted := quotedCell(s.text, s.separator)
	if !quoted {
		n := strings.IndexAny(s.text, "\n"+s.separator)
		if n < 0 {
			n = len(s.text)
		}
		cell, after = s.text[:n], s.text[n:]
		switch strings.IndexByte(strings.TrimLeft(cell, " "), '"') {
		case -1:
		case 0:
			wrong = openQuote
		default:
			wrong = bareQuote
		}
	}
	end = !strings.HasPrefix(after, s.separator)
	if after != "" {
		after = after[1:] // separators are single bytes
	}
	s.line += strings.Count(s.text[:len(s.text)-len(after)], "\n")
	s.text = after
	return cell, wrong, end
}

// quotedCell reads a cell in quotes; ok is false if there is none, or if it does
// not end before a separator or the end of a line.
func quotedCell(text, separator string) (cell, after string, ok bool) {
	text = strings.TrimLeft(text, " ")
	if !strings.HasPrefix(text, `"`) {
		return "", "", false
	}
	var b strings.Builder
	for i := 1; i < len(text); {
		n := strings.IndexByte(text[i:], '"')
		if n < 0 {
			break
		}
		b.WriteString(text[i : i+n])
		rest := text[i+n+1:]
		next := strings.TrimLeft(rest, " ")
		switch {
		case next == "", next[0] == '\n', strings.HasPrefix(next, separator):
			return b.String(), next, true
		case rest[0] != '"':
			return "", "", false
		}
		b.WriteByte('"')
		i += n + 2
	}
	return "", "", false
}
