package lint_test

import (
	"os"
	"strings"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/vehicle/lint"
)

// The pack that the manual for writers of packs shows is sound: no error, and no warning that it does not accept.
func TestPackOfTheManual(t *testing.T) {
	manual, err := os.ReadFile("../../pack/PACKS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, text, found := strings.Cut(string(manual), "```toml\n")
	text, _, closed := strings.Cut(text, "```\n")
	if !found || !closed {
		t.Fatal("PACKS.md shows no pack")
	}
	p, findings, err := pack.Check("board-horn.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range p.Settle(append(findings, lint.Check(p, lint.Effort{Healthy: 80, Draws: 20})...)) {
		if f.Because == "" {
			t.Error(f.Text("board-horn.toml"))
		}
	}
	if p.Name != "board-horn" || len(p.Faults) < 4 {
		t.Errorf("pack %q with %d faults", p.Name, len(p.Faults))
	}
}
