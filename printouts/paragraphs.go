package printouts

import (
	"math"
	"strconv"
	"strings"

	"nospark/printouts/page"
)

// clipped sets a text in at most the given number of lines; one that is longer ends with an ellipsis. It keeps sheets of one page on
// one page, whatever was written into a pack or into adjust.toml.
func clipped(flow *page.Flow, width float64, text string, style page.Style, most int) page.Paragraph {
	p := flow.Set(width, text, style)
	if p.Lines() <= most {
		return p
	}
	runes := []rune(text)
	low, high := 0, len(runes) // low fits, high does not
	for high-low > 1 {
		middle := (low + high) / 2
		if flow.Set(width, ended(runes[:middle]), style).Lines() <= most {
			low = middle
		} else {
			high = middle
		}
	}
	return flow.Set(width, ended(runes[:low]), style)
}

// ended puts an ellipsis behind the last whole word; a pair of ** that was cut open is closed.
func ended(runes []rune) string {
	text := string(runes)
	if at := strings.LastIndexByte(text, ' '); at > len(text)/2 {
		text = text[:at]
	}
	text = strings.TrimRight(text, " *,;:.") + "…"
	if strings.Count(text, "**")%2 == 1 {
		text += "**"
	}
	return text
}

// para places a paragraph of at most the given number of lines across the page.
func (l *leaves) para(above float64, text string, style page.Style, most int) {
	if text == "" {
		return
	}
	p := clipped(l.flow, l.width, text, style, most)
	l.y += above
	l.put(p.H, func(c page.Canvas) { c.Paragraph(0, 0, p) })
}

// heading places the name of a part, and beside it a remark.
func (l *leaves) heading(above float64, name, remark string) {
	l.y += above
	l.put(5.4, func(c page.Canvas) {
		style := page.Style{Size: 11, Bold: true, Condensed: true}
		c.Text(0, 4, name, style)
		x := c.Width(name, style) + 4
		c.Fit(x, 4, c.W-x, remark, page.Style{Size: 8.5, Condensed: true})
	})
}

// short prints a number with at most the given decimals and no zeros at its end: "3", "0.8", "0.83".
func short(x float64, decimals int) string {
	text := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

// lostMinutes prints tenths of a minute that need not be whole.
func lostMinutes(tenths float64) string { return short(tenths/10, 2) }

// points prints points of a mark.
func points(x float64) string { return strconv.FormatFloat(math.Round(x*10)/10, 'f', 1, 64) }

// counted words a number of things: "1 suspect", "7 suspects".
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// listed joins words as in a sentence: "a", "a and b", "a, b and c".
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}
