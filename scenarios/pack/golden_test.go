package pack_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/pack/spec"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden compares text with testdata/name.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got == string(want) {
		return
	}
	g, w := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	for i := range max(len(g), len(w)) {
		a, b := at(g, i), at(w, i)
		if a != b {
			t.Errorf("%s:%d\n got %s\nwant %s\n(run with -update to accept)", path, i+1, a, b)
			return
		}
	}
}

func at(list []string, i int) string {
	if i < len(list) {
		return list[i]
	}
	return "(nothing)"
}

// dump writes a pack as text that a person can compare with its file: references by name, values with their parameters.
func dump(p *pack.Pack) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("pack %s %q version %d, 0 V at %s", p.Name, p.Title, p.Version, p.Nodes[p.Reference].ID)
	for _, f := range p.Vehicle {
		line("vehicle %s: %s", f.Name, f.Value)
	}
	for i, n := range p.Nodes {
		kind := "node"
		if i < p.Points {
			kind = fmt.Sprintf("point %d", i+1)
		}
		line("%d %s %s %q role %q access %d at %v %v side %q", n.Line, kind, n.ID, n.Label, n.Role, n.Access,
			n.At, n.HasAt, n.LabelSide)
	}
	for _, c := range p.Conditions {
		line("%d condition %s %q key %d, %g 1/min, %g V, %g bar, %g K, %g mJ, %g ms, provoke %q", c.Line, c.ID, c.Label,
			c.Key, c.SpeedRPM, c.ChargingVolts, c.PressureBar, c.TemperatureKelvin, c.SparkMillijoules,
			c.SparkMilliseconds,
			c.Provoke)
	}
	for _, c := range p.Parts {
		line("%d part %s %q %s on %s, tolerance %g, hidden %v, via %v, box %v, label %v", c.Line, c.ID, c.Label,
			c.Kind.Name,
			nodes(p, c.Pins...), c.Tolerance, c.Hidden, c.Via, deref(c.Box), deref(c.LabelAt))
		for i, param := range c.Kind.Params {
			line("    %s %.9g", param.Name, c.Values[i])
		}
	}
	for _, c := range p.Complaints {
		line("%d complaint %s %q when %v", c.Line, c.ID, c.Label, c.When)
	}
	for _, s := range p.Sweeps {
		line("%d sweep %s %q %s fixed %s red %v conditions %v minutes %d", s.Line, s.ID, s.Label, s.Instrument.ID,
			nodes(p, s.Fixed), s.FixedIsRed,
			s.Conditions, s.Minutes)
	}
	dumpTests(p, line)
	for _, f := range p.Faults {
		line("%d fault %s %q weight %d repair %s note %q", f.Line, f.ID, f.Label, f.Weight, p.Repairs[f.Repair].ID,
			f.Note)
		for _, s := range f.Set {
			part := p.Parts[s.Part]
			line("    %s %s %g to %g, log %v, only %q", part.ID, part.Kind.Params[s.Param].Name, s.Low, s.High, s.Log,
				s.Only)
		}
	}
	for _, r := range p.Repairs {
		line("%d repair %s %q minutes %d", r.Line, r.ID, r.Label, r.Minutes)
	}
	if n := p.Nothing; n != nil {
		line("%d nothing found %q weight %d repair %s", n.Line, n.Label, n.Weight, p.Repairs[n.Repair].ID)
	}
	for _, a := range p.Accepts {
		line("%d accept %s because %s", a.Line, a.Warning, a.Because)
	}
	return b.String()
}

func dumpTests(p *pack.Pack, line func(string, ...any)) {
	for _, v := range p.Tests {
		with, part := "-", "-"
		if v.Compare >= 0 {
			with = p.Tests[v.Compare].ID
		}
		if v.Part >= 0 {
			part = p.Parts[v.Part].ID
		}
		line("%d test %s %q %s red %s black %s part %s isolate %v unplug %v swap %v in %s minutes %d compare %s "+
			"group %q "+
			"competency %q", v.Line, v.ID, v.Label, v.Instrument.ID,
			nodes(p, v.Red), nodes(p, v.Black), part, v.Isolate, v.Unplug, v.Swap,
			p.Conditions[v.Condition].ID, v.Minutes, with, v.Group, v.Competency)
		line("    good: %s", spec.Text(v, p))
		for _, b := range v.Bands {
			line("    band %q below %g normal %v silent %v", b.Name, b.Below, b.Normal, b.Silent)
		}
	}
}

func nodes(p *pack.Pack, list ...int) string {
	var ids []string
	for _, i := range list {
		if i < 0 {
			ids = append(ids, "-")
			continue
		}
		ids = append(ids, p.Nodes[i].ID)
	}
	return strings.Join(ids, " ")
}

func deref[T any](p *T) any {
	if p == nil {
		return "-"
	}
	return *p
}

func TestGoldenLamp(t *testing.T) {
	p, err := pack.Load("lamp")
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "lamp.golden", dump(p))
}

func TestGoldenEveryKey(t *testing.T) {
	p, warnings, err := pack.Check("every.toml", every(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range warnings {
		t.Error(w.Text("every.toml"))
	}
	golden(t, "every.golden", dump(p))
}

func every(t testing.TB) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/every.toml")
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// Line ends of Windows, a byte order mark and tabs change nothing.
func TestLineEnds(t *testing.T) {
	want, err := pack.Parse("every.toml", every(t))
	if err != nil {
		t.Fatal(err)
	}
	check := func(text string) {
		t.Helper()
		p, err := pack.Parse("every.toml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		if dump(p) != dump(want) {
			t.Error("the pack differs")
		}
	}
	text := string(every(t))
	check(strings.ReplaceAll(text, "\n", "\r\n"))
	check("\ufeff" + text)
	check(strings.ReplaceAll(text, " = ", "\t=\t"))
	check(strings.TrimSuffix(text, "\n"))
}
