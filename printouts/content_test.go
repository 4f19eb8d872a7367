package printouts

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"nospark/grading"
	"nospark/grading/bestplay"
	"nospark/printouts/content"
	"nospark/printouts/debrief"
	"nospark/printouts/handouts"
	"nospark/printouts/instructor"
	"nospark/printouts/paper"
	"nospark/printouts/paper/debriefs"
	"nospark/printouts/paper/readings"
	"nospark/printouts/paper/worksheets"
	"nospark/scenarios/testrun"
)

// everyDocument is a document of every kind, of labs that a person can check.
func everyDocument(t *testing.T) map[string]content.Document {
	t.Helper()
	h := small()
	h.Forbidden = []string{"ohmmeter"}
	lab, result := lampClass(t)
	key, err := bestplay.NewKey(lab)
	if err != nil {
		t.Fatal(err)
	}
	term := signOffTerm(t, 6, 2)
	signOffs, err := instructor.SignOffs(term, term.Students)
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]content.Document{
		"worksheet": {Sections: []content.Section{handouts.Worksheet(h, h.Worksheets[0])}},
		"readings":  {Sections: []content.Section{handouts.Readings(h, h.Readings[0])}},
		"debriefs":  {},
		"booklet":   handouts.Booklet(h), "pairing": instructor.Pairing(h), "key": instructor.Key(lab, key),
		"overview": instructor.Overview(lab, result), "how-to-run": instructor.HowTo(lab), "sign-offs": signOffs,
	}
	d := all["debriefs"]
	for _, s := range result.Students {
		d.Sections = append(d.Sections, debrief.New(lab, result.Reference, s).Section())
	}
	all["debriefs"] = d
	return all
}

var pageNumber = regexp.MustCompile(`page \d+ of \d+`)

// TestGoldenContent: what every document says, block by block.
func TestGoldenContent(t *testing.T) {
	for name, doc := range everyDocument(t) {
		var all []string
		for _, s := range doc.Sections {
			all = append(all, content.Text(s))
		}
		golden(t, "content/"+name+".txt", strings.Join(all, "--- next section\n"))
	}
}

// wordsOf are the words of a text, without signs and without those of which the typefaces have no letter. A hyphen
// parts words, because a line may end there.
func wordsOf(text string) []string {
	var words []string
	for _, word := range strings.Fields(strings.NewReplacer("**", "", "-", " ").Replace(text)) {
		word = strings.Trim(word, ",;:.")
		if strings.ContainsFunc(word, func(r rune) bool {
			return (unicode.IsLetter(r) || unicode.IsDigit(r)) && !unicode.Is(unicode.Han, r)
		}) {
			words = append(words, word)
		}
	}
	return words
}

// said are the words of blocks in their order, without the heads of tables and what each renderer does in its own
// way.
func said(blocks []content.Block) (words, heads []string) {
	for _, b := range blocks {
		say := func(texts ...string) { words = append(words, wordsOf(strings.Join(texts, " "))...) }
		inner := func(blocks []content.Block) {
			w, h := said(blocks)
			words, heads = append(words, w...), append(heads, h...)
		}
		switch b := b.(type) {
		case content.Title:
			say(b.Text, b.Below)
		case content.Strip:
			heads = append(heads, wordsOf(strings.Join([]string{b.Name, b.About, b.Note, "Name"}, " "))...)
		case content.Heading:
			say(b.Text)
		case content.Entry:
			heads = append(heads, wordsOf(b.Aside)...) // on paper drawn before the text, to measure the room
			say(b.Code, b.Text)
		case content.Paragraph:
			say(b.Text)
		case content.List:
			for i, item := range b.Items {
				if b.Numbered {
					say(fmt.Sprint(i + 1))
				}
				say(item)
			}
		case content.Fields:
			for _, f := range b.List {
				if f.Text != "" {
					say(f.Label, f.Text)
				}
			}
		case content.Note:
			say(b.Title, b.Text)
		case content.Cautions:
			say(b.Words()...)
		case content.Table:
			for _, c := range b.Columns {
				heads = append(heads, append(wordsOf(c.Head), "A", "B", "C", "D", "E")...)
			}
			for _, row := range b.Rows {
				if b.Keyed == 0 || b.Named(row, b.Keyed, len(row)) {
					say(row...)
				}
			}
		case content.Readings:
			for _, r := range b.List {
				say(r.Number, r.Letters, r.Text)
			}
		case content.Form:
			say(b.Name)
			for _, row := range b.Rows {
				say(row...)
			}
		case content.Lines:
			say(b.Label)
		case content.Cards:
			for _, c := range b.List {
				say(append([]string{c.Name, c.Lead}, c.Lines...)...)
			}
		case content.Columns:
			inner(b.Blocks)
		case content.Together:
			inner(b.Blocks)
		case content.PageBreak:
		default:
			panic(fmt.Sprintf("no words of a block of type %T", b))
		}
	}
	return words, heads
}

