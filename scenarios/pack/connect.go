package pack

import (
	"slices"

	"nospark/scenarios/spelling"
)

// connect reads where a single test puts its instrument. A key that the instrument has no use for is an error: whoever writes red for a
// spark tester has another picture of the test than we have.
func (r *reader) connect(t *table, v *Test) {
	in := v.Instrument
	allowed := map[Leads][]string{
		TwoLeads: {"red", "black", "isolate"},
		OnePoint: {"point"},
		OnPart:   {"part"},
		NoLeads:  {},
	}[in.Leads]
	for _, key := range []string{"red", "black", "isolate", "point", "part"} {
		if t.has(key) && !slices.Contains(allowed, key) {
			t.fail(key, connection(in), "instrument %q has no use for %s", in.ID, key)
		}
	}
	switch {
	case in.Leads == OnePoint:
		if !t.has("point") {
			t.missing("point")
		}
		v.Red = r.pointRef(t, "point")
	case in.Leads == OnPart:
		if !t.has("part") {
			t.missing("part")
		}
		if v.Part = t.ref("part", &r.parts); v.Part >= 0 {
			r.clampable(t, v)
		}
	case in.Leads == TwoLeads && t.has("isolate"):
		r.isolate(t, v)
	case in.Leads == TwoLeads:
		for _, key := range []string{"red", "black"} {
			if !t.has(key) {
				t.missing(key)
			}
		}
		v.Red, v.Black = r.pointRef(t, "red"), r.pointRef(t, "black")
		if v.Red == v.Black && v.Red >= 0 {
			t.fail("red", "", "both leads are on %q", r.pack.Nodes[v.Red].ID)
		}
	}
}

// connection says how an instrument is connected.
func connection(in *Instrument) string {
	switch in.Leads {
	case OnePoint:
		return "give point"
	case OnPart:
		return "give part"
	case NoLeads:
		return "it is connected to the vehicle as a whole"
	}
	return "give red and black"
}

// clampable checks that the instrument can be put on the part. High-tension leads are left out for the ammeter, whose clamp would see
// a spark current too short to show.
func (r *reader) clampable(t *table, v *Test) {
	p := &r.pack.Parts[v.Part]
	if p.Kind == nil {
		return
	}
	fits := []string{"plug", "hall", "pickup"}
	if v.Instrument.ID == "ammeter" {
		fits = []string{"battery", "starter", "wire", "connector", "fuse", "switch", "resistor", "coil", "twin-coil"}
	}
	if v.Instrument.ID == "inspection" {
		fits = []string{"plug", "distributor", "lead", "fuse", "connector"}
	}
	switch {
	case !slices.Contains(fits, p.Kind.Name):
		t.fail("part", "it goes on a "+spelling.Enumerate(fits), "a %s cannot be put on %q, a %s", v.Instrument.Label, p.ID, p.Kind.Name)
	case p.Hidden:
		t.fail("part", "", "part %q is hidden: nobody can put a %s on it", p.ID, v.Instrument.Label)
	}
	if slices.Contains(v.Unplug, v.Part) {
		t.fail("unplug", "", "part %q is unplugged, so there is nothing to measure", p.ID)
	}
}

// isolate reads a part that is measured alone. Its leads default to its two pins; a part with more needs red and black.
func (r *reader) isolate(t *table, v *Test) {
	if v.Instrument.ID != "ohmmeter" {
		t.fail("isolate", "use unplug", "a part off the circuit shows a %s nothing", v.Instrument.Label)
	}
	v.Isolate = true
	if v.Part = t.ref("isolate", &r.parts); v.Part < 0 {
		return
	}
	p := &r.pack.Parts[v.Part]
	if p.Kind == nil || slices.Contains(p.Pins, -1) || len(p.Pins) < 2 {
		return
	}
	if p.Kind.Name == "battery" {
		t.fail("isolate", "", "an ohmmeter across the battery %q would be damaged", p.ID)
	}
	if len(v.Unplug) > 0 {
		t.fail("unplug", "take it out", "isolate takes the part off by itself")
	}
	red, black := t.has("red"), t.has("black")
	switch {
	case !red && !black && len(p.Pins) == 2:
		v.Red, v.Black = p.Pins[0], p.Pins[1]
		return
	case !red || !black:
		t.fail("isolate", "give red and black", "%q has the pins %s; between which?", p.ID, r.pinNames(p))
		return
	}
	for _, key := range []string{"red", "black"} {
		node := t.ref(key, &r.nodes)
		if node >= 0 && !slices.Contains(p.Pins, node) {
			t.fail(key, "its pins: "+r.pinNames(p), "%q is no pin of the isolated part %q", r.pack.Nodes[node].ID, p.ID)
		}
		if key == "red" {
			v.Red = node
		} else {
			v.Black = node
		}
	}
	if v.Red == v.Black && v.Red >= 0 {
		t.fail("red", "", "both leads are on %q", r.pack.Nodes[v.Red].ID)
	}
}

// performable checks that a test can be done in its condition, and warns of one that could harm the meter or shows nothing.
func (r *reader) performable(t *table, v *Test) {
	c := r.pack.Conditions[v.Condition]
	turning := c.Running() || c.Cranking()
	switch in := v.Instrument; {
	case in.ID == "ohmmeter" && turning:
		t.fail("instrument", "", "an ohmmeter needs a dead circuit, in condition %q the engine turns", c.ID)
	case in.ID == "timing-light" && !turning:
		t.fail("instrument", "", "a timing light shows nothing in condition %q, where the engine stands", c.ID)
	case in.ID == "scan-misfire" && !c.Running():
		t.fail("instrument", "", "misfires are counted while the engine runs, not in condition %q", c.ID)
	case in.scan() && !slices.ContainsFunc(r.pack.Parts, func(p Part) bool { return p.Kind != nil && p.Kind.Behaves() == "controller" }):
		t.fail("instrument", "add a controller", "a scan tool finds no controller in this pack")
	}
	if v.Red < 0 || v.Part >= 0 {
		return // nothing to look at, or wrong already
	}
	if v.Instrument.Leads == OnePoint && !r.pack.highTension(v.Red) {
		t.fail("instrument", "put it on a coil's tower, a lead, a distributor or a plug",
			"there is no high tension at %q", r.pack.Nodes[v.Red].ID)
	}
}

// highTension tells whether a node carries the secondary's voltage. It asks the topology alone: a broken lead still counts.
func (p *Pack) highTension(node int) bool {
	for _, part := range p.Parts {
		if part.Kind == nil {
			continue
		}
		for i, pin := range part.Pins {
			if pin == node && part.Kind.HighTension(i) {
				return true
			}
		}
	}
	return false
}
