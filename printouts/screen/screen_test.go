package screen

import (
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"nospark/printouts/content"
	"nospark/scenarios/handout"
)

// everyBlock holds a block of every kind, with words that a browser could take for markup.
func everyBlock() []content.Block {
	const evil = `<script>alert(1)</script>" onload="x & **more**`
	table := content.Table{Columns: []content.Column{{Head: "no.", Header: true, Align: content.Right, Strong: true},
		{Head: evil}, {Head: "c"}, {}}}
	table.Row("1", evil, "", "d")
	table.StartGroup()
	table.Row("2", "b", "c", "")
	keyed := content.Table{Keyed: 1, Columns: []content.Column{{Header: true}, {Head: "key on"}}}
	keyed.Row("first", "417")
	keyed.Row("nothing", "")
	circuit := handout.Diagram{
		Nodes: []handout.DiagramNode{{Number: 1, ID: "a", Label: evil}, {ID: "b", Ground: true, At: [2]float64{4, 0}}},
		Parts: []handout.DiagramPart{{ID: "lamp", Label: evil, Kind: "resistor", Pins: []int{0, 1}}},
	}
	return []content.Block{
		content.Strip{Name: evil, About: evil, Note: "left out"}, content.Title{Text: evil, Below: evil},
		content.Heading{Level: 3, Text: "a level is skipped"}, content.Heading{Level: 2, Text: "back"},
		content.Entry{Code: "K7", Text: evil, Aside: "x"}, content.Paragraph{Text: evil}, content.Paragraph{},
		content.List{Items: []string{evil, "two"}}, content.List{Numbered: true, Items: []string{"first"}},
		content.Fields{List: []content.Field{{Label: evil, Text: evil}, {Label: "none"}}},
		content.Note{Title: "note", Text: evil}, table, keyed,
		content.Form{Name: "Test 1", Rows: [][]string{{"line", "letters"}}}, content.Form{Rows: [][]string{{"total"}}},
		content.Lines{Label: "reason", Count: 2},
		content.Cards{List: []content.Card{{Name: evil, Lead: "lead", Lines: []string{"more"}}}},
		content.Readings{List: []content.Reading{{Number: "417", Letters: "KQ", Text: evil}}},
		content.Columns{N: 2, Blocks: []content.Block{content.Paragraph{Text: "in columns"}}},
		content.Together{Blocks: []content.Block{content.Paragraph{Text: "together"}}}, content.PageBreak{},
		content.Figure{Caption: "a circuit", Picture: content.Circuit{Diagram: circuit}, Words: []string{evil},
			Telling: "in words"},
		content.Figure{Picture: content.Trace{Plot: handout.Plot{Title: evil, XLabel: "ms", YLabel: "V", XTo: 10,
			YTo:          10,
			XPerDivision: 1, YPerDivision: 1, X: []float64{0, 10}, Y: []float64{0, 10}}}, Words: []string{"a trace"}},
		content.Figure{Picture: content.Chart{XLabel: "minutes", YLabel: "left", Series: []content.Series{
			{Name: "you", X: []float64{0, 2, 5}, Y: []float64{9, 4, 1}}, {Name: "best play"}}}},
		content.Figure{Picture: content.Dots{Values: []float64{3, 3, 7}, To: 10, Tick: 1, Unit: "min"}},
		content.Figure{Picture: content.Bars{List: []content.Bar{{Label: "one", Value: 1, Of: 2, Note: "half"}}}},
		content.Cautions{}, content.Cautions{All: true},
	}
}

// TestPageStandsByItself: whatever texts say they stay texts, and nothing in a page runs or is loaded.
func TestPageStandsByItself(t *testing.T) {
	doc := content.Document{Title: "every block", Sections: []content.Section{{Name: "sheet", Blocks: everyBlock()}}}
	data, err := New().Page(doc)
	if err != nil {
		t.Fatal(err)
	}
	// package svg has tests of its own
	page := regexp.MustCompile(`(?s)<svg.*?</svg>`).ReplaceAllString(string(data), "")
	for z := html.NewTokenizer(strings.NewReader(string(data))); z.Next() != html.ErrorToken; {
		token := z.Token()
		if slices.Contains([]string{"script", "link", "img", "iframe", "object", "base"}, token.Data) &&
			token.Type != html.TextToken {
			t.Errorf("element %q is in the page", token)
		}
		for _, a := range token.Attr {
			if strings.HasPrefix(a.Key, "on") || slices.Contains([]string{"style", "src", "href", "action"}, a.Key) {
				t.Errorf("attribute %q is in the page", a.Key)
			}
		}
	}
	if bad := regexp.MustCompile(`url\(|@import|\*\*`).FindString(page); bad != "" {
		t.Errorf("%q is in the page", bad)
	}
	for _, want := range []string{`<html lang="en-US">`, "<title>sheet, every block</title>",
		"&lt;script&gt;alert(1)&lt;/script&gt;&#34; onload=&#34;x &amp; <strong>more</strong>",
		`<th scope="col">c</th>`, `<th scope="row" class="right strong">1</th>`, `<tr class="begins">`,
		"supervising instructor come first"} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q in\n%s", want, page)
		}
	}
	if strings.Contains(page, "nothing") || strings.Contains(page, "left out") {
		t.Error("a row without a test or a note for paper is on the page")
	}
	ids := regexp.MustCompile(` id="([^"]*)"`).FindAllStringSubmatch(page, -1)
	seen := map[string]bool{}
	for _, id := range ids {
		if seen[id[1]] {
			t.Errorf("id %q stands twice", id[1])
		}
		seen[id[1]] = true
	}
	for _, name := range regexp.MustCompile(`aria-labelledby="([^"]*)"`).FindAllStringSubmatch(page, -1) {
		for _, id := range strings.Fields(name[1]) {
			if !seen[id] {
				t.Errorf("%q is named by %q, which is not there", name[0], id)
			}
		}
	}
}

// TestHeadings: no level is skipped, a fragment goes on below the heading above it.
func TestHeadings(t *testing.T) {
	check := func(under int, want string, blocks ...content.Block) {
		t.Helper()
		part, err := New().Fragment(blocks, Place{ID: "x", Under: under})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, m := range regexp.MustCompile(`<h(\d)`).FindAllStringSubmatch(string(part), -1) {
			got = append(got, m[1])
		}
		if strings.Join(got, " ") != want {
			t.Errorf("under %d: levels %v, want %s", under, got, want)
		}
	}
	title, two := content.Title{Text: "t"}, content.Heading{Level: 2, Text: "2"}
	three := content.Heading{Level: 3, Text: "3"}
	form := content.Form{Name: "Test 1", Rows: [][]string{{"line"}}}
	check(0, "1 2 3 2", title, two, three, two)
	check(0, "1 2 2", title, three, two)
	check(1, "2 3 3 2", two, form, form, two)
	check(1, "2 3", title, two)
	check(2, "3 4 5", two, three, form)
}

// TestLinksNoNetwork: what is compiled for browsers links no server, no PDF and no spreadsheet.
func TestLinksNoNetwork(t *testing.T) {
	list := exec.Command("go", "list", "-deps", ".")
	list.Env = append(list.Environ(), "GOOS=js", "GOARCH=wasm")
	out, err := list.Output()
	if err != nil {
		t.Fatal(err)
	}
	deps := strings.Fields(string(out))
	for _, bad := range []string{"net/http", "github.com/go-pdf/fpdf", "github.com/xuri/excelize/v2", "nospark/grading",
		"github.com/go-fonts/dejavu/dejavusans"} {
		if slices.Contains(deps, bad) {
			t.Errorf("package screen links %s", bad)
		}
	}
}
