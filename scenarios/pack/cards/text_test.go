package cards_test

import (
	"flag"
	"os"
	"strings"
	"testing"

	"nospark/scenarios/pack/cards"
)

var update = flag.Bool("update", false, "write the golden file anew")

func TestText(t *testing.T) {
	text := cards.Text()
	if *update {
		if err := os.WriteFile("testdata/cards.golden", []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile("testdata/cards.golden")
	if err != nil {
		t.Fatal(err)
	}
	if text != string(want) {
		t.Error("the cards differ from testdata/cards.golden; run with -update and read the diff")
	}
	for _, k := range cards.Kinds {
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