// withoutFigures leaves out pictures, which paper draws and plain text tells.
func withoutFigures(blocks []content.Block) []content.Block {
	var all []content.Block
	for _, b := range blocks {
		switch b := b.(type) {
		case content.Figure:
		case content.Together:
			all = append(all, content.Together{Blocks: withoutFigures(b.Blocks)})
		default:
			all = append(all, b)
		}
	}
	return all
}

// TestRenderersSayTheSame: plain text, normal and large print of a document say the same words in the same order;
// each may add the heads of tables where it needs them.
func TestRenderersSayTheSame(t *testing.T) {
	testrun.Slow(t, "prints every document three ways")
	for name, doc := range everyDocument(t) {
		for _, s := range doc.Sections {
			s.Blocks = withoutFigures(s.Blocks)
			s.Left, s.Right, s.Foot = "", "", "" // stand on every page
			words, heads := said(s.Blocks)
			check := func(how, text string) {
				t.Helper()
				next := 0
				for _, word := range wordsOf(text) {
					if next < len(words) && word == words[next] {
						next++
					} else if !slices.Contains(heads, word) {
						t.Errorf("%s, %s: %q is nowhere in the content, or not after %q", name, how, word,
							words[max(0, next-5):next])
						return
					}
				}
				if next < len(words) {
					t.Errorf("%s, %s: %q is missing, after %q", name, how, words[next], words[max(0, next-5):next])
				}
			}
			check("plain text", content.Text(s))
			for _, s.Large = range []bool{false, true} {
				if s.Large && name == "sign-offs" {
					continue // a table to write in, for the instructor: its columns are too narrow for 18 pt
				}
				pdf := must(t)(paper.PDF(content.Document{Paper: "letter", Sections: []content.Section{s}}))
				text := pageNumber.ReplaceAllString(tool(t, "pdftotext", "-raw", saved(t, pdf), "-"), " ")
				check(fmt.Sprintf("paper, large %v", s.Large), text)
			}
		}
	}
}

// TestPlacedByHand: pages whose parts are placed by hand have what their content says of tests, readings and the
// mark.
func TestPlacedByHand(t *testing.T) {
	h := small()
	lab, result := lampClass(t)
	check := func(name string, pdf []byte, texts ...string) {
		t.Helper()
		have := map[string]int{}
		for _, word := range wordsOf(tool(t, "pdftotext", "-raw", saved(t, pdf), "-")) {
			have[word]++
		}
		for _, word := range wordsOf(strings.Join(texts, " ")) {
			if have[word] == 0 {
				t.Errorf("%s: %q is not on the page", name, word)
			}
		}
	}
	var cells []string
	for _, b := range handouts.Worksheet(h, h.Worksheets[0]).Blocks {
		if table, is := b.(content.Table); is {
			for _, row := range table.Rows {
				cells = append(cells, row...)
			}
		}
	}
	cells = append(cells, h.Worksheets[0].Complaint, handouts.Vehicle(h.Reference.Vehicle), content.CautionsShort)
	check("worksheet", must(t)(worksheets.PDF(h)), cells...)
	words, _ := said(withoutFigures(handouts.Readings(h, h.Readings[0]).Blocks))
	check("readings", must(t)(readings.PDF(h)), slices.DeleteFunc(words, func(w string) bool { return w == "For" })...)
	one := *result
	for _, s := range result.Students {
		one.Students = []grading.StudentResult{s}
		d := debrief.New(lab, result.Reference, s)
		texts := []string{d.PageTitle(), d.Person()}
		if d.Nothing() {
			texts = append(texts, d.NothingWords()...)
		} else {
			texts = append(texts, d.Why(), d.Lost(), d.BestPlay(), d.MinutesText())
			for _, f := range d.Facts() {
				texts = append(texts, f.Label, f.Text)
			}
			for _, p := range d.Parts() {
				texts = append(texts, p.Name, p.How, p.Why)
			}
			for i := range s.Steps {
				texts = append(texts, d.StepName(s.Steps[i]), d.RemarkOn(i))
			}
		}
		check("debrief of "+s.Sheet, must(t)(debriefs.PDF(lab, &one)), texts...)
	}
}
