package build

import (
	"bytes"
	"context"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"testing"

	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/term"
	"nospark/scenarios/vehicle"
)

// checkLab tests what must hold for every lab: each sheet's bands are those of its truth, its complaint is that of its truth, and its
// codes, lines and letters are well formed.
func checkLab(t *testing.T, l *lab.Lab) {
	t.Helper()
	if _, err := lab.Decode("lab.json", encode(t, l)); err != nil {
		t.Fatal(err)
	}
	codes := map[string]bool{}
	for _, s := range l.Sheets {
		truth := l.Hypotheses[s.Truth]
		if truth.Complaint >= 0 && truth.Complaint != s.Complaint {
			t.Errorf("sheet %s has complaint %d, its truth %d", s.Code, s.Complaint, truth.Complaint)
		}
		if codes[s.Code] {
			t.Errorf("code %s twice", s.Code)
		}
		codes[s.Code] = true
		numbers := map[int]bool{}
		for i, line := range s.Lines {
			if line.Band != truth.Band(i) {
				t.Errorf("sheet %s, test %s: band %d, its truth has %d", s.Code, l.Tests[i].ID, line.Band, truth.Band(i))
			}
			if line.Number < 100 || line.Number > 999 || numbers[line.Number] {
				t.Errorf("sheet %s: line number %d", s.Code, line.Number)
			}
			numbers[line.Number] = true
			if len(line.Letters) != 2 || line.Reading == "" {
				t.Errorf("sheet %s, line %d: letters %q, reading %q", s.Code, line.Number, line.Letters, line.Reading)
			}
		}
	}
}

// checkNeighbours wants the students of one section to differ from the one before.
func checkNeighbours(t *testing.T, l *lab.Lab) {
	t.Helper()
	for i := 1; i < len(l.Sheets); i++ {
		a, b := l.Sheets[i-1], l.Sheets[i]
		if a.Student == "" || b.Student == "" || a.Section != b.Section {
			continue
		}
		if l.Hypotheses[a.Truth].Fault == l.Hypotheses[b.Truth].Fault {
			t.Errorf("%s and %s have the same fault", a.Student, b.Student)
		}
	}
}

func TestBuildLamp(t *testing.T) {
	l, r := build(t, input(t, builtin(t, "lamp"), "spares = 2", 6))
	checkLab(t, l)
	checkNeighbours(t, l)
	if len(l.Sheets) != 8 || r.Added != 8 || r.Kept != 0 {
		t.Errorf("%d sheets, %d added, %d kept", len(l.Sheets), r.Added, r.Kept)
	}
	// By hand, from the pack: best play starts at the switch. A burnt or open switch is proven by it (2 minutes); otherwise the ground's
	// 2 minutes tell lamp and ground apart. Expected: 2 + 2 x (4+1)/10 = 3.0 minutes.
	if len(r.Complaints) != 1 || r.Complaints[0].Reference != 30 {
		t.Errorf("reference %+v, want 30 tenths", r.Complaints)
	}
	for _, s := range l.Sheets {
		want := int64(40)
		if strings.HasPrefix(l.Faults[l.Hypotheses[s.Truth].Fault].ID, "switch") {
			want = 20
		}
		if s.Minutes != want {
			t.Errorf("difficulty of %s is %d, want %d", l.Faults[l.Hypotheses[s.Truth].Fault].ID, s.Minutes, want)
		}
	}
	if r.Fair || !slices.ContainsFunc(r.Notes, func(n string) bool { return strings.HasPrefix(n, "not equally hard: best play takes 2.0 minutes") }) {
		t.Errorf("sheets of 2 and 4 minutes pass for fair: %q", r.Notes)
	}
	for _, want := range []lab.Repair{{ID: "clean-ground", Rarity: "rare"}, {ID: "replace-lamp", Rarity: "occasional"}, {ID: "replace-switch", Rarity: "common"}} {
		// Shares .1, .4, .5 by the weights of the pack, an even share is a third.
		if !slices.ContainsFunc(l.Repairs, func(r lab.Repair) bool { return r.ID == want.ID && r.Rarity == want.Rarity }) {
			t.Errorf("repairs %+v, want %s to be %s", l.Repairs, want.ID, want.Rarity)
		}
	}
}

func TestBuildTwoLamps(t *testing.T) {
	l, r := build(t, input(t, twoLamps(t), "nothing_found = true\nspares = 3", 40))
	checkLab(t, l)
	checkNeighbours(t, l)
	least, most := 100, 0
	for _, f := range r.Faults {
		least, most = min(least, f.Sheets), max(most, f.Sheets)
	}
	if most-least > 1 || len(r.Faults) < leastFaults {
		t.Errorf("sheets per fault %+v, want at least %d faults and even counts", r.Faults, leastFaults)
	}
	if r.Draws < 43 || r.Clashes != 0 {
		t.Errorf("%d draws, %d clashes", r.Draws, r.Clashes)
	}
	// Somebody in forty has another battery: tolerances and meter errors reach the readings.
	seen := map[string]bool{}
	for _, s := range l.Sheets {
		seen[s.Lines[0].Reading] = true
	}
	if len(seen) < 5 {
		t.Errorf("only %d different battery readings on %d sheets", len(seen), len(l.Sheets))
	}
}

