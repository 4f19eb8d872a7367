package course_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"nospark/scenarios/chances"
	"nospark/scenarios/course"
	"nospark/scenarios/term"
)

// row is one of a case: a repair, a weight and the kinds of test that it needs.
func row(repair string, weight int64, kinds ...string) chances.Row {
	return chances.Row{Weight: weight, Repair: repair, Kinds: kinds}
}

// TestExpect: figures that can be worked out by hand. A lab with one case, one row of four needing a: a quarter. Two
// vehicles of a lab that asks for a and has a case for it: all have it, and both repairs.
func TestExpect(t *testing.T) {
	labs := []course.Lab{
		{Name: "w2", Date: "2026-09-14", Pack: "p", Complaints: []string{"c"},
			Rows: [][]chances.Row{{row("x", 1, "a"), row("y", 3, "b")}}},
		{Name: "w1", Date: "2026-09-07", Pack: "p", Complaints: []string{"c"}, Vehicles: 2, Asked: []string{"a", "d"},
			Rows: [][]chances.Row{{row("v", 5, "a")}, {row("w", 5, "d")}, {}}},
	}
	f := course.Expect(labs, []string{"a", "b", "d", "none"}, 2, 4000)
	for k, want := range []course.Kind{{ID: "a", Mean: 1.25, Enough: 0.25, Labs: 2, Most: 3},
		{ID: "b", Mean: 0.75, Labs: 1, Most: 1},
		{ID: "d", Mean: 1, Labs: 1, Most: 2}, {ID: "none"}} {
		got := f.Kinds[k]
		// 4000 students: five standard errors of a share are at most 0.04 (binomial, textbook)
		if got.ID != want.ID || got.Labs != want.Labs || got.Most != want.Most || math.Abs(got.Mean-want.Mean) > 0.04 ||
			math.Abs(got.Enough-want.Enough) > 0.04 {
			t.Errorf("%s: got %+v, want %+v", want.ID, got, want)
		}
	}
	if math.Abs(f.Repairs-3) > 0.04 {
		t.Errorf("%.2f repairs met, want 3", f.Repairs)
	}
	if want := "w2 is like w1: p"; strings.Join(f.Repeats, "; ") != want {
		t.Errorf("repeats %q, want %q", f.Repeats, want)
	}
}

// TestBlueprint: as many plans as weeks and sections, all of which can be read, a week apart; no two in a row are of
// one system, and each step of the course is there.
func TestBlueprint(t *testing.T) {
	first := time.Date(2026, 9, 7, 0, 0, 0, 0, time.UTC)
	for _, weeks := range []int{course.Least, 10, 15, 16, course.Most} {
		plans, err := course.Blueprint(course.Options{Weeks: weeks, Minutes: 100, First: first, Sections: []string{"A",
			"B"}})
		if err != nil || len(plans) != 2*weeks {
			t.Fatalf("%d weeks: %d plans, %v", weeks, len(plans), err)
		}
		before, all := "", ""
		for i, p := range plans {
			plan, err := term.ParsePlan("plans/"+p.Name+".toml", p.Text)
			if err != nil {
				t.Fatalf("%v\n%s", err, p.Text)
			}
			section := []string{"A", "B"}[i%2]
			if want := first.AddDate(0, 0, 7*(i/2)).Format(time.DateOnly); plan.Date != want ||
				plan.Sections[0] != section ||
				p.Name != fmt.Sprintf("week%02d-%s", i/2+1, section) {
				t.Errorf("%s: date %s, sections %q, want %s", p.Name, plan.Date, plan.Sections, want)
			}
			if i%2 == 0 {
				if plan.Pack == before {
					t.Errorf("%d weeks, %s: %s again", weeks, p.Name, plan.Pack)
				}
				before, all = plan.Pack, all+p.Text
			}
		}
		for _, step := range []string{"guided", "restricted instruments", "Comes and goes", "nothing_found = true",
			"scope = true", "final: two vehicles"} {
			if weeks >= 10 && strings.Count(all, step) != 1 {
				t.Errorf("%d weeks: %q stands in %d plans", weeks, step, strings.Count(all, step))
			}
		}
	}
	for _, o := range []course.Options{{Weeks: course.Least - 1, Minutes: 100}, {Weeks: course.Most + 1, Minutes: 100},
		{Weeks: 15, Minutes: 20}} {
		if _, err := course.Blueprint(o); err == nil {
			t.Errorf("%+v is planned", o)
		}
	}
	short, err := course.Blueprint(course.Options{Weeks: 15, Minutes: 50, First: first})
	if err != nil || strings.Contains(short[4].Text, "vehicles") || !strings.Contains(short[14].Text, "vehicles = 2") {
		t.Errorf("a short period: %v\n%s", err, short[4].Text)
	}
}

// TestNext: the plan that is proposed gives what is wanting, on another system and a week later.
func TestNext(t *testing.T) {
	check := func(pack string, want []string, wanting ...string) {
		t.Helper()
		text := course.Next(wanting, pack, "2026-10-05")
		plan, err := term.ParsePlan("plans/next.toml", text)
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		if plan.Date != "2026-10-12" || plan.Pack == pack ||
			strings.Join(plan.Competency, " ") != strings.Join(want, " ") {
			t.Errorf("%v: %s", wanting, text)
		}
	}
	start, spark := []string{"source-voltage", "timing-inputs"}, []string{"signal-checks", "component-test",
		"secondary-and-spark"}
	check("single-coil", start, "timing-inputs", "component-test", "signal-checks")
	check("reluctor", spark, "component-test", "timing-inputs", "source-voltage")
	check("coil-per-plug", spark, "voltage-drop", "source-voltage")
	check("double-ended", start, "ground-integrity", "signal-checks")
}
