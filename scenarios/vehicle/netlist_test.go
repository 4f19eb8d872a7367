package vehicle

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

	"nospark/scenarios/pack"
)

// netlist exports a test's circuit.
func (b *benchOf) netlist(test int) (string, error) {
	var deck bytes.Buffer
	err := b.v.WriteNetlist(&deck, b.p.Name, b.p.Tests[test].Condition, test)
	return deck.String(), err
}

// expected is what the node "reading" of an exported test must show; ok is false for instruments that show something else.
func (v *Vehicle) expected(test int) (volts float64, ok bool) {
	t, reading := &v.l.p.Tests[test], v.Read(test)
	if t.Swap != nil {
		v = v.exchanged(t.Swap[0], t.Swap[1])
	}
	switch t.Instrument.ID {
	case "voltmeter", "ac-voltmeter", "max-hold", "min-hold", "ammeter":
		return reading.Number, true
	case "ohmmeter":
		return reading.Number, reading.Phrase == ""
	case "test-lamp", "load-lamp":
		st := v.state(t)
		defer v.done(st)
		for _, ph := range st.mean {
			volts += ph.share * math.Abs(ph.Between(st.setup.lamp.red, st.setup.lamp.black))
		}
		return volts, true
	}
	return 0, false
}

// The exported file of every test gives the reading in ngspice: all tests of the healthy vehicles, and of every faulty one a thirty-second part,
// another one from fault to fault.
func TestExportedReadingsAgreeWithNgspice(t *testing.T) {
	const floor = 1e-3 // as in TestEveryStateAgreesWithNgspice
	var decks, labels []string
	var want []float64
	add := func(b *benchOf, i int, fault string) {
		t.Helper()
		deck, err := b.netlist(i)
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
		volts, ok := b.v.expected(i)
		if has := strings.Contains(deck, "\nBreading "); has != ok {
			t.Errorf("%s %s: reading node %v, want %v", fault, b.p.Tests[i].ID, has, ok)
		}
		if ok {
			decks, want = append(decks, deck), append(want, volts)
			labels = append(labels, fmt.Sprintf("%s %s %s", b.p.Name, fault, b.p.Tests[i].ID))
		}
	}
	for _, name := range pack.Builtin() {
		b := loaded(t, name)
		for i := range b.p.Tests {
			add(b, i, "healthy")
		}
		for k, f := range b.p.Faults {
			faulty := b.with(f.ID, 0.5)
			for i := k % 32; i < len(b.p.Tests); i += 32 {
				add(faulty, i, f.ID)
			}
		}
	}
	worst, where := 0.0, ""
	for i, got := range ngspice(t, decks) {
		reading, ok := got["reading"]
		if !ok {
			t.Errorf("%s: ngspice found no reading", labels[i])
			continue
		}
		if math.IsInf(want[i], 1) {
			if reading < ohmmeterLimit {
				t.Errorf("%s: %g ohm in ngspice, want more than any range", labels[i], reading)
			}
			continue
		}
		if off := math.Abs(reading-want[i]) / math.Max(floor, math.Abs(want[i])); off > worst {
			worst, where = off, labels[i]
		}
	}
	t.Logf("%d exported readings against ngspice; worst relative difference %.2g (%s)", len(decks), worst, where)
	if !(worst <= 1e-6) {
		t.Error("want at most 1e-6")
	}
}

// A condition without a test exports every phase; ngspice finds the voltages of all test points in each.
func TestExportedConditionsAgreeWithNgspice(t *testing.T) {
	var decks, labels []string
	var books []book
	for _, name := range pack.Builtin() {
		b := loaded(t, name)
		for c, cond := range b.p.Conditions {
			var deck bytes.Buffer
			if err := b.v.WriteNetlist(&deck, name, c, -1); err != nil {
				t.Fatal(err)
			}
			bk := book{v: b.v, st: b.v.plain(c)}
			bk.pages = bk.st.pages(everything)
			decks, labels, books = append(decks, deck.String()), append(labels, name+" "+cond.ID), append(books, bk)
		}
	}
	points := 0
	for i, got := range ngspice(t, decks) {
		for a, name := range books[i].names() {
			for k, p := range books[i].pages {
				n := books[i].v.l.node[a]
				volts, printed := got[fmt.Sprintf("x%d.%s", k+1, name)]
				if !p.Connected(n, 0) || !printed && name == "0" {
					continue // an island floats in ngspice, and ground is not printed
				}
				points++
				near(t, fmt.Sprintf("%s p%d %s", labels[i], k+1, name), volts, p.Volts(n), 1e-6)
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
	check := func(name, pack, fault, test string, want float64) {
		t.Helper()
		b := loaded(t, pack).with(fault, 0.5)
		i, err := b.p.Test(test)
		if err != nil {
			t.Fatal(err)
		}
		deck, err := b.netlist(i)
		if err != nil {
			t.Fatal(err)
		}
		golden := filepath.Join("testdata", name)
		if *update {
			if err := os.WriteFile(golden, []byte(deck), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		text, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if deck != string(text) {
			t.Errorf("%s:\n%s", name, deck)
		}
		program, err := exec.LookPath("ngspice")
		if err != nil {
			if os.Getenv("CI") == "true" {
				t.Fatal("ngspice is not installed, and CI=true")
			}
			return
		}
		out, err := exec.Command(program, "-b", "-n", golden).Output()
		if err != nil {
			t.Fatalf("ngspice %s: %v", golden, err)
		}
		words := strings.Fields(string(out))
		k := slices.Index(words, "reading")
		if k < 0 || k+1 == len(words) {
			t.Fatalf("%s: ngspice prints no reading:\n%s", golden, out)
		}
		if got, err := strconv.ParseFloat(words[k+1], 64); err != nil || math.Abs(got-want) > 1e-5 {
			t.Errorf("%s: ngspice prints reading %s, want %g", golden, words[k+1], want)
		}
	}
	// By hand, the contacts' resistance halfway between 2 and 4 ohm on a logarithmic scale.
	check("lamp-feed.cir", "lamp", "switch-burnt", "lamp-feed", 12.6*(5.8+0.1)/(0.02+0.03+math.Sqrt(2*4)+5.8+0.1))
	// Only the lamp itself is on the table.
	check("lamp-resistance.cir", "lamp", "switch-open", "lamp-resistance", 5.8)
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestExportErrors(t *testing.T) {
	b := loaded(t, "single-coil").with("coil-primary", 0.5)
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
		if err := b.v.WriteNetlist(new(bytes.Buffer), "title", c, i); err == nil || err.Error() != want {
			t.Errorf("%s %s: %v, want %s", condition, test, err, want)
		}
	}
	check("idle", "", `the engine does not run in condition "idle", so there is nothing to read`)
	check("on", "volts.coil_pos.crank", `test "volts.coil_pos.crank" is made in condition "crank", not in "on"`)
	if err := b.v.WriteNetlist(fullDisk{}, "title", 0, -1); err == nil || err.Error() != "disk full" {
		t.Errorf("%v, want the writer's error", err)
	}
}
