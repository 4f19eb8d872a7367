package printouts

import (
	"strings"
	"testing"

	"nospark/printouts/content"
	"nospark/printouts/handouts"
	"nospark/printouts/instructor"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// never are words of dangers that a circuit of battery, button and load does not have.
var never = []string{"secondary", "pacemaker", "crank", "fuel", "brake", "rotating", "coolant"}

// always are words that every sheet needs, whatever its circuit.
var always = []string{"short circuit", "burn", "battery", "Eye protection", "maker’s service information", "licensed",
	"school’s shop-safety rules", "instructor"}

func TestCautionsComeFromThePack(t *testing.T) {
	bare := lab.Lacks{Secondary: true, Engine: true}
	for _, all := range []bool{false, true} {
		text := strings.Join(content.Cautions{All: all, Lacks: bare}.Words(), "\n")
		for _, word := range never {
			if strings.Contains(strings.ToLower(text), word) {
				t.Errorf("all %v: a circuit without ignition is warned of %q", all, word)
			}
		}
		for _, word := range always {
			if !strings.Contains(strings.ToLower(text), strings.ToLower(word)) {
				t.Errorf("all %v: nothing about %q", all, word)
			}
		}
		full := strings.Join(content.Cautions{All: all}.Words(), "\n")
		for _, word := range []string{"Secondary voltage can injure or kill", "pacemaker", "uel vapor", "parking brake",
			"licensed"} {
			if !strings.Contains(full, word) {
				t.Errorf("all %v: an ignition system without a caution of %q", all, word)
			}
		}
		engine := strings.Join(content.Cautions{All: all, Lacks: lab.Lacks{Secondary: true}}.Words(), "\n")
		if strings.Contains(engine, "Secondary") || !strings.Contains(engine, "arking brake") {
			t.Errorf("all %v: an engine without ignition: %s", all, engine)
		}
	}
}

// Every document of a lamp's lab says what the lamp needs, and nothing of an engine's dangers in its cautions.
func TestCautionsOfALampLab(t *testing.T) {
	l := classLab(t, "lamp", 3, "proof = false\n")
	h, err := handout.Of(l)
	if err != nil {
		t.Fatal(err)
	}
	short := content.Plain(content.Cautions{Lacks: l.Lacks}.Short())
	for name, text := range map[string]string{
		"worksheet": content.Text(handouts.Worksheet(h, h.Worksheets[0])), "booklet": content.Text(handouts.Booklet(h).Sections[0]),
		"how to": content.Text(instructor.HowTo(l).Sections[0]),
	} {
		if name != "how to" && !strings.Contains(content.Plain(text), short) {
			t.Errorf("%s without the short cautions", name)
		}
		if strings.Contains(text, "Secondary voltage") || strings.Contains(text, "fuel vapor") {
			t.Errorf("%s of a lamp warns of an ignition system", name)
		}
	}
}
