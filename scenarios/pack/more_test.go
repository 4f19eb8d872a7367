package pack_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"nospark/scenarios/pack"
)

func TestBuiltin(t *testing.T) {
	names := pack.Builtin()
	if !slices.IsSorted(names) || !slices.Contains(names, "lamp") {
		t.Errorf("built-in packs %q", names)
	}
	for _, name := range names {
		p, err := pack.Load(name)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if p.Name != name {
			t.Errorf("file %s.toml holds pack %q", name, p.Name)
		}
	}
	_, err := pack.Load("lmap")
	if err == nil || err.Error() != `there is no built-in pack "lmap"; did you mean "lamp"?` {
		t.Errorf("unknown pack: %v", err)
	}
}

func TestOwnAndSpecialBands(t *testing.T) {
	p, err := pack.Parse("every.toml", every(t))
	if err != nil {
		t.Fatal(err)
	}
	check := func(id string, own int, live, noLink, notRunning int) {
		t.Helper()
		i := slices.IndexFunc(p.Tests, func(v pack.Test) bool { return v.ID == id })
		if i < 0 {
			t.Fatalf("there is no test %q", id)
		}
		v := &p.Tests[i]
		got := [4]int{len(v.Own()), v.Special(pack.Live), v.Special(pack.NoLink), v.Special(pack.NotRunning)}
		if want := [4]int{own, live, noLink, notRunning}; got != want {
			t.Errorf("%s: own, live, no link, not running: %v, want %v", id, got, want)
		}
	}
	check("volts.bat.on", 3, -1, -1, -1)
	check("volts.bat.idle", 3, -1, -1, 3)
	check("feed-ohms", 2, 2, -1, -1)
	check("secondary", 3, -1, -1, -1) // isolated: no voltage
	check("scan", 2, -1, 2, 3)
	check("spark", 3, -1, -1, -1)
}

// An ohmmeter meets no voltage where the unplugged parts leave no way to a battery.
func TestLiveNeedsAWay(t *testing.T) {
	text := string(every(t))
	edit := func(old, new string) {
		t.Helper()
		if !strings.Contains(text, old) {
			t.Fatalf("testdata/every.toml has no %q", old)
		}
		text = strings.Replace(text, old, new, 1)
	}
	edit(`id = "feed-ohms"`, "id = \"feed-ohms\"\nunplug = [\"battery\"]")
	p, err := pack.Parse("every.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	for i := range p.Tests {
		if v := &p.Tests[i]; v.ID == "feed-ohms" && v.Special(pack.Live) >= 0 {
			t.Error("live circuit without a battery")
		}
	}
}

func TestTooManyTests(t *testing.T) {
	var b strings.Builder
	b.Write(every(t))
	for i := range 300 {
		fmt.Fprintf(&b, "[[test]]\nid = \"t%d\"\nlabel = \"x\"\ninstrument = \"voltmeter\"\nred = \"bat\"\nblack = "+
			"\"gnd\"\n"+
			"conditions = [\"off\", \"on\", \"crank\", \"idle\"]\nminutes = 1\nbands = [{ name = \"a\", below = 1 }, "+
			"{ name = \"b\" }]\nnormal = [\"a\"]\n", i)
	}
	_, err := pack.Parse("every.toml", []byte(b.String()))
	if err == nil || strings.Count(err.Error(), "\n") > 0 ||
		!strings.Contains(err.Error(), "more than 900 tests; name fewer points or conditions") {
		t.Errorf("got %v", err)
	}
}

// A pack is read the same way every time: nothing depends on the order of a map.
func TestDeterministic(t *testing.T) {
	want := ""
	for range 20 {
		p, err := pack.Parse("every.toml", every(t))
		if err != nil {
			t.Fatal(err)
		}
		_, bad := pack.Parse("every.toml", []byte(spoil(t, mistakes["circuit"][0])))
		got := dump(p) + bad.Error()
		if want == "" {
			want = got
		}
		if got != want {
			t.Fatal("two readings differ")
		}
	}
}

// The oscilloscope's picture follows the circuit as it runs, so a test that takes something off it is refused.
func TestScopeOnTheWholeCircuit(t *testing.T) {
	source, err := pack.Source("double-ended")
	if err != nil {
		t.Fatal(err)
	}
	const whole = `id = "signal-scope",`
	for text, refused := range map[string]bool{whole: false, whole + ` unplug = ["icm"],`: true} {
		_, err := pack.Parse("x.toml", []byte(strings.Replace(string(source), whole, text, 1)))
		if got := err != nil && strings.Contains(err.Error(), "the oscilloscope is put on the circuit as it runs"); got != refused {
			t.Errorf("%s: %v", text, err)
		}
	}
}
