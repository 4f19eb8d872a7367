package coordinator

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"nospark/grading/competency"
	"nospark/grading/outcomes"
	"nospark/scenarios/term"
)

// TestPage: the page has every answer, the cautions and nothing that a browser would load or run; words from outside
// stay words.
func TestPage(t *testing.T) {
	autumn := &competency.Term{Options: competency.Options{Term: term.Term{Program: "<script>alert(1)</script> & more",
		Mastery: term.DefaultMastery()}}, Cohort: "2026 fall"}
	data, err := Page(autumn)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for _, want := range []string{"&lt;script&gt;alert(1)&lt;/script&gt; &amp; more", ", 2026 fall</h1>",
		competency.OnPaper,
		"Secondary voltage can injure or kill", "supervising instructor come first", `lang="en"`} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	for _, bad := range []string{"<script", "http:", "https:", "src=", "url(", "**"} {
		if strings.Contains(text, bad) {
			t.Errorf("%q is in the page", bad)
		}
	}
	rows := strings.Count(text, `<th scope="row">`)
	if want := len(outcomes.AnswersOf(autumn, nil, outcomes.MarksOf(autumn))); rows != want || want == 0 {
		t.Errorf("%d lines, want %d", rows, want)
	}
	// Every element is closed: an XML reader that knows HTML's lone elements reads it to the end.
	d := xml.NewDecoder(strings.NewReader(text))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
}
