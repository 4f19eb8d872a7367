package diagram

import (
	"math"

	"nospark/printouts/vector"
	"nospark/scenarios/handout"
)

// relayTerminals are the numbers on a relay's terminals, in the order of its pins: winding, and the contact that it
// closes (DIN 72552: 86 begin and 85 end of the winding, 30 feed, 87 output).
var relayTerminals = [4]string{"86", "85", "30", "87"}

// relay draws the frame of a relay with its winding, its contact and the link between the two, if they have room
// beside each other; else a box with the numbers of its terminals. Signs after IEC 60617: a box on the line is the
// winding of a relay, an open blade the contact that it closes, a dashed line the link.
func (w *drawing) relay(p *handout.DiagramPart) {
	numbered := *p
	numbered.PinNames = relayTerminals[:]
	r := w.boxOf(p)
	var ends [4]entry
	for i, net := range p.Pins {
		ends[i] = enter(r, w.at[net])
	}
	winding, okWinding := across(w, ends[0], ends[1])
	contact, okContact := across(w, ends[2], ends[3])
	// a small frame gets small signs
	size := min(w.size, winding.c.Minus(contact.c).Length()/1.9, r.W/2.4, r.H/2.4, toEdge(r, winding)/0.85,
		toEdge(r, contact)/0.85)
	winding.size, contact.size = size, size
	coilRoom, contactRoom := winding.rect(-0.45, -0.8, 0.45, 0.8), contact.rect(-0.8, -0.75, 0.8, 0.75)
	if !okWinding || !okContact || size < leastRelay || coilRoom.Overlaps(contactRoom) || !r.Contains(coilRoom) ||
		!r.Contains(contactRoom) || math.Abs(winding.along.X) != math.Abs(contact.along.X) {
		if size < leastRelay {
			w.crowded++
		}
		w.block(&numbered)
		return
	}
	w.add(rectangle(r, vector.Tint, symbolWidth))
	w.solids = append(w.solids, r)
	var names []pinName
	for i, net := range p.Pins {
		w.feed(net, ends[i], w.plain)
		w.terminal(ends[i])
		names = append(names, pinName{relayTerminals[i], ends[i], w.reachInto(net, ends[i])})
	}
	w.add(line(wireWidth, ends[0].at, winding.at(-0.35, 0)), line(wireWidth, winding.at(0.35, 0), ends[1].at))
	winding.box(-0.35, -0.8, 0.35, 0.8)
	w.add(line(wireWidth, ends[2].at, contact.at(-0.66, 0)), line(wireWidth, contact.at(0.66, 0), ends[3].at))
	drawSwitch(w, contact)
	w.link(winding, contact)
	// the middle of the frame belongs to the signs, so the numbers stand beside the lines that end at the terminals
	for _, n := range names {
		w.numberBeside(r, n)
	}
	w.want(p, r.Center(), r, false)
}

// leastRelay is the least size of a relay's signs, mm.
const leastRelay = 2.2

// toEdge is how far a pen's middle is from the nearer edge of a frame, across its line.
func toEdge(r vector.Rect, p pen) float64 {
	if p.along.X != 0 {
		return min(p.c.Y-r.Y, r.Y+r.H-p.c.Y)
	}
	return min(p.c.X-r.X, r.X+r.W-p.c.X)
}

// across is a pen in the middle between two opposite terminals that face each other.
func across(w *drawing, a, b entry) (pen, bool) {
	if !a.side.Near(b.side.Times(-1)) {
		return pen{}, false
	}
	d := a.at.Toward(b.at)
	straight := math.Abs(d.X) < 1e-6 || math.Abs(d.Y) < 1e-6
	return newPen(w, vector.Between(a.at, b.at, 0.5), d, w.size), straight
}

// link is the dashed line from the winding to the middle of the contact's blade.
func (w *drawing) link(winding, contact pen) {
	blade := contact.at(-0.05, -0.29)
	edge := winding.rect(-0.35, -0.8, 0.35, 0.8).Nearest(blade)
	l := line(wireWidth, edge, blade)
	l.Pen.Dash = vector.Dashed
	w.add(l)
}

// numberBeside writes the number of a terminal inside the frame, beside the line that ends there.
func (w *drawing) numberBeside(r vector.Rect, n pinName) {
	style := vector.Style{Size: 8}
	wide, high := w.measure(n.text, style), style.Size*vector.PerPoint
	inward := n.entry.side.Times(-1)
	at := n.entry.at.Plus(inward.Times(n.gap() + high/2))
	box := vector.Box(at.X+0.9, at.Y-high/2, wide, high)
	if inward.X != 0 {
		at = n.entry.at.Plus(inward.Times(n.gap() + wide/2))
		box = vector.Box(at.X-wide/2, at.Y-0.6-high, wide, high)
	} else if box.X+box.W > r.X+r.W-0.4 {
		box.X = at.X - 0.9 - wide
	}
	w.write(n.text, box, style, terminalName)
}
