package lab

import (
	"reflect"
	"slices"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
)

// Words and places by hand, from the text of the lamp pack.
func TestDetailOfTheLamp(t *testing.T) {
	p, err := pack.Load("lamp")
	if err != nil {
		t.Fatal(err)
	}
	source, err := pack.Source("lamp")
	if err != nil {
		t.Fatal(err)
	}
	l := &Lab{Name: "lamp", Pack: PackRef{Source: string(source)}}
	for _, test := range p.Tests {
		l.Tests = append(l.Tests, Test{ID: test.ID})
	}
	d, err := l.Detail()
	if err != nil {
		t.Fatal(err)
	}
	want := [][]string{
		{"below 12 V", "at least 12 V"},
		{"less than 0.5 V below the battery reading", "at least 0.5 V and less than 11 V below the battery reading",
			"at least 11 V below the battery reading"},
		{"below 0.4 V", "at least 0.4 and below 11 V", "at least 11 V"},
		{"below 1 Ω", "at least 1 Ω, or OL"},
	}
	for i, bands := range want {
		if got := d.Bands[i][:len(bands)]; !slices.Equal(got, bands) {
			t.Errorf("test %s: bands %q, want %q", p.Tests[i].ID, got, bands)
		}
	}
	// Points: 0 battery positive, 1 switch in, 2 switch out, 3 lamp ground, 4 battery negative, which is the reference.
	if got := d.Parts["switch"]; !slices.Equal(got, []int{1, 2}) {
		t.Errorf("switch at %v", got)
	}
	if want := [][]int{{0}, {2}, {3}, {2, 3}}; !reflect.DeepEqual(d.Leads, want) {
		t.Errorf("leads %v, want %v", d.Leads, want)
	}
	if got := d.Needs["lamp"]; !slices.Equal(got, []Need{{2, "feed"}, {3, "ground"}}) {
		t.Errorf("the lamp needs %v", got)
	}
	if _, err := (&Lab{Name: "bare"}).Detail(); err == nil {
		t.Error("a lab without the text of its pack gives details")
	}
}

// What parts of the built-in packs need, by hand: numbers of points as printed.
func TestNeeds(t *testing.T) {
	check := func(name, part string, want ...Need) {
		t.Helper()
		p, err := pack.Load(name)
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(p.Parts, func(x pack.Part) bool { return x.ID == part })
		if i < 0 {
			t.Fatalf("%s has no part %q", name, part)
		}
		got := needsOf(p, &p.Parts[i])
		for i := range got {
			got[i].Point++
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: %s needs %v, want %v", name, part, got, want)
		}
	}
	check("single-coil", "pcm", Need{16, "feed"}, Need{17, "ground"}, Need{18, "input"}, Need{20, "input"},
		Need{21, "input"})
	check("single-coil", "icm", Need{11, "feed"}, Need{12, "ground"}, Need{13, "input"}, Need{14, "input"})
	check("single-coil", "ckp", Need{23, "feed"}, Need{24, "ground"})
	check("single-coil", "coil", Need{9, "feed"})
	check("single-coil", "ect", Need{17, "ground"})
	check("single-coil", "map") // its connector is no test point
	check("single-coil", "fuse", Need{4, "feed"})
	check("reluctor", "ballast", Need{10, "feed"})
	check("reluctor", "ckp") // a winding makes its own voltage
	check("coil-per-plug", "coil2", Need{11, "feed"}, Need{19, "ground"}, Need{15, "input"})
	for _, part := range []string{"battery", "coil_lead", "distributor", "spark1", "coil_feed_wire"} {
		check("single-coil", part)
	}
}

// Every kind of part has been thought of, and every pin that is named exists.
func TestNeedsOfAllKinds(t *testing.T) {
	none := []string{"battery", "wire", "connector", "leak", "lead", "distributor", "plug", "pickup", "diode"}
	for _, k := range cards.Kinds {
		if _, some := needs[k.Name]; some == slices.Contains(none, k.Name) {
			t.Errorf("kind %s: say in needs what it needs, or here that it needs nothing", k.Name)
		}
	}
	for name, pins := range needs {
		k := slices.IndexFunc(cards.Kinds, func(k cards.Kind) bool { return k.Name == name })
		if k < 0 {
			t.Errorf("no kind %q", name)
			continue
		}
		for pin := range pins {
			if !slices.Contains(cards.Kinds[k].Pins, pin) && pin != "sync_minus" { // of one kind of controller alone
				t.Errorf("kind %s has no pin %q", name, pin)
			}
		}
	}
}
