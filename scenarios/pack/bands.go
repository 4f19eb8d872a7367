package pack

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"nospark/scenarios/spelling"
)

// Special finds one of the bands that a test has beside its pack's own: Live, NoLink or NotRunning. They follow the pack's own in that
// order. -1 when the test has no such band.
func (t *Test) Special(name string) int {
	for i := len(t.Own()); i < len(t.Bands); i++ {
		if t.Bands[i].Name == name {
			return i
		}
	}
	return -1
}

// Own gives the bands that the pack itself wrote, without Live, NoLink and NotRunning.
func (t *Test) Own() []Band {
	n := len(t.Bands)
	for n > 0 && special(t.Bands[n-1].Name) {
		n--
	}
	return t.Bands[:n]
}

// special tells whether a name is kept for the bands that tests have beside their own.
func special(name string) bool { return name == Live || name == NoLink || name == NotRunning }

// complete appends the bands that the instrument and the condition add. They are left out where they cannot occur, so that the matrix
// and the specifications speak only of what a student can meet.
func (r *reader) complete(t *Test) {
	add := func(name string, silent bool) {
		t.Bands = append(t.Bands, Band{Name: name, Below: math.Inf(1), Silent: silent})
	}
	if t.Instrument.ID == "ohmmeter" && r.mayBeLive(t) {
		add(Live, false)
	}
	if t.Instrument.scan() {
		add(NoLink, false)
	}
	if r.pack.Conditions[t.Condition].Running() {
		add(NotRunning, true)
	}
}

// scan tells whether the instrument talks to a controller.
func (in *Instrument) scan() bool { return strings.HasPrefix(in.ID, "scan-") }

// mayBeLive tells whether a lead of the test is joined, through any parts left on, with a battery. Values do not count: a fault may close
// what is open.
func (r *reader) mayBeLive(t *Test) bool {
	if t.Isolate {
		return false
	}
	group := r.pack.groups(t.Unplug)
	for i, p := range r.pack.Parts {
		if p.Kind.Name != "battery" || slices.Contains(t.Unplug, i) {
			continue
		}
		for _, pin := range p.Pins {
			if group[pin] == group[t.Red] || group[pin] == group[t.Black] {
				return true
			}
		}
	}
	return false
}

// groups numbers the nodes so that those joined by parts, whatever the parts do, have one number. Parts taken off join nothing.
func (p *Pack) groups(off []int) []int {
	group := make([]int, len(p.Nodes))
	for i := range group {
		group[i] = i
	}
	find := func(i int) int {
		for group[i] != i {
			group[i] = group[group[i]]
			i = group[i]
		}
		return i
	}
	for i, part := range p.Parts {
		if slices.Contains(off, i) {
			continue
		}
		for _, pin := range part.Pins {
			group[find(pin)] = find(part.Pins[0])
		}
	}
	for i := range group {
		group[i] = find(i)
	}
	return group
}

// bands reads the keys bands and normal for an instrument; nil when something is wrong.
func (t *table) bands(in *Instrument) []Band {
	normal, at := t.texts("normal")
	if !t.has("normal") {
		t.missing("normal")
	}
	var list []Band
	if in.Phrases != nil {
		if t.has("bands") {
			t.fail("bands", "take it out", "the bands of a %s are what it shows: %s", in.Label, spelling.Enumerate(in.Phrases))
		}
		for _, phrase := range in.Phrases {
			list = append(list, Band{Name: phrase, Below: math.Inf(1)})
		}
	} else if list = t.limits(); list == nil {
		return nil
	}
	known := make([]string, len(list))
	for i, b := range list {
		known[i] = b.Name
	}
	good := 0
	for i, name := range normal {
		switch k := slices.Index(known, name); {
		case k < 0:
			t.r.fail(at[i], spelling.Suggest(name, known), "%s: normal band %q is not among the bands", t.who, name)
		case list[k].Normal:
			t.r.fail(at[i], "", "%s: normal names %q twice", t.who, name)
		default:
			list[k].Normal = true
			good++
		}
	}
	if normal != nil && len(at) == 0 {
		t.fail("normal", "known: "+spelling.Enumerate(known), "normal names no band")
	}
	if good == len(list) {
		t.fail("normal", "", "every band is normal, so that no reading could show a fault")
	}
	return list
}

// limits reads bands = [{ name, below }, ...]: ascending, only the last without below.
func (t *table) limits() []Band {
	if !t.has("bands") {
		t.missing("bands")
		return nil
	}
	rows := t.tables("bands")
	if n := len(rows); rows == nil || n < 2 || n > MaxBands {
		if rows == nil && !isEmpty(t.values["bands"]) {
			return nil // no list, as tables has reported
		}
		t.fail("bands", "", "bands has %d entries, want 2 to %d", n, MaxBands)
		return nil
	}
	var list []Band
	for i, row := range rows {
		row.who = fmt.Sprintf("%s, band %d", t.who, i+1)
		b := Band{Name: row.text("name"), Below: math.Inf(1)}
		row.who = fmt.Sprintf("%s, band %q", t.who, b.Name)
		if special(b.Name) {
			row.fail("name", "take another name", "band name %q is kept for readings that are added by themselves", b.Name)
		}
		if slices.ContainsFunc(list, func(o Band) bool { return o.Name == b.Name }) {
			row.fail("name", "", "band name %q is used twice", b.Name)
		}
		switch last := i == len(rows)-1; {
		case last && row.has("below"):
			row.fail("below", "the last band takes all the rest", "below is not allowed in the last band")
		case !last && !row.has("below"):
			row.fail("name", "only the last band takes all the rest", "key %q is missing", "below")
		case !last:
			b.Below = row.numberOr("below", "", -1e9, 1e9, math.NaN())
			if i > 0 && b.Below <= list[i-1].Below {
				row.fail("below", "write the bands in ascending order", "below = %s is not above the %s of the band before, so the bands overlap",
					digits(b.Below), digits(list[i-1].Below))
			}
		}
		row.finish()
		list = append(list, b)
	}
	return list
}
