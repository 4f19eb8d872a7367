package pack_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/strict"
)

// mistake is one edit of testdata/every.toml that makes it a bad pack.
type mistake struct{ old, edited string }

// mistakes are the edits by subject. testdata/mistakes.golden holds the whole message of each.
var mistakes = map[string][]mistake{
	"top": {
		{`name = "every"`, `name = "con"`},
		{`name = "every"`, `name = "../every"`},
		{`name = "every"`, `name = ""`},
		{`name = "every"`, ``},
		{`title = "Every key"`, `tilte = "Every key"`},
		{`title = "Every key"`, "title = \"Every\\u0007key\""},
		{`version = 3`, `version = 0`},
		{`version = 3`, `version = 3.0`},
		{`version = 3`, `version = "3"`},
		{`reference = "gnd"`, ``},
		{`reference = "gnd"`, `reference = "ground"`},
		{`value = "one cylinder"`, `values = "one cylinder"`},
		{`[[accept]]`, `[[accpet]]`},
		{`because = "the tower is there to tempt"`, ``},
		{"[[accept]]", "[[accept]]\nwarning = \"meter-on-spark:volts.tower.idle\"\nbecause = \"x\"\n[[accept]]"},
		{`[[fault]]`, "[fault]"},
		{`version = 3`, "version = 3\npoints = 1"},
	},
	"syntax": {
		{`version = 3`, `version = `},
		{`title = "Every key"`, `title = "Every key`},
		{`version = 3`, "version = 3\nversion = 4"},
		{`pins = ["tower", "gnd"]`, `pins = ["tower", "gnd"`},
		{`one cylinder`, "one \xff cylinder"},
	},
	"circuit": {
		{`id = "bat"`, `id = "feed"`},
		{`id = "bat"`, `id = "bat.pos"`},
		{`id = "bat"`, `id = 7`},
		{`id = "neg"`, ``},
		{`role = "battery"`, `role = "batery"`},
		{`label_side = "left"`, `label_side = "west"`},
		{`access_minutes = 0.5`, `access_minutes = 0.55`},
		{`access_minutes = 0.5`, `access_minutes = -1`},
		{`at = [0, 0]`, `at = [0, nan]`},
		{`at = [0, 0]`, `at = [0]`},
		{`key = "crank"`, `key = "start"`},
		{`speed_rpm = 800`, `speed_rpm = inf`},
		{`provoke = "wet"`, `provoke = "rain"`},
		{`provoke = "wet"`, ``},
		{`only = "wet"`, `only = "hto"`},
		{`part = "icm", dead = true, only = "wet"`, `part = "icm", only = "wet"`},
		{"key = \"run\"\nspeed_rpm = 800", "key = \"crank\"\nspeed_rpm = 800"},
		{`speed_rpm = 800`, ``},
		{`kind = "wire"`, `kind = "wyre"`},
		{`pins = ["bat", "fused"]`, `pins = ["bat", "fuesd"]`},
		{`pins = ["bat", "fused"]`, `pins = ["bat", "fused", "gnd"]`},
		{`pins = ["bat", "fused"]`, `pins = ["bat", "bat"]`},
		{`pins = ["bat", "fused"]`, `pins = "bat"`},
		{`pins = ["bat", "fused"]`, ``},
		{`pins = ["tower", "gnd"]`, "pins = [\n  \"tower\",\n  \"gdn\",\n]"},
		{`pins = ["feed", "neg", "tower"]`, `pins = ["feed", "neg", "neg"]`},
		{`kind = "plug"`, "kind = \"distributor\"\nopen_terminal = 2"},
		{`kind = "plug"`, "kind = \"distributor\"\nopen_terminal = 0.5"},
		{`primary_ohms = 0.6`, `primary_ohms = 0.01`},
		{`primary_ohms = 0.6`, `primary_ohms = nan`},
		{`primary_ohms = 0.6`, `primary_ohms = 1e308`},
		{`primary_ohms = 0.6`, `primary_ohms = "opne"`},
		{`primary_ohms = 0.6`, `primary_ohms = [0.5, 0.7]`},
		{`primary_ohms = 0.6`, `primary_ohm = 0.6`},
		{`primary_ohms = 0.6`, `gauge_awg = 12`},
		{`hidden = true`, `hidden = "yes"`},
		{`resistance_ohms = 0.01`, ``},
		{`charge_percent = 75`, "charge_percent = 75\nemf_volts = 12.6"},
		{`length_metres = 2`, ``},
		{`gauge_awg = 14`, "gauge_awg = 14\nresistance_ohms = 0.1"},
		{"gauge_awg = 14\nlength_metres = 2", ``},
		{`closed_in = ["run", "crank"]`, `closed_in = ["run", "cranking"]`},
		{`closed_in = ["run", "crank"]`, `closed_in = "run"`},
		{`label = "ICM"`, "label = \"ICM\"\nlow_volts = 4"},
		{`label = "ICM"`, "label = \"ICM\"\ndead = 1"},
		{`label = "ICM"`, "label = \"ICM\"\ntolerance = 0.1"},
		{`tolerance = 0.01`, `tolerance = 5`},
		{`box = [-1, 0, 0, 3]`, `box = [0, 0, -1, 3]`},
		{`via = [[0, -1], [1, -1]]`, `via = [0, -1]`},
		{`id = "neg"`, "id = \"spare\"\n[[node]]\nid = \"neg\""},
	},
	"complaints": {
		{`starts = false`, `start = false`},
		{`starts = false`, `starts = "no"`},
		{`cranks = ["normal", "slow"]`, `cranks = ["normal", "slowly"]`},
		{`cranks = ["normal", "slow"]`, `cranks = ["slow", "slow"]`},
		{`cranks = ["normal", "slow"]`, `cranks = []`},
		{`when = { any_abnormal = true }`, `when = {}`},
		{`when = { any_abnormal = true }`, `when = true`},
		{`when = { any_abnormal = true }`, ``},
	},
	"bands": {
		{`below = 15.0`, `below = 11.0`},
		{`below = 15.0`, `below = "15"`},
		{`below = 15.0`, `below = inf`},
		{`, below = 15.0`, ``},
		{`{ name = "high" },`, `{ name = "high", below = 20.0 },`},
		{`{ name = "high" },`, `{ name = "low" },`},
		{`{ name = "high" },`, `{ name = "live circuit" },`},
		{`{ name = "high" },`, `{ name = "high", colour = "red" },`},
		{`bands = [{ name = "good", below = 0.4 }, { name = "high" }]`, `bands = [{ name = "good" }]`},
		{`bands = [{ name = "good", below = 0.4 }, { name = "high" }]`, `bands = ["good", "high"]`},
		{`bands = [{ name = "good", below = 0.4 }, { name = "high" }]`, ``},
		{`normal = ["good"]`, `normal = ["goof"]`},
		{`normal = ["good"]`, `normal = []`},
		{`normal = ["good"]`, `normal = "good"`},
		{`normal = ["good"]`, `normal = ["good", "good"]`},
		{`normal = ["good"]`, `normal = ["low", "good", "high"]`},
		{`normal = ["good"]`, ``},
		{`normal = ["bright"]`, `normal = ["brite"]`},
		{`normal = ["bright"]`, "normal = [\"bright\"]\nbands = [{ name = \"a\", below = 1 }, { name = \"b\" }]"},
	},
	"sweeps": {
		{`role = "battery"` + "\ninstrument", "instrument"},
		{`roles = ["switched-feed"]` + "\nsweeps", `roles = ["feed"]` + "\nsweeps"},
		{`roles = ["switched-feed"]` + "\nsweeps", `roles = []` + "\nsweeps"},
		{`sweeps = ["volts"]`, `sweeps = ["volt"]`},
		{`compare = "bat"`, `compare = "neg"`},
		{`compare = "bat"`, `compare = "tower"`},
		{`compare = "bat"`, `compare = "feed"`},
		{`normal = ["bright"]`, "normal = [\"bright\"]\ncompare = \"bat\""},
		{`instrument = "voltmeter"` + "\nblack", `instrument = "volt-meter"` + "\nblack"},
		{`black = "gnd"` + "\nconditions", "conditions"},
		{`black = "gnd"` + "\nconditions", "black = \"gnd\"\nred = \"bat\"\nconditions"},
		{`black = "gnd"` + "\nconditions", "black = \"neg\"\nconditions"},
		{`instrument = "voltmeter"` + "\nblack = \"gnd\"", `instrument = "spark-tester"` + "\nblack = \"gnd\""},
		{`instrument = "voltmeter"` + "\nblack = \"gnd\"", `instrument = "gap-gauge"`},
		{`conditions = ["on", "idle", "off"]`, `conditions = ["on", "idling"]`},
		{`conditions = ["on", "idle", "off"]`, `conditions = []`},
		{`conditions = ["on", "idle", "off"]`, ``},
		{`points = ["gnd"]` + "\nminutes", `points = ["gnd", "neg", "gdn"]` + "\nminutes"},
		{`points = ["gnd"]` + "\nminutes", `points = ["feed"]` + "\nminutes"},
		{`unplug = ["icm"]`, `unplug = ["icn"]`},
		{"minutes = 1\nunplug", "minutes = 0\nunplug"},
	},
	"tests": {
		{`label = "Voltage across the switch"`, ``},
		{`id = "spark"`, `id = "drop"`},
		{`instrument = "scan-speed"`, `instrument = "scan"`},
		{`instrument = "scan-speed"`, "instrument = \"scan-speed\"\nred = \"bat\""},
		{`kind = "controller"` + "\npins = [\"feed\", \"gnd\", \"feed\", \"feed\", \"feed\", \"feed\"]",
			"kind = \"resistor\"\nresistance_ohms = 9\npins = [\"feed\", \"gnd\"]"},
		{`point = "tower"`, `red = "tower"`},
		{`point = "tower"`, `point = "feed"`},
		{`part = "plug"` + "\ncond", `part = "coil"` + "\ncond"},
		{`part = "plug"` + "\ncond", "cond"},
		{`red = "feed"` + "\nblack = \"gnd\"\ncondition = \"off\"", `red = "feed"` + "\ncondition = \"off\""},
		{`red = "feed"` + "\nblack = \"gnd\"\ncondition = \"off\"", `red = "gnd"` +
			"\nblack = \"gnd\"\ncondition = \"off\""},
		{`red = "feed"` + "\nblack = \"gnd\"\ncondition = \"off\"", `red = "neg"` +
			"\nblack = \"gnd\"\ncondition = \"off\""},
		{`red = "feed"` + "\nblack = \"gnd\"\ncondition = \"off\"",
			`red = "feed"` + "\nblack = \"gnd\"\ncondition = \"crank\""},
		{`isolate = "coil"`, `isolate = "battery"`},
		{`isolate = "coil"`, `isolate = "main_wire"`},
		{`isolate = "coil"` + "\nred = \"feed\"\nblack = \"tower\"", `isolate = "coil"`},
		{`isolate = "coil"`, "isolate = \"coil\"\nunplug = [\"icm\"]"},
		{`instrument = "ohmmeter"` + "\nisolate", `instrument = "voltmeter"` + "\nisolate"},
		{`conditions = ["on", "idle"]` + "\nminutes", "conditions = [\"on\", \"idle\"]\ncondition = \"on\"\nminutes"},
		{`conditions = ["on", "idle"]` + "\nminutes", "minutes"},
		{`compare = "volts.bat.on"`, `compare = "volts.bat.idle"`},
		{`compare = "volts.bat.on"`, `compare = "volts.bat.onn"`},
		{`compare = "volts.bat.on"`, `compare = "lamp.gnd.on"`},
		{`compare = "volts.bat.on"`, `compare = "feed-volts"`},
		{`minutes = 4`, `minutes = 4.25`},
		{`minutes = 4`, `minutes = "4"`},
		{`minutes = 4`, ``},
		{`group = "drops"`, `grup = "drops"`},
		{`unplug = ["icm"]`, `unplug = ["icm", "icm"]`},
		{`swap = ["plug", "plug_2"]`, `swap = ["plug"]`},
		{`swap = ["plug", "plug_2"]`, `swap = ["plug", "coil"]`},
		{`swap = ["plug", "plug_2"]`, `swap = ["plug", "plug_3"]`},
		{`instrument = "scan-misfire"` + "\ncondition = \"idle\"", `instrument = "scan-misfire"` +
			"\ncondition = \"crank\""},
	},
	"faults": {
		{`part = "battery", charge_percent`, `part = "batery", charge_percent`},
		{`part = "battery", charge_percent`, `part = "battery", charge`},
		{`part = "battery", charge_percent = [5, 20]`, `part = "battery"`},
		{`part = "battery", charge_percent`, `charge_percent`},
		{`charge_percent = [5, 20]`, `charge_percent = [20, 5]`},
		{`charge_percent = [5, 20]`, `charge_percent = [5, 200]`},
		{`charge_percent = [5, 20]`, `charge_percent = [5]`},
		{`charge_percent = [5, 20]`, `charge_percent = "open"`},
		{`charge_percent = [5, 20]`, `charge_percent = 75`},
		{`gap_mm = [1.5, 3]`, `gap_mm = [1.5, "open"]`},
		{`gap_mm = [1.5, 3]`, `gap_mm = -inf`},
		{`dead = true`, `dead = [true, false]`},
		{"\t{ part = \"icm\", dead = true },",
			"\t{ part = \"icm\", dead = true },\n\t{ part = \"icm\", dead = false },"},
		{"\t{ part = \"icm\", dead = true },",
			"\t{ part = \"icm\", dead = true }," +
				"\n\t{ part = \"key\", resistance_ohms = 5 },\n\t{ part = \"main_wire\", resistance_ohms = 5 }," +
				"\n\t{ part = \"battery\", resistance_ohms = 5 },\n\t{ part = \"coil\", primary_ohms = 5 }," +
				"\n\t{ part = \"pcm\", dead = true },\n\t{ part = \"chafe\", resistance_ohms = 5 }," +
				"\n\t{ part = \"plug_2\", gap_mm = 2 },"},
		{`closed_in = ["run"]`, `closed_in = ["rum"]`},
		{`part = "chafe", resistance_ohms = "short"`, `part = "main_wire", gauge_awg = 20`},
		{`set = [{ part = "chafe", resistance_ohms = "short" }]`, `set = []`},
		{`set = [{ part = "chafe", resistance_ohms = "short" }]`, ``},
		{`set = [{ part = "chafe", resistance_ohms = "short" }]`, `set = "chafe"`},
		{"charge_percent = 75", "emf_volts = 12.5"},
		{`weight = 3`, `weight = 0`},
		{`weight = 3`, `weight = 1.5`},
		{`weight = 3`, ``},
		{`repair = "charge"`, `repair = "recharge"`},
		{`repair = "charge"`, ``},
		{`id = "flat"`, `id = "nothing-wrong"`},
		{`minutes = 30.5`, `minutes = 30.55`},
		{`weight = 2` + "\nrepair = \"none\"", "repair = \"non\""},
	},
}

