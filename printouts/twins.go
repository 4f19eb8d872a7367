package printouts

import (
	"strings"

	"nospark/printouts/content"
	"nospark/printouts/debrief"
	"nospark/printouts/handouts"
	"nospark/printouts/screen"
	"nospark/scenarios/handout"
)

// asPage makes the page for a browser that says what a document says.
func asPage(of func(source) (content.Document, error)) func(source) ([]byte, error) {
	return func(s source) ([]byte, error) {
		doc, err := of(s)
		if err != nil {
			return nil, err
		}
		return screen.New().Page(doc)
	}
}

// asText makes the plain text of a document.
func asText(of func(source) (content.Document, error)) func(source) ([]byte, error) {
	return func(s source) ([]byte, error) {
		doc, err := of(s)
		if err != nil {
			return nil, err
		}
		var texts []string
		for _, section := range doc.Sections {
			texts = append(texts, content.Text(section))
		}
		return []byte(strings.Join(texts, "\n")), nil
	}
}

func ofBooklet(s source) (content.Document, error) {
	h, err := handout.Of(s.lab)
	if err != nil {
		return content.Document{}, err
	}
	return handouts.Booklet(h), nil
}

func ofWorksheet(s source) (content.Document, error) {
	return content.Document{Title: s.handout.Title,
		Sections: []content.Section{handouts.Worksheet(s.handout, s.handout.Worksheets[s.sheet])}}, nil
}

func ofReadings(s source) (content.Document, error) {
	return content.Document{Title: s.handout.Title,
		Sections: []content.Section{handouts.Readings(s.handout, s.handout.Readings[s.sheet])}}, nil
}

func ofDebrief(s source) (content.Document, error) {
	d := debrief.New(s.lab, s.result.Reference, s.result.Students[s.sheet])
	return content.Document{Title: s.lab.Title, Sections: []content.Section{d.Section()}}, nil
}
