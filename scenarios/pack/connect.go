package pack

import (
	"fmt"
	"slices"
	"strings"

	"nospark/scenarios/pack/cards"
	"nospark/scenarios/spelling"
	"nospark/scenarios/strict"
)

// connect reads where a single test puts its instrument. A key that the instrument has no use for is an error:
// whoever writes red for a spark tester has another picture of the test than we have.
func (r *reader) connect(t *strict.Table, v *Test) {
	in := v.Instrument
	allowed := map[cards.Leads][]string{
		cards.TwoLeads: {"red", "black", "isolate"},
		cards.OnePoint: {"point"},
		cards.OnPart:   {},
		cards.NoLeads:  {},
	}[in.Leads]
	for _, key := range []string{"red", "black", "isolate", "point"} {
		if t.Has(key) && !slices.Contains(allowed, key) {
			t.Fail(key, connection(in), "instrument %q has no use for %s", in.ID, key)
		}
	}
	switch {
	case in.Leads == cards.OnePoint:
		if !t.Has("point") {
			t.Missing("point")
		}
		v.Red = r.point(t, "point")
	case in.Leads == cards.OnPart:
		if v.Part = r.parts.need(t, "part"); v.Part >= 0 {
			r.clampable(t, v)
		}
	case in.Leads == cards.TwoLeads && t.Has("isolate"):
		r.isolate(t, v)
	case in.Leads == cards.TwoLeads:
		for _, key := range []string{"red", "black"} {
			if !t.Has(key) {
				t.Missing(key)
			}
		}
		v.Red, v.Black = r.point(t, "red"), r.point(t, "black")
		if v.Red == v.Black && v.Red >= 0 {
			t.Fail("red", "", "both leads are on %q", r.pack.Nodes[v.Red].ID)
		}
	}
	r.names(t, v)
}

// names reads whose own test it is where the instrument is not put on a part: a reference measured with its sensor
// unplugged examines that sensor, which the wiring does not tell.
func (r *reader) names(t *strict.Table, v *Test) {
	switch {
	case v.Instrument.Leads == cards.OnPart:
	case v.Isolate && t.Has("part"):
		t.Fail("part", "take it out", "the test is that of the isolated part already")
	case !v.Isolate:
		v.Part = r.parts.ref(t, "part")
	}
}

// connection says how an instrument is connected.
func connection(in *cards.Instrument) string {
	switch in.Leads {
	case cards.OnePoint:
		return "give point"
	case cards.OnPart:
		return "give part"
	case cards.NoLeads:
		return "it is connected to the vehicle as a whole"
	}
	return "give red and black"
}

// clampable checks that the instrument can be put on the part. High-tension leads are left out for the ammeter,
// whose clamp would see a spark current too short to show.
func (r *reader) clampable(t *strict.Table, v *Test) {
	p := &r.pack.Parts[v.Part]
	if p.Kind == nil {
		return
	}
	fits := []string{"plug", "hall", "pickup"}
	if v.Instrument.ID == "ammeter" {
		fits = []string{"battery", "starter", "wire", "connector", "fuse", "switch", "resistor", "motor", "filament",
			"diode", "coil",
			"twin-coil"}
	}
	switch v.Instrument.ID {
	case cards.ScopeCurrent:
		fits = []string{"coil", "twin-coil", "pencil-coil"}
	case cards.ScopePrimary: // the terminal of a pencil coil is within its housing
		fits = []string{"coil", "twin-coil"}
	}
	if v.Instrument.ID == "inspection" {
		fits = []string{"plug", "distributor", "lead", "fuse", "connector", "filament", "hall", "pickup"}
	}
	switch {
	case !slices.Contains(fits, p.Kind.Name):
		t.Fail("part", "it goes on a "+spelling.Enumerate(fits), "a %s cannot be put on %q, a %s",
			v.Instrument.Label, p.ID, p.Kind.Name)
	case p.Hidden:
		t.Fail("part", "", "part %q is hidden: nobody can put a %s on it", p.ID, v.Instrument.Label)
	}
	if slices.Contains(v.Unplug, v.Part) {
		t.Fail("unplug", "", "part %q is unplugged, so there is nothing to measure", p.ID)
	}
}

