package lab

import (
	"slices"
	"strings"
	"testing"
)

// TestFoldedSpecs: rows that differ in the number of a part alone, or in the part that is unplugged, are one row.
func TestFoldedSpecs(t *testing.T) {
	check := func(want []string, where ...string) {
		t.Helper()
		rows := make([]SpecRow, len(where))
		for i, w := range where {
			rows[i] = SpecRow{Where: w, Meter: "ohmmeter", When: "key off", Good: "below 1 ohm"}
		}
		var got []string
		for _, r := range folded(folded(rows, byNumber), bySubject) {
			got = append(got, r.Where)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%q: %q, want %q", where, got, want)
		}
	}
	check([]string{"Coil lead", "Plug lead 1 to 3, end to end"}, "Coil lead", "Plug lead 1, end to end",
		"Plug lead 2, end to end", "Plug lead 3, end to end")
	check([]string{"Plug 1 and 2, gap"}, "Plug 1, gap", "Plug 2, gap")
	check([]string{"Plug 1, 3 and 4"}, "Plug 1", "Plug 3", "Plug 4")
	check([]string{"Plug 1, gap", "Plug 2, seal"}, "Plug 1, gap", "Plug 2, seal")
	check([]string{"PCM's 5 V output", "PCM's 12 V output"}, "PCM's 5 V output", "PCM's 12 V output")
	check([]string{"ICM or PCM unplugged: ground pin"}, "ICM unplugged: ground pin", "PCM unplugged: ground pin")
	check([]string{"Coil 1 to 3 or PCM unplugged: pin"}, "Coil 1 unplugged: pin", "PCM unplugged: pin",
		"Coil 2 unplugged: pin", "Coil 3 unplugged: pin")
	check([]string{"ICM and PCM unplugged: wire", "ECT unplugged: wire"}, "ICM and PCM unplugged: wire",
		"ECT unplugged: wire")

	rows := folded([]SpecRow{{Where: "Plug 1", Good: "below 1 mm"}, {Where: "Plug 2", Good: "below 2 mm"}}, byNumber)
	if len(rows) != 2 {
		t.Errorf("%q: two good readings on one row", rows)
	}
}

// TestSpecsTogether: the rows of one place follow each other.
func TestSpecsTogether(t *testing.T) {
	rows := together([]SpecRow{{Where: "feed", Meter: "volts"}, {Where: "ground", Meter: "volts"},
		{Where: "feed", Meter: "lamp"}})
	if rows[0].Where != "feed" || rows[1].Where != "feed" || rows[1].Meter != "lamp" || rows[2].Where != "ground" {
		t.Errorf("%q", rows)
	}
}

// TestSpecsDoNotContradict: no reading of a point has two specifications, and the row of a point is the specification
// of its tests.
func TestSpecsDoNotContradict(t *testing.T) {
	for want, when := range map[string]map[int][]string{
		"feed":                     {4: {"idle"}, 5: {"idle"}},
		"feed at 4|feed at 5":      {4: {"on", "idle"}, 5: {"on"}},
		"feed at 4 and 5":          {4: {"on"}, 5: {"on"}},
		"feed at 4 to 6|feed at 7": {4: {"on"}, 5: {"on"}, 6: {"on"}, 7: {"on", "crank"}},
	} {
		g := specGroup{SpecRow{Where: "feed", Meter: "volts", Good: "more than 1 V"}, when}
		others := []specGroup{g, {SpecRow{Where: "feed", Meter: "volts", Good: "more than 2 V"},
			map[int][]string{9: {"on"}}}}
		var got []string
		for _, part := range g.split(others) {
			got = append(got, part.row.Where)
		}
		if strings.Join(got, "|") != want {
			t.Errorf("%v: %q, want %s", when, got, want)
		}
	}
}