// subjects is the order of the golden file.
var subjects = []string{"top", "syntax", "circuit", "complaints", "bands", "sweeps", "tests", "faults"}

// spoil applies one edit. The first place counts, and there must be one.
func spoil(t testing.TB, m mistake) string {
	t.Helper()
	text := string(every(t))
	if !strings.Contains(text, m.old) {
		t.Fatalf("testdata/every.toml has no %q", m.old)
	}
	return strings.Replace(text, m.old, m.edited, 1)
}

func TestMistakes(t *testing.T) {
	if len(subjects) != len(mistakes) {
		t.Fatalf("%d subjects, %d listed", len(mistakes), len(subjects))
	}
	var b strings.Builder
	for _, subject := range subjects {
		fmt.Fprintf(&b, "== %s\n", subject)
		for _, m := range mistakes[subject] {
			text := spoil(t, m)
			p, err := pack.Parse("every.toml", []byte(text))
			if err == nil || p != nil {
				t.Errorf("%q for %q is accepted", m.edited, m.old)
				continue
			}
			lines := 1 + strings.Count(text, "\n")
			var found *strict.Problems
			if !errors.As(err, &found) {
				t.Fatalf("%T is no *strict.Problems", err)
			}
			for _, f := range found.List {
				if f.Line < 1 || f.Line > lines {
					t.Errorf("%s: no such line", f.Text("every.toml"))
				}
			}
			fmt.Fprintf(&b, "-- %q for %q\n%v\n", m.edited, m.old, err)
		}
	}
	golden(t, "mistakes.golden", b.String())
}

