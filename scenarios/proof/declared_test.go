package proof

import (
	"slices"
	"strings"
	"testing"

	"nospark/scenarios/pack"
)

// changed is the lamp pack with something in it replaced, its matrix and checks, as texts.
func changed(t *testing.T, fault string, changes ...string) []string {
	t.Helper()
	source, err := pack.Source("lamp")
	if err != nil {
		t.Fatal(err)
	}
	drawn := string(source)
	for i := 0; i < len(changes); i += 2 {
		drawn = replaceOnce(t, drawn, changes[i], changes[i+1])
	}
	p, err := pack.Parse("lamp.toml", []byte(drawn))
	if err != nil {
		t.Fatal(err)
	}
	m := matrix(t, p)
	k, err := p.Fault(fault)
	if err != nil {
		t.Fatal(err)
	}
	for i, row := range m.Rows {
		if row.Fault == k {
			var list []string
			for _, c := range Of(p, m)[i] {
				list = append(list, text(p, c))
			}
			return list
		}
	}
	t.Fatalf("no row of %q", fault)
	return nil
}

func TestDeclared(t *testing.T) {
	check := func(what string, got []string, want ...string) {
		t.Helper()
		if !slices.Equal(got, want) {
			t.Errorf("%s:\n got %s\nwant %s", what, strings.Join(got, "; "), strings.Join(want, "; "))
		}
	}
	proof := func(entry string) []string {
		t.Helper()
		const lamp = "id = \"replace-lamp\"\n"
		return changed(t, "lamp-open", lamp, lamp+"proof = ["+entry+"]\n")
	}
	const feed, ground, own = "feed lamp 3: lamp-feed", "ground lamp 4:", "own test lamp -: lamp-resistance"
	check("a further check, its test reads normal", proof(`{ what = "input", tests = ["battery"] }`),
		feed, ground, own, "input lamp -: battery")
	check("one taken away", proof(`{ what = "ground", because = "soldered to the frame" }`), feed, own)
	check("taken away from another part", proof(`{ what = "ground", part = "switch", because = "why not" }`),
		feed, ground, own)
	check("an own test counts where it is abnormal",
		proof(`{ what = "own test", tests = ["battery", "lamp-resistance"] }`), feed, ground, own, own)
	// Without the ohmmeter nothing is the lamp's own test: a meter across it proves its feed and its ground.
	check("no own test", changed(t, "lamp-open",
		"instrument = \"ohmmeter\"\nisolate = \"lamp\"",
		"instrument = \"voltmeter\"\nred = \"sw_out\"\nblack = \"lamp_gnd\"",
		"condition = \"off\"\nminutes = 5", "condition = \"on\"\nminutes = 5",
		`{ name = "normal", below = 1.0 }, { name = "open" }`,
		`{ name = "low", below = 8.0 }, { name = "normal", below = 13.0 }, { name = "high" }`),
		feed+" lamp-resistance", ground+" lamp-resistance", "own test lamp -:")
}

// A reference measured with its sensor unplugged is that sensor's own test where the pack says so: it comes right as
// soon as the sensor is off. Under a fault elsewhere it is nobody's.
func TestNamedPartThatIsUnplugged(t *testing.T) {
	source, err := pack.Source("single-coil")
	if err != nil {
		t.Fatal(err)
	}
	named := replaceOnce(t, string(source), "unplug = [\"map\"]", "unplug = [\"map\"]\npart = \"map\"")
	p, err := pack.Parse("named.toml", []byte(named))
	if err != nil {
		t.Fatal(err)
	}
	m := matrix(t, p)
	var owners []string
	for i, list := range Of(p, m) {
		for _, c := range list {
			named := slices.ContainsFunc(c.Tests, func(t int) bool { return p.Tests[t].ID == "ref-unplugged" })
			if named && c.What == "own test" {
				owners = append(owners, p.Faults[m.Rows[i].Fault].ID)
			}
		}
	}
	if !slices.Equal(owners, []string{"map-short"}) {
		t.Errorf("the own test of %v", owners)
	}
}
