package build

import (
	"bytes"
	"context"
	"strings"
	"testing"
)

func TestExtend(t *testing.T) {
	in := input(t, twoLamps(t), "spares = 2", 12)
	first, _ := build(t, in)
	before := encode(t, first)
	in.Previous = first
	in.Students = class(20)
	in.Plan.Spares = 5
	second, r := build(t, in)
	if !bytes.Equal(before, encode(t, first)) {
		t.Fatal("the previous lab was changed")
	}
	checkLab(t, second)
	if r.Kept != 14 || r.Added != 11 || len(second.Sheets) != 25 {
		t.Errorf("%d kept, %d added, %d sheets", r.Kept, r.Added, len(second.Sheets))
	}
	old, new := *first, *second
	new.Sheets = new.Sheets[:14]
	old.Seal, new.Seal = "", ""
	if !bytes.Equal(encode(t, &old), encode(t, &new)) {
		t.Error("something other than added sheets differs")
	}
	if r.Same != 0 {
		t.Errorf("%d pairs of neighbors begin alike", r.Same)
	}
	in.Previous = second
	third, r := build(t, in)
	if r.Added != 0 || !bytes.Equal(encode(t, third), encode(t, second)) {
		t.Error("a build with nothing to add changed the lab")
	}
}

// TestExtendUnderOtherFaults: the cases of a lab stay, but a plan for latecomers may hide less behind them; behind some
// then nothing.
func TestExtendUnderOtherFaults(t *testing.T) {
	in := input(t, twoLamps(t), "", 4)
	first, _ := build(t, in)
	in.Previous, in.Students = first, class(12)
	added := 0
	for _, fault := range first.Faults {
		again := in
		again.Plan.Faults = []string{fault.ID}
		l, r, err := Lab(context.Background(), again)
		if err != nil {
			if !strings.Contains(err.Error(), "none of the faults that may be hidden fits") {
				t.Errorf("%s: %v", fault.ID, err)
			}
			continue
		}
		added += r.Added
		for _, s := range l.Sheets[4:] {
			if hidden := l.Faults[l.Hypotheses[s.Truth].Fault].ID; hidden != fault.ID {
				t.Errorf("a latecomer has %s, want %s", hidden, fault.ID)
			}
		}
	}
	if added == 0 {
		t.Error("no fault alone could be added")
	}
}

// TestPartnersOfVehicles: with two vehicles a student nobody holds readings of his own.
func TestPartnersOfVehicles(t *testing.T) {
	l, _ := build(t, input(t, twoLamps(t), "vehicles = 2", 5))
	holder := map[string]string{} // sheet -> student
	for _, s := range l.Sheets {
		holder[s.Code] = s.Student
	}
	held := map[string]int{}
	for _, s := range l.Sheets {
		if s.Holder == "" || holder[s.Holder] == s.Student {
			t.Errorf("the readings of sheet %s, of student %s, are with %q", s.Code, s.Student, holder[s.Holder])
		}
		held[s.Holder]++
	}
	for code, n := range held {
		if n != 1 {
			t.Errorf("%d readings sheets are with sheet %s", n, code)
		}
	}
}

func TestExtendRefuses(t *testing.T) {
	in := input(t, twoLamps(t), "spares = 1", 4)
	first, _ := build(t, in)
	check := func(name string, change func(*Input), want string) {
		t.Run(name, func(t *testing.T) {
			again := in
			lab := *first
			again.Previous = &lab
			change(&again)
			_, _, err := Lab(context.Background(), again)
			if want == "" && err != nil || want != "" && (err == nil || !strings.Contains(err.Error(), want)) {
				t.Errorf("got %v, want %q", err, want)
			}
		})
	}
	check("nothing", func(*Input) {}, "")
	check("instruments", func(in *Input) { in.Plan.Instruments = []string{"voltmeter"} },
		"the set of allowed tests (instruments, conditions, unplug) differs")
	check("title", func(in *Input) { in.Plan.Title = "B" },
		`title differs from what lab "week05" was built with ("A lab"), and sheets may have been printed; put it back, or give the plan a new name for a new lab; as long as nothing was handed out, the lab's folder may be deleted instead`)
	check("rows", func(in *Input) { in.Plan.Rows = 9 }, "rows differs")
	check("window", func(in *Input) { in.Plan.Difficulty = [2]int64{10, 20} },
		"difficulty differs from what lab \"week05\" was built with (no difficulty)")
	check("proof", func(in *Input) { in.Plan.Proof = false },
		"proof differs from what lab \"week05\" was built with (true)")
	check("vehicles", func(in *Input) { in.Plan.Vehicles = 2 }, "vehicles differs")
	check("nothing found", func(in *Input) { in.Plan.Nothing = true }, "nothing_found differs")
	check("pack grown", func(in *Input) { in.Pack = strings.Replace(in.Pack, "version = 3", "version = 4", 1) }, "")
	check("pack broken", func(in *Input) { in.Pack = "" }, "")
	check("another pack", func(in *Input) { in.Pack = strings.Replace(in.Pack, "two-lamps", "three-lamps", 1) },
		`built with pack "two-lamps", not with "three-lamps"`)
	check("by hand", func(in *Input) { in.Previous.Title = "C"; in.Plan.Title = "C" }, "was changed since it was built")
	check("another term", func(in *Input) { in.Term.ID = "another-1" }, "built in another term")
	check("an older lab",
		func(in *Input) { in.Previous.Format = 2; in.Previous.Seal = in.Previous.SealUnder(in.Key[:]) }, "was built by an earlier version")
	check("another key", func(in *Input) { in.Key[3] = 1 }, "was built with another key than term.key is now")
}
