package pack

import (
	"fmt"
	"strings"

	"nospark/scenarios/pack/cards"
	"nospark/scenarios/strict"
)

func (r *reader) readParts(top *strict.Table) {
	for _, t := range r.list(top, "part", 1, MaxParts) {
		p := Part{ID: r.parts.id(t), Line: t.Line("")}
		p.Label = t.TextOr("label", strings.ReplaceAll(p.ID, "_", " "))
		if p.Kind = cards.KindByName(t.Choice("kind", cards.KindNames())); p.Kind != nil {
			r.pins(t, &p)
			r.parameters(t, &p)
			if t.Has("tolerance") && p.Kind.Main < 0 {
				t.Fail("tolerance", "", "a %s has no main value that a tolerance could spread", p.Kind.Name)
			}
			p.Tolerance = t.NumberOr("tolerance", "", 0, 0.5, 0)
			outline(t, &p)
			t.Finish()
		}
		r.pack.Parts = append(r.pack.Parts, p)
	}
}

// pins reads the nodes a part is connected to and counts them against the card. An unknown node stays in the list
// as -1, so that the count is judged on what was written.
func (r *reader) pins(t *strict.Table, p *Part) {
	ids, lines := t.Repeatable("pins")
	if ids == nil {
		if !t.Has("pins") {
			t.Missing("pins")
		}
		return
	}
	for i, id := range ids {
		p.Pins = append(p.Pins, r.nodes.find(t, id, lines[i]))
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
		t.Fail("pins", "want "+want, "a %s has %s, not %d", p.Kind.Name, pinCount(least, most), n)
	}
	if len(p.Pins) == 2 && p.Pins[0] == p.Pins[1] && p.Pins[0] >= 0 {
		t.Fail("pins", "", "both pins are on %q", ids[0])
	}
}

// maxCorners is the greatest number of corners of a line on the diagram.
const maxCorners = 50

// maxTerminals is the greatest number of a distributor's terminals, as in its card.
const maxTerminals = 16

func pinCount(least, most int) string {
	if least == most {
		return fmt.Sprintf("%d pins", least)
	}
	return fmt.Sprintf("%d to %d pins", least, most)
}

// outline reads how a part is drawn. Nothing here is required: the diagram finds places by itself.
func outline(t *strict.Table, p *Part) {
	p.Hidden = t.Flag("hidden", false)
	if at := t.Numbers("label_at", 2, -edge, edge); at != nil {
		at := [2]float64(at)
		p.LabelAt = &at
	}
	if box := t.Numbers("box", 4, -edge, edge); box != nil {
		box := [4]float64(box)
		p.Box = &box
		if box[0] >= box[2] || box[1] >= box[3] {
			t.Fail("box", "write [left, top, right, bottom]", "box has no area")
		}
	}
	if !t.Has("via") {
		return
	}
	value, _ := t.Value("via")
	corners, ok := value.([]any)
	if len(corners) > maxCorners {
		t.Fail("via", "", "via has %d corners, at most %d are allowed", len(corners), maxCorners)
		return
	}
	for _, c := range corners {
		at := strict.ListOfNumbers(c, 2, -edge, edge)
		if at == nil {
			ok = false
			break
		}
		p.Via = append(p.Via, [2]float64(at))
	}
	if !ok {
		t.Fail("via", "write [[1, 2], [3, 4]]", "via is not a list of corners")
	}
	if len(p.Kind.Pins) != 2 || p.Kind.More {
		t.Fail("via", "", "only a part with two pins is drawn as a line with corners")
	}
}

// touched checks that every node is a pin of some part: a lead on such a point would measure nothing, whatever is
// wrong.
func (r *reader) touched() {
	used := make([]bool, len(r.pack.Nodes))
	for _, p := range r.pack.Parts {
		for _, pin := range p.Pins {
			used[pin] = true
		}
	}
	for i, n := range r.pack.Nodes {
		if !used[i] {
			r.found.Fail(n.Line, "connect it or take it out", "%s %q: no part touches it", r.kindOf(i), n.ID)
		}
	}
}