func TestBuildSingleCoil(t *testing.T) {
	l, r := build(t, input(t, builtin(t, "single-coil"), "spares = 4", 24))
	checkLab(t, l)
	checkNeighbours(t, l)
	if !r.Fair {
		t.Errorf("spread %d to %d", r.Low, r.High)
	}
}

// TestSeveralComplaints mixes two complaints in one lab. The vehicle with nothing wrong is a suspect of both and borrows either.
func TestSeveralComplaints(t *testing.T) {
	in := input(t, builtin(t, "single-coil"), "complaints = [\"no-start\", \"rough\"]\nnothing_found = true\nexclude = [\"fuse-blown\"]\n", 30)
	l, r := build(t, in)
	checkLab(t, l)
	checkNeighbours(t, l)
	seen := map[string]int{}
	for _, s := range l.Sheets {
		seen[l.Complaints[s.Complaint].ID]++
		if id := l.Faults[l.Hypotheses[s.Truth].Fault].ID; id == "fuse-blown" {
			t.Error("an excluded fault is hidden")
		}
	}
	if len(r.Complaints) != 2 || seen["no-start"]+seen["rough"] != 30 {
		t.Errorf("complaints %+v, sheets %v", r.Complaints, seen)
	}
	for _, c := range []int{2, 3} { // their places in the pack
		if set := l.Suspects(c); !set.Has(slices.IndexFunc(l.Hypotheses, func(h lab.Hypothesis) bool { return h.Complaint < 0 })) {
			t.Errorf("nothing wrong is no suspect of %s", l.Complaints[c].ID)
		}
	}
}

// TestAllowedTests leaves instruments, conditions and unplugging out and wants the lab without those tests, and the compared reading of
// the same sheet beside each feed.
func TestAllowedTests(t *testing.T) {
	in := input(t, builtin(t, "single-coil"), "complaint = \"no-start\"\ninstruments = [\"voltmeter\", \"min-hold\", \"ohmmeter\"]\n"+
		"conditions = [\"on\", \"crank\"]\nunplug = false\nforbid = [\"min-hold\"]\n", 6)
	l, _ := build(t, in)
	checkLab(t, l)
	beside := 0
	for i, test := range l.Tests {
		if test.Instrument != "voltmeter" && test.Instrument != "min-hold" || len(test.Unplugged) > 0 || test.Condition == "idle" {
			t.Errorf("test %s is in the lab", test.ID)
		}
		for _, s := range l.Sheets {
			if (test.Compare >= 0) != (s.Lines[i].Beside != "") {
				t.Errorf("test %s is compared with %d and prints %q beside", test.ID, test.Compare, s.Lines[i].Beside)
			}
			if test.Compare >= 0 && !strings.HasSuffix(s.Lines[i].Beside, " "+s.Lines[test.Compare].Reading) {
				t.Errorf("test %s prints %q beside, line of the compared test %q", test.ID, s.Lines[i].Beside, s.Lines[test.Compare].Reading)
			}
		}
		if test.Compare >= 0 {
			beside++
		}
	}
	if beside == 0 || !slices.Equal(l.Technique.Forbid, []string{"min-hold"}) {
		t.Errorf("%d tests are compared, forbidden are %v", beside, l.Technique.Forbid)
	}
}

// TestForbiddenInstrument wants best play to do without a forbidden instrument: on the lamp that leaves the ohmmeter, whose one test takes
// 5 minutes whatever it shows.
func TestForbiddenInstrument(t *testing.T) {
	l, r := build(t, input(t, builtin(t, "lamp"), "forbid = [\"voltmeter\"]\n", 4))
	checkLab(t, l)
	if len(l.Tests) != 4 || r.Complaints[0].Reference != 50 || r.Low != 50 || r.High != 50 {
		t.Errorf("%d tests, reference %v, difficulty %d to %d, want 4 tests and 50 tenths", len(l.Tests), r.Complaints[0].Reference, r.Low, r.High)
	}
}

