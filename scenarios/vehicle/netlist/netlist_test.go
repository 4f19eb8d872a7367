package netlist

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"nospark/scenarios/circuit/spicetest"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/packtest"
	"nospark/scenarios/testrun"
	"nospark/scenarios/vehicle"
)

// bench is a vehicle of a built-in pack.
type bench struct {
	p *pack.Pack
	v *vehicle.Vehicle
}

// loaded is a built-in pack's vehicle with a fault halfway in its range; "" for none.
func loaded(t *testing.T, name, fault string) bench {
	t.Helper()
	p, err := pack.Load(name)
	if err != nil {
		t.Fatal(err)
	}
	b := bench{p, vehicle.Healthy(p)}
	for _, f := range p.Faults {
		if f.ID == fault {
			b.v.Apply(f, 0.5)
			return b
		}
	}
	if fault != "" {
		t.Fatalf("%s has no fault %q", name, fault)
	}
	return b
}

// netlist exports a test's circuit.
func (b bench) netlist(test int) (string, error) {
	var text bytes.Buffer
	err := Write(&text, b.p.Name, b.p, b.v, b.p.Tests[test].Condition, test)
	return text.String(), err
}

// expected is what the node "reading" of an exported test must show; ok is false for instruments that show something
// else.
func (b bench) expected(t *testing.T, test int) (volts float64, ok bool) {
	t.Helper()
	c, err := b.v.Circuits(b.p.Tests[test].Condition, test)
	if err != nil {
		t.Fatal(err)
	}
	switch c.Test.Instrument.ID {
	case "voltmeter", "loaded-drop", "ac-voltmeter", "max-hold", "min-hold", "ammeter":
		return c.Reading.Number, true
	case "ohmmeter":
		return c.Reading.Number, c.Reading.Phrase == ""
	case "test-lamp", "load-lamp":
		for i := range c.Phases {
			s, err := c.Phases[i].Netlist.Solve()
			if err != nil {
				t.Fatal(err)
			}
			x := s.Between(c.Red, c.Black)
			volts += c.Phases[i].Share * x * x
		}
		return math.Sqrt(volts), true
	}
	return 0, false
}

// The exported file of every test gives the reading in ngspice: all tests of the healthy vehicles, and of every faulty
// one a thirty-second part, another one from fault to fault.
func TestExportedReadingsAgreeWithNgspice(t *testing.T) {
	const floor = 1e-3 // as in TestEveryStateAgreesWithNgspice
	var netlists, labels []string
	var want []float64
	add := func(b bench, i int, fault string) {
		t.Helper()
		text, err := b.netlist(i)
		if b.v.Read(i).Phrase == pack.NotRunning {
			if err == nil {
				t.Errorf("%s %s: exported although the engine does not run", fault, b.p.Tests[i].ID)
			}
			return
		}
		if err != nil {
			t.Errorf("%s %s: %v", fault, b.p.Tests[i].ID, err)
			return
		}
		volts, ok := b.expected(t, i)
		if has := strings.Contains(text, "\nBreading "); has != ok {
			t.Errorf("%s %s: reading node %v, want %v", fault, b.p.Tests[i].ID, has, ok)
		}
		if ok {
			netlists, want = append(netlists, text), append(want, volts)
			labels = append(labels, fmt.Sprintf("%s %s %s", b.p.Name, fault, b.p.Tests[i].ID))
		}
	}
	for _, name := range packtest.Packs(t) {
		b := loaded(t, name, "")
		for i := range b.p.Tests {
			add(b, i, "healthy")
		}
		for k, f := range b.p.Faults {
			faulty := loaded(t, name, f.ID)
			for i := k % 32; i < len(b.p.Tests); i += 32 {
				add(faulty, i, f.ID)
			}
		}
	}
	worst, where := 0.0, ""
	for i, got := range spicetest.OperatingPoints(t, netlists) {
		reading, ok := got["reading"]
		if !ok {
			t.Errorf("%s: ngspice found no reading", labels[i])
			continue
		}
		if math.IsInf(want[i], 1) {
			if reading < vehicle.OhmmeterLimit {
				t.Errorf("%s: %g ohm in ngspice, want more than any range", labels[i], reading)
			}
			continue
		}
		if off := math.Abs(reading-want[i]) / math.Max(floor, math.Abs(want[i])); off > worst {
			worst, where = off, labels[i]
		}
	}
	t.Logf("%d exported readings against ngspice; worst relative difference %.2g (%s)", len(netlists), worst, where)
	if !(worst <= 1e-6) {
		t.Error("want at most 1e-6")
	}
}

