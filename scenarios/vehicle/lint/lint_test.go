package lint

import (
	"slices"
	"strings"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/pack/packtest"
	"nospark/scenarios/strict"
	"nospark/scenarios/testrun"
	"nospark/scenarios/vehicle"
)

// edited is the lamp pack with replacements, pairs of old and new. Each old text must be there.
func edited(t *testing.T, pairs ...string) *pack.Pack {
	t.Helper()
	source, err := pack.Source("lamp")
	if err != nil {
		t.Fatal(err)
	}
	text := string(source)
	for i := 0; i < len(pairs); i += 2 {
		if !strings.Contains(text, pairs[i]) {
			t.Fatalf("the lamp pack has no %q", pairs[i])
		}
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	p, err := pack.Parse("lamp.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func names(list []strict.Finding) []string {
	var names []string
	for _, f := range list {
		names = append(names, f.Name())
	}
	return names
}

// little is enough for a pack of four tests.
var little = Effort{Healthy: 40, Draws: 40}

func TestLintFinds(t *testing.T) {
	sound := names(Check(edited(t), little))
	if want := []string{"test-blind:battery"}; !slices.Equal(sound, want) {
		t.Fatalf("the lamp pack as it is: %v, want %v", sound, want)
	}
	told := 0
	Check(edited(t), Effort{Healthy: 1, Draws: 1, Progress: func(done, total int) {
		if told++; done != told || total != 4 {
			t.Errorf("progress %d of %d after %d", done, total, told)
		}
	}})
	if told != 4 {
		t.Errorf("told %d times of 4 faults", told)
	}
	check := func(want, says string, pairs ...string) {
		t.Helper()
		list := Check(edited(t, pairs...), little)
		i := slices.IndexFunc(list, func(f strict.Finding) bool { return f.Name() == want })
		if i < 0 {
			t.Errorf("%s: not among %v", want, names(list))
			return
		}
		if f := list[i]; !strings.Contains(f.What, says) || f.Line < 1 || f.Severity != strict.Warning {
			t.Errorf("%s: line %d, %q; want %q", want, f.Line, f.What, says)
		}
	}
	check("floats:aux", `"aux" floats`, "[[condition]]", "[[node]]\nid = \"aux\"\n[[condition]]",
		"[[complaint]]", "[[part]]\nid = \"chafe\"\nkind = \"leak\"\npins = [\"sw_out\", \"aux\"]\n[[complaint]]")
	check("shorted:battery.on", `63 A from "battery", through "feed_wire", "switch", "lamp", "ground_wire"`,
		"kind = \"filament\"", "kind = \"resistor\"", "test_volts = 13.5", "resistance_ohms = 0.001", "test_watts = 26.5", "",
		"burnt_out = true", "resistance_ohms = \"open\"")
	check("shorted:switch", `fuse "switch" blows`, "kind = \"switch\"", "kind = \"fuse\"\nrating_amps = 1.5",
		"closed_in = [\"run\"]\n", "",
		`id = "switch-burnt"`, `id = "burnt"`)
	check("unhealthy:battery", `reads 12.56 V on the healthy vehicle, band "low"`, "below = 12.0", "below = 12.6")
	check("unhealthy:lamp-weak-or-out", "the healthy vehicle has the complaint", "below = 12.0", "below = 12.6")
	check("not-performable:lamp-resistance", `it shows "live circuit"`, `isolate = "lamp"`,
		"red = \"sw_out\"\nblack = \"bat_neg\"", `condition = "off"`, `condition = "on"`)
	check("fault-silent:switch-burnt", "no test of the pack", "[2.0, 4.0]", "[0.051, 0.052]")
	check("no-complaint:switch-burnt", "in 100 % of its range", "[2.0, 4.0]", "[0.051, 0.052]")
	// 0.5 V are lost at 0.243 ohm
	check("no-complaint:switch-burnt", "in 50 % of its range", "[2.0, 4.0]", "[0.107, 0.55]")
	check("complaint-never:stuck", `"stuck"`, "[[test]]",
		"[[complaint]]\nid = \"stuck\"\nlabel = \"x\"\nwhen = { cranks = \"no\" }\n[[test]]")
	check("ambiguous:switch-open+feed-open",
		`"switch-open" (repair "replace-switch"), "feed-open" (repair "clean-ground")`,
		"[[repair]]",
		"[[fault]]\nid = \"feed-open\"\nlabel = \"x\"\nset = [{ part = \"feed_wire\", resistance_ohms = \"open\" "+
			"}]\nweight = 1\nrepair = \"clean-ground\"\n[[repair]]")
	check("test-blind:lamp-ground", `reads "normal" whatever is wrong`,
		"set = [{ part = \"ground_wire\", resistance_ohms = [2.0, 4.0] }]", "set = [{ part = \"battery\", emf_volts "+
			"= 8.0 }]")
	check("edge:lamp-ground", `reads "dropped" on`, "below = 0.4", "below = 0.1865")
	check("refused:ground-corroded", `because test "lamp-ground" read "full"`,
		"{ name = \"normal\", below = 0.4 }, { name = \"dropped\", below = 11.0 }",
		"{ name = \"normal\", below = 0.4 }, { name = \"dropped\", below = 3.25 }", "test_volts = 13.5",
		"test_volts = 13.5\ntolerance = 0.3",
		"set = [{ part = \"ground_wire\", resistance_ohms = [2.0, 4.0] }]",
		"set = [{ part = \"ground_wire\", resistance_ohms = 2.0 }]")
}

// A contradiction is an error that names the fault: a source without resistance, shorted.
func TestLintOfAContradiction(t *testing.T) {
	list := Check(edited(t, "resistance_ohms = 0.02", "resistance_ohms = 0",
		"[[complaint]]", "[[part]]\nid = \"chafe\"\nkind = \"leak\"\npins = [\"bat_pos\", \"bat_neg\"]\n[[complaint]]",
		`set = [{ part = "lamp", burnt_out = true }]`, `set = [{ part = "chafe", resistance_ohms = "short" }]`),
		little)
	if len(list) != 1 || list[0].Severity != strict.Error || !strings.Contains(list[0].What, `fault "lamp-open"`) {
		t.Errorf("%+v", list)
	}
}

// Every built-in pack is clean: no error, and each warning accepted with its reason.
func TestBuiltinPacksAreClean(t *testing.T) {
	effort := Effort{Healthy: testrun.Times(t, 100, 20), Draws: 40}
	for _, name := range packtest.Packs(t) {
		text, err := pack.Source(name)
		if err != nil {
			t.Fatal(err)
		}
		p, warnings, err := pack.Check(name+".toml", text)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range p.Settle(append(warnings, Check(p, effort)...)) {
			if f.Because == "" && !strings.HasPrefix(f.Subject, "undrawn:") { // accepted of another room's findings
				t.Error(f.Text(name + ".toml"))
			}
		}
	}
}

// The packs keep what they promise a class: enough to hide, enough to measure, and complaints that can be thought
// through.
func TestSizesOfTheBuiltinPacks(t *testing.T) {
	for _, name := range []string{"single-coil", "double-ended", "coil-per-plug", "reluctor"} {
		p, err := pack.Load(name)
		if err != nil {
			t.Fatal(err)
		}
		m, err := vehicle.NewMatrix(p)
		if err != nil {
			t.Fatal(err)
		}
		s := Summarize(p, m)
		if s.Faults < 25 || s.Repairs < 14 || s.Tests < 100 || s.Conditions < 8 {
			t.Errorf("%s: %d faults, %d repairs, %d tests, %d conditions", name, s.Faults, s.Repairs, s.Tests,
				s.Conditions)
		}
		rows := s.Quiet.Rows
		for i, c := range s.Complaints {
			if rows += c.Rows; c.Rows < 1 || c.Rows > 64 || c.Groups > c.Rows || c.Faults > c.Rows ||
				c.Repairs > c.Faults {
				t.Errorf("%s, complaint %q: %+v", name, p.Complaints[i].ID, c)
			}
		}
		if all := len(m.Rows) - 1; rows != all { // without the vehicle with nothing wrong
			t.Errorf("%s: %d rows in the summary, %d in the matrix", name, rows, all)
		}
		if s.Cheapest < 1 || s.Dearest <= s.Cheapest || s.Quiet.Rows != 0 {
			t.Errorf("%s: tests of %d to %d tenths, %d rows without complaint", name, s.Cheapest, s.Dearest,
				s.Quiet.Rows)
		}
	}
}
