package typeset

import (
	"iter"
	"strings"
	"unicode"
	"unicode/utf8"

	"nospark/printouts/vector"
)

// Paragraph is text broken into lines that fit a width. It is measured before it is drawn: H is the room it takes.
type Paragraph struct {
	H     float64 // mm
	W     float64 // mm, of the longest line
	Width float64 // mm, for which it was set
	Pitch float64 // mm, height of one line

	style vector.Style
	lines []brokenLine
	text  string // clean, without marks; lines refer to it
	spans []span
}

// brokenLine is the part of the text between two bytes.
type brokenLine struct {
	from, to int
	width    float64
}

// span is a part of a text in one weight.
type span struct {
	to   int // byte where it ends; it begins where the one before ends
	bold bool
}

// Set breaks a text into lines of at most the given width in mm. Words between pairs of ** are printed bold; \n begins
// a new line; a no-break space keeps a number with its unit. A word wider than the line is broken anywhere. No word is
// lost.
func (t *Setter) Set(width float64, text string, s vector.Style) Paragraph {
	p := Paragraph{style: s, Width: width, Pitch: t.LineHeight(s)}
	var b strings.Builder
	var ends []int
	for i, part := range breaks(text) {
		if i > 0 {
			ends = append(ends, b.Len())
		}
		part = strings.Join(strings.FieldsFunc(t.Fonts.printable(part, longestParagraph), breakable), " ")
		p.spans = appendRuns(&b, p.spans, part, s.Bold)
	}
	p.text = b.String()
	from := 0
	for _, end := range append(ends, len(p.text)) {
		p.breakLines(t, from, end)
		from = end
	}
	for _, l := range p.lines {
		p.W = max(p.W, l.width)
	}
	p.H = float64(len(p.lines)) * p.Pitch
	return p
}

// breakable reports whether a line may end at the space.
func breakable(r rune) bool { return unicode.IsSpace(r) && r != '\u00a0' && r != '\u202f' }

// appendRuns takes the ** marks out of a text and notes the weights. A mark without a partner is an ordinary pair of
// stars.
func appendRuns(b *strings.Builder, spans []span, text string, bold bool) []span {
	add := func(run string, heavy bool) {
		b.WriteString(run)
		if n := len(spans); n > 0 && spans[n-1].bold == heavy {
			spans[n-1].to = b.Len()
		} else if run != "" {
			spans = append(spans, span{b.Len(), heavy})
		}
	}
	for {
		before, rest, opened := strings.Cut(text, "**")
		inside, after, closed := strings.Cut(rest, "**")
		if !opened || !closed {
			add(text, bold)
			return spans
		}
		add(before, bold)
		add(inside, true)
		text = after
	}
}

// breakLines breaks the text between two bytes, greedily: the lines are ragged, so a best fit over the paragraph gains
// little.
func (p *Paragraph) breakLines(t *Setter, from, end int) {
	scale := t.size(p.style) * vector.PerPoint / 1000
	limit := p.Width + 1e-6
	start, sum := from, 0.0 // of the line being filled
	good, goodNext := -1, 0 // last place to break: the line ends at good, the next begins at goodNext
	var goodSum, goodNextSum float64
	at := 0          // index of the current span
	var last [2]rune // the two characters before, nearest first
	for i := from; i < end; {
		r, size := utf8.DecodeRuneInString(p.text[i:])
		for at < len(p.spans)-1 && i >= p.spans[at].to {
			at++
		}
		step := float64(t.Fonts.faces[p.faceOf(at)].step(r)) * scale
		if r == ' ' && !(unicode.IsDigit(last[0]) && beginsWithUnit(p.text[i+1:end])) {
			good, goodNext, goodSum, goodNextSum = i, i+size, sum, sum+step
		} else if joint(last[0]) && unicode.IsLetter(last[1]) && unicode.IsLetter(r) {
			good, goodNext, goodSum, goodNextSum = i, i, sum, sum
		}
		if sum+step > limit && (r != ' ' || good != i) && i > start {
			if good > start {
				p.lines = append(p.lines, brokenLine{start, good, goodSum})
				start, sum = goodNext, sum-goodNextSum
			} else {
				p.lines = append(p.lines, brokenLine{start, i, sum})
				start, sum = i, 0
			}
			good = -1
			if sum+step > limit && i > start {
				continue // what was carried over is too long itself: look at this character again
			}
		}
		sum += step
		last = [2]rune{r, last[0]}
		i += size
	}
	if good > start && good == end-1 && p.text[good] == ' ' { // a space before the last mark is no part of the line
		end, sum = good, goodSum
	}
	p.lines = append(p.lines, brokenLine{start, end, sum})
}

// beginsWithUnit reports whether a text begins with a unit, which must stay with the number before it.
func beginsWithUnit(text string) bool {
	word, _, _ := strings.Cut(text, " ")
	switch strings.TrimRight(word, ".,;:)") {
	case "V", "mV", "kV", "A", "mA", "W", "Ω", "kΩ", "MΩ", "ohm", "kohm", "Mohm", "Hz", "kHz", "s", "ms", "min", "mm",
		"m", "°C", "°F", "°", "%",
		"rpm", "mJ", "mH", "bar", "kPa", "psi":
		return true
	}
	return false
}

// joint reports whether a line may end after the character in the middle of a word.
func joint(r rune) bool { return r == '-' || r == '/' || r == '–' || r == '—' }

func (p *Paragraph) faceOf(span int) Face {
	s := p.style
	s.Bold = span < len(p.spans) && p.spans[span].bold
	return FaceOf(s)
}

// Lines is the number of lines.
func (p Paragraph) Lines() int { return len(p.lines) }

// Run is a part of a line in one weight, with the place of its first letter beside and below the paragraph's top left
// corner.
type Run struct {
	X, Baseline float64 // mm
	Line        Line
}

// Runs gives the parts of some lines, aligned in the width that the paragraph was set for; the first of the lines is at
// the top.
func (t *Setter) Runs(p Paragraph, from, to int) iter.Seq[Run] {
	style := p.style
	style.Align, style.Level, style.Angle = vector.Left, vector.Baseline, 0
	return func(yield func(Run) bool) {
		for i, l := range p.lines[from:to] {
			left := 0.0
			switch p.style.Align {
			case vector.Center:
				left += (p.Width - l.width) / 2
			case vector.Right:
				left += p.Width - l.width
			}
			baseline := float64(i)*p.Pitch + p.Pitch/2 + vector.CapHeight*t.size(style)*vector.PerPoint/2
			begin := 0
			for _, s := range p.spans {
				a, b := max(begin, l.from), min(s.to, l.to)
				begin = s.to
				if a >= b {
					continue
				}
				style.Bold = s.bold
				line := t.line(p.text[a:b], style)
				if !yield(Run{left, baseline, line}) {
					return
				}
				left += line.Width
			}
		}
	}
}

// Extent gives the width of the longest line that a text has when nothing breaks it but its own line ends, and the
// width of its longest word, mm.
func (t *Setter) Extent(text string, s vector.Style) (natural, word float64) {
	for _, line := range breaks(text) {
		line = strings.ReplaceAll(t.Fonts.printable(line, longestParagraph), "**", "")
		natural = max(natural, t.widthOf(line, s))
		for _, w := range strings.FieldsFunc(line, breakable) {
			word = max(word, t.widthOf(w, s))
		}
	}
	return natural, word
}