// A condition without a test exports every phase; ngspice finds the voltages of all test points in each.
func TestExportedConditionsAgreeWithNgspice(t *testing.T) {
	var netlists, labels []string
	var all []*export
	for _, name := range pack.Builtin() {
		b := loaded(t, name, "")
		for c, cond := range b.p.Conditions {
			var text bytes.Buffer
			if err := Write(&text, name, b.p, b.v, c, -1); err != nil {
				t.Fatal(err)
			}
			circuits, err := b.v.Circuits(c, -1)
			if err != nil {
				t.Fatal(err)
			}
			netlists, labels = append(netlists, text.String()), append(labels, name+" "+cond.ID)
			all = append(all, &export{Circuits: circuits, p: b.p, condition: c})
		}
	}
	points := 0
	for i, got := range spicetest.OperatingPoints(t, netlists) {
		names := all[i].names()
		for k := range all[i].Phases {
			s, err := all[i].Phases[k].Netlist.Solve()
			if err != nil {
				t.Fatal(err)
			}
			for a, name := range names {
				n := all[i].Points[a]
				volts, printed := got[fmt.Sprintf("x%d.%s", k+1, name)]
				if !s.Connected(n, 0) || !printed && name == "0" {
					continue // an island floats in ngspice, and ground is not printed
				}
				points++
				if math.Abs(volts-s.Volts(n)) > 1e-6 {
					t.Errorf("%s p%d %s: %g V in ngspice, %g V here", labels[i], k+1, name, volts, s.Volts(n))
				}
			}
		}
	}
	if points < 100 {
		t.Errorf("only %d voltages", points)
	}
}

var update = flag.Bool("update", false, "write the golden files anew")

// The files as a person reads them; ngspice runs them as they are.
func TestExportedFiles(t *testing.T) {
	check := func(name, pack, fault, test string, reads float64) {
		t.Helper()
		b := loaded(t, pack, fault)
		i, err := b.p.Test(test)
		if err != nil {
			t.Fatal(err)
		}
		text, err := b.netlist(i)
		if err != nil {
			t.Fatal(err)
		}
		golden := filepath.Join("testdata", name)
		if *update {
			if err := os.WriteFile(golden, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if text != string(want) {
			t.Errorf("%s:\n%s", name, text)
		}
		program := testrun.Program(t, "ngspice")
		out, err := exec.Command(program, "-b", "-n", golden).Output()
		if err != nil {
			t.Fatalf("ngspice %s: %v", golden, err)
		}
		words := strings.Fields(string(out))
		k := slices.Index(words, "reading")
		if k < 0 || k+1 == len(words) {
			t.Fatalf("%s: ngspice prints no reading:\n%s", golden, out)
		}
		if got, err := strconv.ParseFloat(words[k+1], 64); err != nil || math.Abs(got-reads) > 1e-5 {
			t.Errorf("%s: ngspice prints reading %s, want %g", golden, words[k+1], reads)
		}
	}
	// By hand, the contacts' resistance halfway between 2 and 4 ohm on a logarithmic scale: through 2.9784 ohm the lamp of
	// 26.5 W at 13.5 V gets 8.16580 V, at which the law of a filament, I ~ V^0.55, gives it 1.488771 A.
	check("lamp-feed.cir", "lamp", "switch-burnt", "lamp-feed", 12.6-1.488771*(0.02+0.03+math.Sqrt(2*4)))
	// Only the lamp itself is on the table, cold: a tenth of its hot resistance.
	check("lamp-resistance.cir", "lamp", "switch-open", "lamp-resistance", 13.5*13.5/26.5/10)
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestExportErrors(t *testing.T) {
	b := loaded(t, "single-coil", "coil-primary")
	check := func(condition, test, want string) {
		t.Helper()
		c, err := b.p.Condition(condition)
		if err != nil {
			t.Fatal(err)
		}
		i := -1
		if test != "" {
			if i, err = b.p.Test(test); err != nil {
				t.Fatal(err)
			}
		}
		if err := Write(new(bytes.Buffer), "title", b.p, b.v, c, i); err == nil || err.Error() != want {
			t.Errorf("%s %s: %v, want %s", condition, test, err, want)
		}
	}
	check("idle", "", `the engine does not run in condition "idle", so there is nothing to read`)
	check("on", "volts.coil_pos.crank", `test "volts.coil_pos.crank" is made in condition "crank", not in "on"`)
	if err := Write(fullDisk{}, "title", b.p, b.v, 0, -1); err == nil || err.Error() != "disk full" {
		t.Errorf("%v, want the writer's error", err)
	}
}