// TestSeats puts the class on a grid of five columns and wants all eight neighbours of everybody to differ.
func TestSeats(t *testing.T) {
	in := input(t, twoLamps(t), "", 25)
	in.Seating = term.Seating{}
	for i, s := range in.Students {
		in.Seating[s.ID] = term.Seat{Row: i / 5, Column: i % 5}
	}
	in.Seating["nobody"] = term.Seat{Row: 9, Column: 9}
	l, r := build(t, in)
	checkLab(t, l)
	fault := func(i int) int { return l.Hypotheses[l.Sheets[i].Truth].Fault }
	for i := range 25 {
		for j := range i {
			a, b := in.Seating[l.Sheets[i].Student], in.Seating[l.Sheets[j].Student]
			near := max(a.Row-b.Row, b.Row-a.Row, a.Column-b.Column, b.Column-a.Column) == 1
			if near && fault(i) == fault(j) {
				t.Errorf("%s and %s sit side by side with the same fault", l.Sheets[i].Student, l.Sheets[j].Student)
			}
		}
	}
	noted := func(what string) {
		t.Helper()
		if !slices.ContainsFunc(r.Notes, func(n string) bool { return strings.Contains(n, what) }) {
			t.Errorf("notes %q do not tell that the seating plan %s", r.Notes, what)
		}
	}
	noted(`seats students who have no sheet in this lab: "nobody"`)
	delete(in.Seating, "s03")
	in.Seating["s07"] = in.Seating["s05"]
	_, r = build(t, in)
	noted(`has no seat for students, whose neighbours are therefore not known: "s03"`)
	noted(`puts students on a seat that another one of the section has: "s07"`)
}

func TestBuildIsDeterministic(t *testing.T) {
	in := input(t, twoLamps(t), "nothing_found = true\nspares = 5", 60)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	var first []byte
	for _, cores := range []int{1, 2, 7} {
		runtime.GOMAXPROCS(cores)
		l, _ := build(t, in)
		data := encode(t, l)
		if first == nil {
			first = data
		} else if !bytes.Equal(first, data) {
			t.Errorf("another lab on %d cores", cores)
		}
	}
	in.Key[0]++
	l, _ := build(t, in)
	if bytes.Equal(first, encode(t, l)) {
		t.Error("the same lab under another key")
	}
}

func TestWindow(t *testing.T) {
	in := input(t, twoLamps(t), "difficulty = [3, 6]", 20)
	l, r := build(t, in)
	checkLab(t, l)
	for _, s := range l.Sheets {
		if s.Minutes < 30 || s.Minutes > 60 {
			t.Errorf("sheet %s takes %d tenths, asked for 30 to 60", s.Code, s.Minutes)
		}
	}
	if r.Low < 30 || r.High > 60 || l.Window != [2]int64{30, 60} {
		t.Errorf("report %d to %d, window %v", r.Low, r.High, l.Window)
	}
}

func TestBuildRefuses(t *testing.T) {
	check := func(name, source, plan string, students int, want ...string) {
		t.Run(name, func(t *testing.T) {
			in := Input{Term: testTerm(), Plan: planOf(t, plan), Students: class(students), PackFile: "pack.toml", Pack: source, Key: term.Key{1}}
			l, _, err := Lab(context.Background(), in)
			if err == nil || l != nil {
				t.Fatalf("built %v, error %v", l != nil, err)
			}
			for _, w := range want {
				if !strings.Contains(err.Error(), w) {
					t.Errorf("got\n%v\nwant %q in it", err, w)
				}
			}
		})
	}
	lamps := twoLamps(t)
	check("pack", "name = 1", "", 3, "pack.toml:1:")
	check("ids", lamps, "complaint = \"lamp\"\nconditions = [\"onn\"]\nexclude = [\"fuse-blow\"]\nlarge_print = [\"s9\"]\nsections = [\"B\"]\n", 3,
		`week05.toml:4: complaint names "lamp", which is no complaint of pack "two-lamps"; did you mean "lamps"?`,
		`week05.toml:5: conditions names "onn", which is no condition of pack "two-lamps"; did you mean "on"?`,
		`week05.toml:6: exclude names "fuse-blow", which is no fault of pack "two-lamps"; did you mean "fuse-blown"?`,
		`week05.toml:7: large_print names "s9"`, `week05.toml:8: sections names "B", which the roster does not have; it has "A"`)
	check("absent instrument", lamps, "instruments = [\"timing-light\"]\n", 3, `instruments names "timing-light"`, `it has "voltmeter", "ohmmeter"`)
	check("nobody", lamps, "", 0, "nobody gets a sheet")
	check("window", lamps, "difficulty = [90, 91]\n", 3, "week05.toml:4: difficulty = [90.0, 91.0] holds no fault: best play takes 2.0 to 7.0 minutes; write for example difficulty = [3.0, 3.0] (3 faults)")
	check("named outside", lamps, "difficulty = [1, 4.5]\nfaults = [\"fuse-blown\", \"nothing-wrong\"]\nnothing_found = true\n", 3,
		"week05.toml:5: fault \"nothing-wrong\" takes best play", "minutes, which is outside difficulty = [1.0, 4.5]")
	check("no nothing", builtin(t, "lamp"), "nothing_found = true\n", 3, `pack "lamp" has no [nothing_found] table`)
	check("nothing to test", lamps, "instruments = [\"ohmmeter\"]\nfaults = [\"switch-burnt\"]\nunplug = false\n", 3, "leave no test")
	check("no test left", lamps, "unplug = false\nconditions = [\"off\"]\n", 3, "leave no test")
}

