package scenarios

import (
	"reflect"
	"slices"
	"testing"

	"nospark/scenarios/pack"
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
		{"less than 0.5 V below the battery reading", "at least 0.5 V and less than 11 V below the battery reading", "at least 11 V below the battery reading"},
		{"below 0.4 V", "at least 0.4 and below 11 V", "at least 11 V"},
		{"below 20 ohm", "at least 20 ohm, or OL"},
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
	if _, err := (&Lab{Name: "bare"}).Detail(); err == nil {
		t.Error("a lab without the text of its pack gives details")
	}
}