// Windows line ends move no message to another line.
func TestMistakesKeepTheirLines(t *testing.T) {
	for _, subject := range subjects {
		for _, m := range mistakes[subject] {
			text := spoil(t, m)
			_, plain := pack.Parse("x", []byte(text))
			_, crlf := pack.Parse("x", []byte(strings.ReplaceAll(text, "\n", "\r\n")))
			if subject != "syntax" && plain.Error() != crlf.Error() {
				t.Errorf("with CR LF\n got %v\nwant %v", crlf, plain)
			}
		}
	}
}

// FuzzParse: never a panic, errors with a line of the file and on one line each, and what is accepted can be described.
func FuzzParse(f *testing.F) {
	for _, subject := range subjects {
		for _, m := range mistakes[subject] {
			f.Add([]byte(spoil(f, m)))
		}
	}
	for _, path := range []string{"testdata/every.toml", filepath.Join("builtin", "lamp.toml")} {
		data, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, warnings, err := pack.Check("f", data)
		last := 1 + strings.Count(string(data), "\n")
		check := func(found strict.Finding) {
			t.Helper()
			text := found.Text("f")
			if found.Line < 1 || found.Line > last || strings.ContainsAny(text, "\n\r") || found.What == "" {
				t.Errorf("finding %q in a file of %d lines", text, last)
			}
		}
		for _, w := range warnings {
			check(w)
		}
		if err == nil {
			dump(p)
			return
		}
		var found *strict.Problems
		if p != nil || !errors.As(err, &found) || len(found.List) == 0 {
			t.Fatalf("pack %v, error %v", p, err)
		}
		for _, e := range found.List {
			check(e)
		}
	})
}
