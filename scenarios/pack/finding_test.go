package pack_test

import (
	"fmt"
	"strings"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/strict"
)

// oddities are edits of testdata/every.toml that leave a pack which can be used, with the name of the warning each
// must give.
var oddities = []struct {
	old, edited, want string
}{
	{`repair = "charge"`, `repair = "coil"`, "repair-unused:charge"},
	{`condition = "off"`, `condition = "on"`, "condition-unused:off"},
	{`[[sweep]]`, "[[spec]]\nrole = \"output\"\ninstrument = \"test-lamp\"\nnormal = [\"dim\"]\n[[sweep]]",
		"spec-unused:output.test-lamp"},
	{`points = ["gnd"]` + "\nminutes", `points = ["gnd", "feed"]` + "\nminutes", "sweep-gap:lamp.feed"},
	{`when = { starts = false, cranks = ["normal", "slow"] }`, `when = { any_abnormal = true }`,
		"complaint-shadowed:other"},
	{`id = "fused"` + "\nat = [1, 0]", `id = "fused"`, "no-place:fused"},
	{`pins = ["tower", "gnd"]`, `pins = ["tower", "float"]`, "floating:float"},
	{`condition = "crank"`, `condition = "on"`, "spark-at-rest:spark"},
	{`instrument = "scan-speed"` + "\ncondition = \"idle\"", `instrument = "scan-speed"` + "\ncondition = \"off\"",
		"scan-key-off:scan"},
	{`red = "feed"` + "\nblack = \"gnd\"\ncondition = \"on\"",
		`red = "tower"` + "\nblack = \"gnd\"\ncondition = \"crank\"", "meter-on-spark:feed-volts"},
	{`pressure_bar = 9`, ``, "no-gas:crank"},
	{`electrode_factor = 0.9`, `electrode_factor = 0.78`, "setting-same:worn"},
	{`black = "gnd"` + "\ncondition = \"off\"",
		`black = "tower"` + "\nunplug = [\"coil\", \"plug\"]\ncondition = \"off\"", "lead-in-air:feed-ohms"},
}

// extra makes the oddity possible where one edit is not enough.
func extra(want, text string) string {
	switch want {
	case "floating:float":
		// a plug on a node of its own, and a second part that keeps company with it but joins nothing else
		text = strings.Replace(text, "[[node]]",
			"[[node]]\nid = \"float\"\nat = [9, 9]\n[[node]]\nid = \"float2\"\nat = [9, 8]\n[[node]]", 1)
		text = strings.Replace(text, `pins = ["tower", "float"]`, `pins = ["float2", "float"]`, 1)
	case "meter-on-spark:feed-volts":
		text = strings.Replace(text, "compare = \"volts.bat.on\"\n", "", 1)
	case "condition-unused:off":
		text = strings.ReplaceAll(text, `condition = "off"`, `condition = "on"`)
		text = strings.Replace(text, `conditions = ["on", "idle", "off"]`, `conditions = ["on", "idle"]`, 1)
	}
	return text
}

func TestWarnings(t *testing.T) {
	var b strings.Builder
	for _, o := range oddities {
		text := extra(o.want, spoil(t, mistake{o.old, o.edited}))
		_, warnings, err := pack.Check("every.toml", []byte(text))
		if err != nil {
			t.Errorf("%s: %v", o.want, err)
			continue
		}
		found := false
		fmt.Fprintf(&b, "-- %q for %q\n", o.edited, o.old)
		for _, w := range warnings {
			found = found || w.Name() == o.want
			fmt.Fprintln(&b, w.Text("every.toml"))
		}
		if !found {
			t.Errorf("%s: not among %v", o.want, warnings)
		}
	}
	golden(t, "warnings.golden", b.String())
}

func TestSettle(t *testing.T) {
	p := &pack.Pack{Accepts: []pack.Accept{{Warning: "a:x", Because: "it is so", Line: 9},
		{Warning: "a:gone", Because: "once", Line: 8}}}
	list := []strict.Finding{
		{Line: 5, Code: "a", Subject: "x", What: "one"},
		{Line: 3, Code: "b", Subject: "x", What: "two", Do: "mend it"},
		{Line: 4, Severity: strict.Error, Code: "a", Subject: "x", What: "three"},
	}
	var got []string
	for _, f := range p.Settle(list) {
		got = append(got, f.Text("p.toml"))
	}
	want := []string{
		`p.toml:3: warning b:x: two; mend it`,
		`p.toml:4: three`,
		`p.toml:5: warning a:x: one (accepted: it is so)`,
		`p.toml:8: warning accept-unused:a:gone: the accepted warning "a:gone" does not occur; take the [[accept]] out`,
	}
	if g, w := strings.Join(got, "\n"), strings.Join(want, "\n"); g != w {
		t.Errorf("got\n%s\nwant\n%s", g, w)
	}
	if list[0].Because != "" {
		t.Error("the caller's findings were changed")
	}
}
