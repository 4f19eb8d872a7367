package page

import (
	"strings"
	"testing"
)

// everywhere puts a text wherever a text can go.
func everywhere(d *Document, text string) {
	s := d.Section(Frame{Name: text, Left: text, Right: text, Foot: text, Large: len(text)%2 == 1})
	s.Title(text, text)
	s.Heading(text)
	s.Para(text)
	s.Bullets(text, text)
	s.Note(text, text)
	s.Fields(text, text)
	table := Table{Columns: []Column{{Head: text}, {Head: text, Turn: true, Width: Natural}},
		Over: []Cell{{Text: text, Span: 2}}}
	table.Row(text, text)
	s.Table(table)
	s.Bars(Bar{Label: text, Note: text, Of: 1})
	s.Chart(Chart{XLabel: text, YLabel: text, Series: []Series{{Name: text, X: []float64{1}, Y: []float64{1}}}})
	s.Draw(10, func(c Canvas) { c.Text(0, 5, text, Style{Angle: 30}) })
	s.Draw(10, func(c Canvas) { c.Fit(0, 5, 30, text, Style{}) })
}

// awkward texts are the seeds of the fuzz targets and the cases of the test below.
func awkward() []string {
	return []string{"", "plain", "a\xffb", "\x00(\\)", "😀 **b** **", "\ufad1", strings.Repeat("x", 3000),
		strings.Repeat("a b ", 3000), "\n\n\n", "\u0300",
		"\u202e", "%d", "<</Type>>", "endstream"}
}

func TestAwkwardTextsEverywhere(t *testing.T) {
	d := New(Options{Date: sampleDate, Title: strings.Join(awkward(), " ")})
	for _, text := range awkward() {
		everywhere(d, text)
	}
	if _, err := d.Bytes(); err != nil {
		t.Error(err)
	}
}

// FuzzLayout lays out a text everywhere: nothing panics or runs off the paper's side. It does not print, which would be
// slow.
func FuzzLayout(f *testing.F) {
	fonts, err := LoadFonts()
	if err != nil {
		f.Fatal(err)
	}
	for _, seed := range awkward() {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		// more of the same tells nothing and takes seconds; TestAwkwardTextsEverywhere has longer ones
		text = text[:min(len(text), 2000)]
		d := New(Options{Date: sampleDate, Fonts: fonts})
		everywhere(d, text)
		s := d.section
		for _, m := range texts(s) {
			if left, right := m.ends(); left < s.left-1e-6 || right > s.left+s.W+1e-6 {
				t.Errorf("%q runs from %.1f to %.1f mm", m.Text, left, right)
			}
		}
		s.frame.head(s.paper())
		s.frame.foot(s.paper(), 1, 1)
	})
}

// FuzzBytes prints a text: the document is complete, and nothing panics.
func FuzzBytes(f *testing.F) {
	fonts, err := LoadFonts()
	if err != nil {
		f.Fatal(err)
	}
	for _, seed := range awkward() {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d := New(Options{Date: sampleDate, Title: text, Subject: text, Fonts: fonts})
		s := d.Section(Frame{Name: text})
		s.Draw(10, func(c Canvas) { c.Text(0, 5, text, Style{}) })
		if _, err := d.Bytes(); err != nil {
			t.Error(err)
		}
	})
}
