package printouts

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"nospark/printouts/content"
	"nospark/printouts/screen"
)

// TestScreenSaysWhatTextSays reads pages of every kind as a screen reader does, with the heads of a table before each
// of its cells, and finds plain text's words in plain text's order.
func TestScreenSaysWhatTextSays(t *testing.T) {
	pages := screen.New()
	for name, doc := range everyDocument(t) {
		for _, s := range doc.Sections {
			page := must(t)(pages.Page(content.Document{Title: name, Sections: []content.Section{s}}))
			got, want := wordsOf(readAloud(t, string(page))), wordsOf(content.Text(s))
			if !slices.Equal(got, want) {
				at := 0
				for at < min(len(got), len(want)) && got[at] == want[at] {
					at++
				}
				t.Errorf("%s: after %q the page goes on with %q, the text with %q", name,
					want[max(0, at-6):at], got[at:min(at+6, len(got))], want[at:min(at+6, len(want))])
			}
		}
	}
}

// readAloud is what somebody hears of a page: its texts, numbers before the items of numbered lists, and the head of
// its column before each cell of a table. Rows that more than one cell names are called by those names alone.
func readAloud(t *testing.T, page string) string {
	t.Helper()
	tree, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	var read func(n *html.Node)
	inside := func(n *html.Node) {
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			read(c)
		}
	}
	read = func(n *html.Node) {
		switch {
		case n.Type == html.TextNode:
			b.WriteString(n.Data)
		case n.Type != html.ElementNode:
			inside(n)
		case n.Data == "head" || n.Data == "svg" || attribute(n, "class") == "unseen":
		case n.Data == "ol":
			for i, item := range children(n, "li") {
				fmt.Fprintf(&b, "\n%d. ", i+1)
				inside(item)
			}
		case n.Data == "table":
			table(n, inside, &b)
		default:
			b.WriteString(" ")
			inside(n)
		}
	}
	read(tree)
	return b.String()
}

func table(n *html.Node, inside func(*html.Node), b *strings.Builder) {
	var heads []*html.Node
	for _, head := range children(n, "thead") {
		heads = cells(children(head, "tr")[0])
	}
	for _, row := range children(children(n, "tbody")[0], "tr") {
		named := len(children(row, "th")) > 1
		for i, cell := range cells(row) {
			if cell.FirstChild == nil {
				continue
			}
			if heads != nil && !(named && cell.Data == "th") {
				b.WriteString(" ")
				inside(heads[i])
			}
			b.WriteString(" ")
			inside(cell)
		}
	}
}

func cells(row *html.Node) []*html.Node { return children(row, "th", "td") }

func children(n *html.Node, names ...string) (all []*html.Node) {
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		if c.Type == html.ElementNode && slices.Contains(names, c.Data) {
			all = append(all, c)
		}
	}
	return all
}

func attribute(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}
