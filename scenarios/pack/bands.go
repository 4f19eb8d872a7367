package pack

import (
	"fmt"
	"math"
	"slices"

	"nospark/scenarios/pack/cards"
	"nospark/scenarios/spelling"
	"nospark/scenarios/strict"
)

// The names of the bands that a test has beside its pack's own.
const (
	Live       = "live circuit"
	NotRunning = "engine does not run"
	NoLink     = "no communication"
)

// Special finds one of the bands that a test has beside its pack's own: Live, NoLink or NotRunning. They follow the
// pack's own in that order. -1 when the test has no such band.
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

// complete appends the bands that the instrument and the condition add. They are left out where they cannot occur,
// so that the matrix and the specifications speak only of what a student can meet.
func (r *reader) complete(t *Test) {
	add := func(name string, silent bool) {
		t.Bands = append(t.Bands, Band{Name: name, Below: math.Inf(1), Silent: silent})
	}
	if t.Instrument.ID == "ohmmeter" && r.mayBeLive(t) {
		add(Live, false)
	}
	if t.Instrument.Scan() {
		add(NoLink, false)
	}
	if r.pack.Conditions[t.Condition].Running() {
		add(NotRunning, true)
	}
}

// mayBeLive tells whether a lead of the test is joined, through any parts left on, with a battery. Values do not
// count: a fault may close what is open.
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

// readBands reads the keys bands and normal for an instrument; nil when something is wrong.
func readBands(t *strict.Table, in *cards.Instrument) []Band {
	normal, at := t.Texts("normal")
	if !t.Has("normal") {
		t.Missing("normal")
	}
	var list []Band
	if in.Phrases != nil {
		if t.Has("bands") {
			t.Fail("bands", "take it out", "the bands of a %s are what it shows: %s", in.Label,
				spelling.Enumerate(in.Phrases))
		}
		for _, phrase := range in.Phrases {
			list = append(list, Band{Name: phrase, Below: math.Inf(1)})
		}
	} else if list = limits(t); list == nil {
		return nil
	}
	known := make([]string, len(list))
	for i, b := range list {
		known[i] = b.Name
	}
	good := 0
	for i, name := range normal {
		k := slices.Index(known, name)
		if k < 0 {
			t.FailAt(at[i], spelling.Suggest(name, known), "normal band %q is not among the bands", name)
			continue
		}
		list[k].Normal = true
		good++
	}
	if normal != nil && len(normal) == 0 {
		t.Fail("normal", "known: "+spelling.Enumerate(known), "normal names no band")
	}
	if good == len(list) {
		t.Fail("normal", "", "every band is normal, so that no reading could show a fault")
	}
	return list
}

// limits reads bands = [{ name, below }, ...]: ascending, only the last without below.
func limits(t *strict.Table) []Band {
	if !t.Has("bands") {
		t.Missing("bands")
		return nil
	}
	rows := t.Tables("bands")
	if rows == nil {
		return nil // no list of tables, as reported
	}
	if n := len(rows); n < 2 || n > MaxBands {
		t.Fail("bands", "", "bands has %d entries, want 2 to %d", n, MaxBands)
		return nil
	}
	var list []Band
	for i, row := range rows {
		row.Who = fmt.Sprintf("%s, band %d", t.Who, i+1)
		b := Band{Name: row.Text("name"), Below: math.Inf(1)}
		row.Who = fmt.Sprintf("%s, band %q", t.Who, b.Name)
		if special(b.Name) {
			row.Fail("name", "take another name", "band name %q is kept for readings that are added by themselves",
				b.Name)
		}
		if slices.ContainsFunc(list, func(o Band) bool { return o.Name == b.Name }) {
			row.Fail("name", "", "band name %q is used twice", b.Name)
		}
		switch last := i == len(rows)-1; {
		case last && row.Has("below"):
			row.Fail("below", "the last band takes all the rest", "below is not allowed in the last band")
		case !last && !row.Has("below"):
			row.Fail("name", "only the last band takes all the rest", "key %q is missing", "below")
		case !last:
			b.Below = row.NumberOr("below", "", -1e9, 1e9, math.NaN())
			if i > 0 && b.Below <= list[i-1].Below {
				row.Fail("below", "write the bands in ascending order",
					"below = %s is not above the %s of the band before, so the bands overlap",
					strict.Digits(b.Below), strict.Digits(list[i-1].Below))
			}
		}
		row.Finish()
		list = append(list, b)
	}
	return list
}