// isolate reads a part that is measured alone. Its leads default to its two pins; a part with more needs red and black.
func (r *reader) isolate(t *strict.Table, v *Test) {
	if v.Instrument.ID != "ohmmeter" {
		t.Fail("isolate", "use unplug", "a part off the circuit shows a %s nothing", v.Instrument.Label)
	}
	v.Isolate = true
	if v.Part = r.parts.ref(t, "isolate"); v.Part < 0 {
		return
	}
	p := &r.pack.Parts[v.Part]
	if p.Kind == nil || slices.Contains(p.Pins, -1) || len(p.Pins) < 2 {
		return
	}
	if p.Kind.Name == "battery" {
		t.Fail("isolate", "", "an ohmmeter across the battery %q would be damaged", p.ID)
	}
	if len(v.Unplug) > 0 {
		t.Fail("unplug", "take it out", "isolate takes the part off by itself")
	}
	red, black := t.Has("red"), t.Has("black")
	switch {
	case !red && !black && len(p.Pins) == 2:
		v.Red, v.Black = p.Pins[0], p.Pins[1]
		return
	case !red || !black:
		t.Fail("isolate", "give red and black", "%q has the pins %s; between which?", p.ID, r.pinNames(p))
		return
	}
	for _, key := range []string{"red", "black"} {
		node := r.nodes.ref(t, key)
		if node >= 0 && !slices.Contains(p.Pins, node) {
			t.Fail(key, "its pins: "+r.pinNames(p), "%q is no pin of the isolated part %q", r.pack.Nodes[node].ID, p.ID)
		}
		if key == "red" {
			v.Red = node
		} else {
			v.Black = node
		}
	}
	if v.Red == v.Black && v.Red >= 0 {
		t.Fail("red", "", "both leads are on %q", r.pack.Nodes[v.Red].ID)
	}
}

// performable checks that a test can be done in its condition, and warns of one that could harm the meter or shows
// nothing.
func (r *reader) performable(t *strict.Table, v *Test) {
	c := r.pack.Conditions[v.Condition]
	turning := c.Running() || c.Cranking()
	switch in := v.Instrument; {
	case in.ID == "ohmmeter" && turning:
		t.Fail("instrument", "", "an ohmmeter needs a dead circuit, in condition %q the engine turns", c.ID)
	case in.Scope() && (len(v.Swap) > 0 || len(v.Unplug) > 0):
		t.Fail("instrument", "take out unplug and swap", "the oscilloscope is put on the circuit as it runs")
	case in.Scope() && !turning:
		t.Fail("instrument", "", "nothing happens in time in condition %q, where the engine stands", c.ID)
	case in.ID == "timing-light" && !turning:
		t.Fail("instrument", "", "a timing light shows nothing in condition %q, where the engine stands", c.ID)
	case in.ID == "scan-misfire" && !c.Running():
		t.Fail("instrument", "", "misfires are counted while the engine runs, not in condition %q", c.ID)
	case in.Scan() && !slices.ContainsFunc(r.pack.Parts, isController):
		t.Fail("instrument", "add a controller", "a scan tool finds no controller in this pack")
	}
	if v.Red < 0 {
		return // nothing to look at, or wrong already
	}
	if v.Instrument.Leads == cards.OnePoint && !r.pack.highTension(v.Red) {
		t.Fail("instrument", "put it on a coil's tower, a lead, a distributor or a plug",
			"there is no high tension at %q", r.pack.Nodes[v.Red].ID)
	}
}

func isController(p Part) bool { return p.Kind != nil && p.Kind.Behaves() == "controller" }

// pinNames lists the nodes of a part's pins for messages.
func (r *reader) pinNames(p *Part) string {
	list := make([]string, len(p.Pins))
	for i, pin := range p.Pins {
		list[i] = fmt.Sprintf("%q", r.pack.Nodes[pin].ID)
	}
	return strings.Join(list, ", ")
}
