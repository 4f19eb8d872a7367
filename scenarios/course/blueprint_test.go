package course_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"nospark/scenarios/build"
	"nospark/scenarios/chances"
	"nospark/scenarios/course"
	"nospark/scenarios/pack"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
	"nospark/scenarios/testrun"
	"nospark/scenarios/vehicle"
)

// kinds are the competencies that come from tests.
var kinds = []string{"source-voltage", "voltage-drop", "ground-integrity", "signal-checks", "component-test",
	"secondary-and-spark", "timing-inputs"}

// TestCourseIsEnough builds all 15 weeks for an invented class under keys of its own and counts on the sheets
// themselves: at least 95 of 100 students have at least six opportunities of every kind. (The numbers are what a
// course should give; the counting is by the rule of package evidence, which says what best play needs.)
func TestCourseIsEnough(t *testing.T) {
	testrun.Long(t, "builds 30 labs")
	const students, wanted = 24, 6
	plans, err := course.Blueprint(course.Options{Weeks: 15, Minutes: 100, First: time.Date(2026, 9, 7, 0, 0, 0, 0,
		time.UTC)})
	if err != nil {
		t.Fatal(err)
	}
	matrices := map[string]*vehicle.Matrix{}
	enough := map[string]int{}
	all := 0
	for k := range 2 {
		count := map[string]map[string]int{}
		history := term.History{}
		for _, p := range plans {
			in := input(t, p, students, matrices)
			in.Key = term.Key{byte(k), 7}
			in.History = history
			began := time.Now()
			l, _, err := build.Lab(context.Background(), in)
			if err != nil {
				t.Fatalf("%s: %v\n%s", p.Name, err, p.Text)
			}
			rows, err := chances.Of(l, func(int) bool { return true }, true)
			if err != nil {
				t.Fatal(err)
			}
			weekly := map[string]int{}
			for _, s := range l.Sheets {
				if count[s.Student] == nil {
					count[s.Student] = map[string]int{}
				}
				world, err := l.World(s.Complaint, nil, nil)
				if err != nil {
					t.Fatal(err)
				}
				at := 0 // place of the sheet's row among those of its case
				for h := range world.Rows(world.Start(l.Cases[s.Case].Known)).All() {
					if h == s.Truth {
						break
					}
					at++
				}
				for _, kind := range rows[s.Case][at].Kinds {
					count[s.Student][kind]++
					weekly[kind]++
				}
				f := l.Faults[l.Hypotheses[s.Truth].Fault]
				history[s.Student] = append(history[s.Student], term.Had{Pack: l.Pack.Name, Fault: f.ID,
					Repair: l.Repairs[f.Repair].ID})
			}
			t.Logf("%s %-14s cases %2d %v %v", p.Name, l.Pack.Name, len(l.Cases), weekly,
				time.Since(began).Round(time.Millisecond))
		}
		for _, c := range count {
			all++
			for _, kind := range kinds {
				if c[kind] >= wanted {
					enough[kind]++
				}
			}
		}
	}
	for _, kind := range kinds {
		share := float64(enough[kind]) / float64(all)
		t.Logf("%-20s %3.0f %% of %d students have at least %d", kind, 100*share, all, wanted)
		if share < 0.95 {
			t.Errorf("%s: %.0f %% of %d students have at least %d opportunities", kind, 100*share, all, wanted)
		}
	}
}

// input is a plan of the course for an invented class.
func input(t *testing.T, p course.Plan, students int, matrices map[string]*vehicle.Matrix) build.Input {
	t.Helper()
	plan, err := term.ParsePlan("plans/"+p.Name+".toml", p.Text)
	if err != nil {
		t.Fatal(err)
	}
	source, err := pack.Source(plan.Pack)
	if err != nil {
		t.Fatal(err)
	}
	if matrices[plan.Pack] == nil {
		parsed, err := pack.Parse(plan.Pack, source)
		if err != nil {
			t.Fatal(err)
		}
		if matrices[plan.Pack], err = vehicle.NewMatrix(parsed); err != nil {
			t.Fatal(err)
		}
	}
	var class []roster.Student
	for i := range students {
		class = append(class, roster.Student{ID: fmt.Sprint(1001 + i), Name: fmt.Sprintf("Example %d", i),
			Section: "A"})
	}
	return build.Input{Term: term.Term{ID: "course", Paper: "letter", Rubric: term.DefaultRubric()}, Plan: plan,
		Students: class,
		PackFile: plan.Pack, Pack: string(source), Matrix: matrices[plan.Pack]}
}
