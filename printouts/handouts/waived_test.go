package handouts

import (
	"testing"

	"nospark/scenarios/handout"
)

func TestNotToday(t *testing.T) {
	end := func(label string, point int) handout.Waived {
		return handout.Waived{What: "end", Label: label, Point: point}
	}
	path := func(label string) handout.Waived { return handout.Waived{What: "path", Label: label} }
	read := func(w handout.Waived) handout.Waived { w.Read = true; return w }
	const but = "but they show other things: they read the same whether what is named here is good or bad."
	for _, c := range []struct {
		checks []handout.Waived
		want   string
	}{
		{nil, ""},
		{[]handout.Waived{end("feed wire", 7)}, "feed wire (end 7)."},
		{[]handout.Waived{end("feed wire", 7), path("feed wire")}, "feed wire (end 7, path)."},
		{[]handout.Waived{end("feed wire", 9), end("feed wire", 7)}, "feed wire (end 7 and 9)."},
		// alike parts become one, in the order of their numbers, runs shortened from three on
		{[]handout.Waived{path("plug 2"), path("plug 1")}, "plug 1 and 2 (path)."},
		{[]handout.Waived{end("coil 1 wire", 14), end("coil 1 wire", 26), end("coil 2 wire", 15),
			end("coil 2 wire", 27), end("coil 3 wire", 16), end("coil 3 wire", 28), path("coil 1 wire"),
			path("coil 2 wire"), path("coil 3 wire")},
			"coil 1-3 wire (end 14-16 and 26-28, path)."},
		// more is said of one than of the other
		{[]handout.Waived{end("coil 1 wire", 14), end("coil 2 wire", 15), path("coil 2 wire")},
			"coil 1 wire (end 14); coil 2 wire (end 15, path)."},
		{[]handout.Waived{end("coil 1 wire", 14), end("coil 1 wire", 26), end("coil 2 wire", 15)},
			"coil 1 wire (end 14 and 26); coil 2 wire (end 15)."},
		// a rating is no number of a part, and other words make another part
		{[]handout.Waived{path("fuse 15 A"), path("fuse 10 A")}, "fuse 15 A (path); fuse 10 A (path)."},
		{[]handout.Waived{path("coil 1"), path("plug 2")}, "coil 1 (path); plug 2 (path)."},
		{[]handout.Waived{read(end("coil 1 ground", 22)), read(end("coil 2 ground", 22)), end("coil 2 feed", 7)},
			"coil 1 and 2 ground (end 22); coil 2 feed (end 7). There are lines at 22, " + but},
	} {
		want := c.want
		if want != "" {
			want = "Cannot be checked today and need not be: " + want
		}
		if got := NotToday(handout.Handout{NotToday: c.checks}); got != want {
			t.Errorf("%v:\ngot  %s\nwant %s", c.checks, got, want)
		}
	}
}

func TestPointsWithout(t *testing.T) {
	for _, c := range []struct {
		points, untested []int
		want             string
	}{
		{[]int{2}, []int{2}, "there is no test at 2 today."},
		{[]int{36, 37, 38}, []int{2}, "for 36-38 see other tests."},
		{[]int{2, 14, 15, 16, 20, 21, 36}, []int{2, 14, 15, 16}, "for 20, 21 and 36 see other tests; " +
			"there is no test at 2 and 14-16 today."},
	} {
		if got := PointsWithout(c.points, c.untested); got != "Points without a row: "+c.want {
			t.Errorf("%v of which %v have no test: %s", c.points, c.untested, got)
		}
	}
}
