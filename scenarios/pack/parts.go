package pack

import (
	"fmt"
	"math"
	"strings"
)

func kindNames() []string {
	list := make([]string, len(Kinds))
	for i := range Kinds {
		list[i] = Kinds[i].Name
	}
	return list
}

func (r *reader) readParts(top *table) {
	r.declared = map[string]bool{}
	for _, t := range r.list(top, "part", 1, MaxParts) {
		p := Part{ID: r.parts.id(t), Line: t.place.Line}
		p.Label = t.textOr("label", strings.ReplaceAll(p.ID, "_", " "))
		if p.Kind = KindByName(t.oneOf("kind", kindNames())); p.Kind != nil {
			r.pins(t, &p)
			r.parameters(t, &p)
			if t.has("tolerance") && p.Kind.Main < 0 {
				t.fail("tolerance", "", "a %s has no main value that a tolerance could spread", p.Kind.Name)
			}
			p.Tolerance = t.numberOr("tolerance", "", 0, 0.5, 0)
			r.outline(t, &p)
			t.finish()
		}
		r.pack.Parts = append(r.pack.Parts, p)
	}
}

// pins reads the nodes a part is connected to and counts them against the card. An unknown node stays in the list as -1, so that the
// count is judged on what was written.
func (r *reader) pins(t *table, p *Part) {
	ids, at := t.texts("pins")
	if ids == nil {
		if !t.has("pins") {
			t.missing("pins")
		}
		return
	}
	for i, id := range ids {
		p.Pins = append(p.Pins, t.find(&r.nodes, id, at[i]))
	}
	least, most := len(p.Kind.Pins)-p.Kind.Optional, len(p.Kind.Pins)
	want := strings.Join(p.Kind.Pins, ", ")
	switch {
	case p.Kind.More:
		most = maxTerminals + 1
		want += ", and so on"
	case p.Kind.Optional > 0:
		want += fmt.Sprintf("; the last %d may be left out", p.Kind.Optional)
	}
	if n := len(p.Pins); n < least || n > most {
		t.fail("pins", "want "+want, "a %s has %s, not %d", p.Kind.Name, pinCount(least, most), n)
	}
	if len(p.Pins) == 2 && p.Pins[0] == p.Pins[1] && p.Pins[0] >= 0 {
		t.fail("pins", "", "both pins are on %q", ids[0])
	}
}

const maxCorners = 50

// maxTerminals is the greatest number of a distributor's terminals, as in its card.
const maxTerminals = 16

func pinCount(least, most int) string {
	if least == most {
		return fmt.Sprintf("%d pins", least)
	}
	return fmt.Sprintf("%d to %d pins", least, most)
}

// parameters reads the values of the card in its order. What the file gives is remembered: a default and a written value can be equal,
// and rules such as "one of the two" ask what was written.
func (r *reader) parameters(t *table, p *Part) {
	p.Values = make([]float64, len(p.Kind.Params))
	for i, param := range p.Kind.Params {
		p.Values[i] = param.Default
		if !t.has(param.Name) {
			continue
		}
		r.declared[p.ID+"."+param.Name] = true
		if low, _, ok := t.parameter(&param, false); ok {
			p.Values[i] = low
		}
		r.terminal(t, p, &param, p.Values[i])
	}
	if low, high := p.Kind.Param("low_volts"), p.Kind.Param("high_volts"); low >= 0 && high >= 0 && p.Values[low] >= p.Values[high] {
		t.fail("low_volts", "", "low_volts = %s is not below high_volts = %s", digits(p.Values[low]), digits(p.Values[high]))
	}
	switch p.Kind.Name {
	case "wire":
		r.wire(t, p)
	case "battery": // the emf may stay NaN: it then follows charge_percent, which a fault may change
		if r.declared[p.ID+".emf_volts"] && r.declared[p.ID+".charge_percent"] {
			t.fail("charge_percent", "give one of them", "emf_volts is given too")
		}
		r.require(t, p, "resistance_ohms")
	default:
		for _, param := range p.Kind.Params {
			r.require(t, p, param.Name)
		}
	}
}

// require reports a parameter that has neither a value nor a default.
func (r *reader) require(t *table, p *Part, name string) {
	if math.IsNaN(p.Value(name)) && !r.declared[p.ID+"."+name] {
		t.missing(name)
	}
}

// wire computes the resistance of a wire from gauge and length when it is not given.
func (r *reader) wire(t *table, p *Part) {
	given := func(name string) bool { return r.declared[p.ID+"."+name] }
	switch {
	case given("resistance_ohms") && (given("gauge_awg") || given("length_metres")):
		t.fail("resistance_ohms", "leave out one or the other", "resistance_ohms is given beside gauge and length")
	case given("resistance_ohms"):
	case !given("gauge_awg") && !given("length_metres"):
		t.fail("kind", "", "key %q is missing, or gauge_awg with length_metres", "resistance_ohms")
	case !given("gauge_awg"):
		t.missing("gauge_awg")
	case !given("length_metres"):
		t.missing("length_metres")
	default:
		p.Values[p.Kind.Param("resistance_ohms")] = WireOhms(p.Value("gauge_awg"), p.Value("length_metres"))
	}
}

// terminal checks parameters that name one of a distributor's terminals.
func (r *reader) terminal(t *table, p *Part, param *Param, x float64) {
	if n := len(p.Pins) - 1; p.Kind.More && strings.HasSuffix(param.Name, "_terminal") && x > float64(n) {
		t.fail(param.Name, "", "%s = %s, but %s has terminals 1 to %d", param.Name, digits(x), p.ID, n)
	}
}

// outline reads how a part is drawn. Nothing here is required: the diagram finds places by itself.
func (r *reader) outline(t *table, p *Part) {
	p.Hidden = t.flag("hidden")
	if at := t.numbers("label_at", 2); at != nil {
		at := [2]float64(at)
		p.LabelAt = &at
	}
	if box := t.numbers("box", 4); box != nil {
		box := [4]float64(box)
		p.Box = &box
		if box[0] >= box[2] || box[1] >= box[3] {
			t.fail("box", "write [left, top, right, bottom]", "box has no area")
		}
	}
	if !t.has("via") {
		return
	}
	corners, ok := t.values["via"].([]any)
	if len(corners) > maxCorners {
		t.fail("via", "", "via has %d corners, at most %d are allowed", len(corners), maxCorners)
		return
	}
	for _, c := range corners {
		at := coordinates(c, 2)
		if at == nil {
			ok = false
			break
		}
		p.Via = append(p.Via, [2]float64(at))
	}
	if !ok {
		t.fail("via", "write [[1, 2], [3, 4]]", "via is not a list of corners")
	}
	if len(p.Kind.Pins) != 2 || p.Kind.More {
		t.fail("via", "", "only a part with two pins is drawn as a line with corners")
	}
}

// touched checks that every node is a pin of some part: a lead on such a point would measure nothing, whatever is wrong.
func (r *reader) touched() {
	used := make([]bool, len(r.pack.Nodes))
	for _, p := range r.pack.Parts {
		for _, pin := range p.Pins {
			used[pin] = true
		}
	}
	for i, n := range r.pack.Nodes {
		if !used[i] {
			r.fail(n.Line, "connect it or take it out", "%s %q: no part touches it", r.kindOf(i), n.ID)
		}
	}
}