func TestNothingNeedsTesting(t *testing.T) {
	source := twoLamps(t)
	// With every fault needing one repair there is nothing to find out.
	for _, r := range []string{"switch", "left-wire", "right-wire", "left-lamp", "right-lamp", "left-ground", "right-ground"} {
		source = strings.ReplaceAll(source, "\nrepair = \""+r+"\"", "\nrepair = \"fuse\"")
	}
	in := input(t, source, "", 3)
	_, _, err := Lab(context.Background(), in)
	if err == nil || !strings.Contains(err.Error(), "nothing needs testing") {
		t.Errorf("got %v", err)
	}
}

func TestNamedFaults(t *testing.T) {
	l, _ := build(t, input(t, twoLamps(t), "faults = [\"fuse-blown\", \"left-out\", \"switch-burnt\"]", 9))
	checkLab(t, l)
	checkNeighbours(t, l)
	for _, s := range l.Sheets {
		if id := l.Faults[l.Hypotheses[s.Truth].Fault].ID; id != "fuse-blown" && id != "left-out" && id != "switch-burnt" {
			t.Errorf("fault %s is hidden", id)
		}
	}
	if len(l.Hypotheses) < 9 {
		t.Errorf("only %d hypotheses: naming faults must not narrow the suspects", len(l.Hypotheses))
	}
}

func TestNothingFoundBorrowsComplaint(t *testing.T) {
	l, _ := build(t, input(t, twoLamps(t), "nothing_found = true\nfaults = [\"nothing-wrong\", \"fuse-blown\"]", 8))
	checkLab(t, l)
	n := 0
	for _, s := range l.Sheets {
		if h := l.Hypotheses[s.Truth]; l.Faults[h.Fault].ID == lab.NothingWrong {
			n++
			if h.Complaint != -1 || l.Complaints[s.Complaint].ID != "lamps" {
				t.Errorf("sheet %s: hypothesis has complaint %d, sheet %d", s.Code, h.Complaint, s.Complaint)
			}
		}
	}
	if n != 4 {
		t.Errorf("%d of 8 sheets with nothing wrong, want half", n)
	}
}

// TestTightBands makes a pack whose tolerance often carries a reading out of its band, and wants that to be counted, not printed.
func TestTightBands(t *testing.T) {
	source := strings.Replace(twoLamps(t), "below = 12.0", "below = 12.54", 1)
	l, r := build(t, input(t, source, "", 20))
	checkLab(t, l)
	refused := 0
	for _, x := range r.Refusals {
		refused += x.Times
	}
	if refused == 0 || r.Draws != refused+r.Added {
		t.Errorf("%d draws, %d refused for %d sheets", r.Draws, refused, r.Added)
	}
	tight := 0
	for _, f := range r.Faults {
		tight += f.Tight
	}
	if tight == 0 || tight > refused {
		t.Errorf("%d refused for their bands, %d in all", tight, refused)
	}
	if !slices.ContainsFunc(r.Refusals, func(x Refusal) bool { return x.Test == "volts.bat_pos.on" && x.Band == "low" }) {
		t.Errorf("refusals %+v name no low battery", r.Refusals)
	}
}

func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, _, err := Lab(ctx, input(t, twoLamps(t), "", 5)); err == nil {
		t.Error("a cancelled build made a lab")
	}
}

func TestProgress(t *testing.T) {
	in := input(t, twoLamps(t), "", 30)
	var got []string
	in.Progress = func(done, total int) { got = append(got, fmt.Sprint(done, "/", total)) }
	build(t, in)
	if len(got) != 30 || got[29] != "30/30" {
		t.Errorf("progress %v", got)
	}
}

// BenchmarkBuild draws the sheets of a large course.
func BenchmarkBuild(b *testing.B) {
	for _, name := range []string{"lamp", "single-coil"} {
		in := input(b, builtin(b, name), "", 2000)
		p, err := pack.Parse("pack", []byte(in.Pack))
		if err != nil {
			b.Fatal(err)
		}
		if in.Matrix, err = vehicle.NewMatrix(p); err != nil {
			b.Fatal(err)
		}
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, _, err := Lab(context.Background(), in); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(2000*float64(b.N)/b.Elapsed().Seconds(), "sheets/s")
		})
	}
}
