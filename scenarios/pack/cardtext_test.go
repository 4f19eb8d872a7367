package pack_test

import (
	"strings"
	"testing"

	"nospark/scenarios/pack"
)

func TestCardsText(t *testing.T) {
	text := pack.CardsText()
	golden(t, "cards.golden", text)
	for _, k := range pack.Kinds {
		for _, p := range k.Params {
			if !strings.Contains(text, "\n    "+p.Name+" ") {
				t.Errorf("kind %s: %s is not among the cards", k.Name, p.Name)
			}
		}
	}
	for i, line := range strings.Split(text, "\n") {
		if strings.HasSuffix(line, " ") || strings.Contains(line, "\t") {
			t.Errorf("line %d ends in a blank or holds a tab: %q", i+1, line)
		}
	}
}
