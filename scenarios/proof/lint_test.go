package proof

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/strict"
	"nospark/scenarios/testrun"
)

func TestLintOfBuiltinPacks(t *testing.T) {
	testrun.Slow(t, "goes through every pack")
	for _, name := range pack.Builtin() {
		p, err := pack.Load(name)
		if err != nil {
			t.Fatal(err)
		}
		notes, undrawn := 0, ""
		for _, f := range p.Settle(Lint(p)) {
			if f.Code == "undrawn" {
				undrawn += f.What
			}
			if f.Severity == strict.Note {
				notes++
				continue
			}
			if f.Because != "" || f.Code == "accept-unused" { // other rooms find what those accept
				continue
			}
			t.Errorf("%s: %s", name, f.Text(name))
		}
		// The one pull-up through which a lost feed shows elsewhere: that of the module's trigger, which lies on the
		// crank signal. The repair order tells of it.
		want := ""
		if name == "single-coil" {
			want = `best play to "icm-feed-open", "icm-feed-bad" rests on a pull-up inside "icm", which no diagram draws`
		}
		if undrawn != want {
			t.Errorf("%s: %s, want %s", name, undrawn, want)
		}
		t.Logf("%s: %d checks without a test", name, notes)
		if notes > 10 { // the bar
			t.Errorf("%s: %d checks without a test", name, notes)
		}
	}
}

func TestLintByHand(t *testing.T) {
	source, err := pack.Source("lamp")
	if err != nil {
		t.Fatal(err)
	}
	check := func(what string, want []string, changes ...string) {
		t.Helper()
		drawn := string(source)
		for i := 0; i < len(changes); i += 2 {
			drawn = replaceOnce(t, drawn, changes[i], changes[i+1])
		}
		p, err := pack.Parse("lamp.toml", []byte(drawn))
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, f := range Lint(p) {
			got = append(got, f.Text("lamp"))
		}
		if len(got) != len(want) {
			t.Fatalf("%s: got\n%s\nwant\n%s", what, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
		for i := range got {
			if !strings.Contains(got[i], want[i]) {
				t.Errorf("%s: got %s, want %s", what, got[i], want[i])
			}
		}
	}
	// Nobody measures before the switch, and an open lamp carries no current that could lift its ground.
	idle := []string{`note check-untested:switch.end: no test proves the end of "switch" at point "sw_in": "switch-open"`,
		`note check-untested:lamp.ground: no test proves the ground of "lamp" at point "lamp_gnd": "lamp-open"`}
	check("as it is", idle)
	check("dropped", append(slices.Clone(idle[:1]),
		`note check-dropped:replace-lamp: repair "replace-lamp" is proven without its ground: because`),
		"id = \"replace-lamp\"\n", "id = \"replace-lamp\"\nproof = [{ what = \"ground\", because = \"because\" }]\n")
	// It shows on the battery, the other part of the fault; the lamp carries current, so its ground can be proven.
	check("a fault of the lamp that its own test does not see",
		append(slices.Clone(idle[:1]),
			`note check-untested:lamp.own-test: no test proves the own test of "lamp": "lamp-open"`,
			`warning sold-untested:lamp-open: fault "lamp-open" can be concluded without an abnormal reading on "lamp"`),
		`set = [{ part = "lamp", burnt_out = true }]`,
		`set = [{ part = "lamp", test_watts = 20 }, { part = "battery", emf_volts = 11.0 }]`)
	// 20 minutes for the ohmmeter: its feed takes 2, and a drop at the ground is looked for first, 2.
	check("slow", append(slices.Clone(idle),
		`warning proof-long:lamp-open.lamp-weak-or-out: complaint "lamp-weak-or-out": `+
			`best play proves fault "lamp-open" in 24.0 minutes and 3 steps`), "minutes = 5\n", "minutes = 20\n")
}

// Best play of the lint by hand, on the lamp pack. Weights of rows are 12 times those of the faults, those of gaps a
// fifth. The feed, 2 minutes, names both faults of the switch. Left are the lamp, 48, with a gap of its own test, 9,
// and its ground, 12, with a gap, 2. Looking at the lamp first costs 71 x 5 and then 14 x 2, 383; at its ground first
// 71 x 2 and then 57 x 5, 427.
func TestPlaysByHand(t *testing.T) {
	p, m, all := load(t, "lamp")
	ways, err := plays(p, m, all, 0)
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]int64{}
	for _, w := range ways {
		got[p.Faults[m.Rows[w.row].Fault].ID] = w.minutes
	}
	want := map[string]int64{"switch-open": 20, "switch-burnt": 20, "lamp-open": 20 + 50, "ground-corroded": 20 + 50 +
		20}
	for id, minutes := range want {
		if got[id] != minutes {
			t.Errorf("%s: %d tenths, want %d", id, got[id], minutes)
		}
	}
}

// 150 faults alike and a gap for each are more than the solver tells apart.
func TestTooLargeIsSaid(t *testing.T) {
	source, err := pack.Source("lamp")
	if err != nil {
		t.Fatal(err)
	}
	large := string(source)
	for i := range 150 {
		large += fmt.Sprintf(`
[[fault]]
id = "more-%d"
label = "x"
set = [{ part = "switch", resistance_ohms = "open" }]
weight = 1
repair = "replace-switch"
`, i)
	}
	p, err := pack.Parse("large.toml", []byte(large))
	if err != nil {
		t.Fatal(err)
	}
	said := func(f strict.Finding) bool { return f.Name() == "proof-large:lamp-weak-or-out" }
	if !slices.ContainsFunc(Lint(p), said) {
		t.Error("no word of a complaint that is too large")
	}
}
