package build

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"

	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/term"
	"nospark/scenarios/vehicle"
)

// checkLab tests what must hold for every lab: each sheet's bands are those of its truth, its complaint is that of its
// truth, and its codes, lines and letters are well formed.
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
				t.Errorf("sheet %s, test %s: band %d, its truth has %d", s.Code, l.Tests[i].ID, line.Band,
					truth.Band(i))
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

// checkNeighbors wants the sheets of students of one section to begin otherwise than the one before, as far as there
// are cases.
func checkNeighbors(t *testing.T, l *lab.Lab) {
	t.Helper()
	for i := 1; i < len(l.Sheets); i++ {
		a, b := l.Sheets[i-1], l.Sheets[i]
		if a.Student == "" || b.Student == "" || a.Section != b.Section || len(l.Cases) < 4 {
			continue
		}
		if a.Case == b.Case {
			t.Errorf("%s and %s have sheets that begin alike", a.Student, b.Student)
		}
	}
}

func TestBuildLamp(t *testing.T) {
	l, r := build(t, input(t, builtin(t, "lamp"), "proof = false\nspares = 2", 6))
	checkLab(t, l)
	checkNeighbors(t, l)
	if len(l.Sheets) != 8 || r.Added != 8 || r.Kept != 0 {
		t.Errorf("%d sheets, %d added, %d kept", len(l.Sheets), r.Added, r.Kept)
	}
	// By hand, from the pack: best play starts at the switch. A burnt or open switch is proven by it (2 minutes);
	// otherwise the ground's 2 minutes tell lamp and ground apart. The weights are the roots of the pack's 4, 1, 3 and
	// 2, in thousandths: expected are 2 + 2 x (2000 + 1000) / (2000 + 1000 + 1732 + 1414) minutes.
	if want := 20 + 20*3000.0/6146; len(r.Complaints) != 1 || math.Abs(r.Complaints[0].Reference-want) > 1e-9 {
		t.Errorf("reference %+v, want %v tenths", r.Complaints, want)
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
	for _, want := range []lab.Repair{{ID: "clean-ground", Rarity: "rare"}, {ID: "replace-lamp", Rarity: "occasional"},
		{ID: "replace-switch", Rarity: "common"}} {
		// Shares .1, .4, .5 by the weights of the pack, an even share is a third.
		if !slices.ContainsFunc(l.Repairs, func(r lab.Repair) bool {
			return r.ID == want.ID &&
				r.Rarity == want.Rarity
		}) {
			t.Errorf("repairs %+v, want %s to be %s", l.Repairs, want.ID, want.Rarity)
		}
	}
}

func TestBuildTwoLamps(t *testing.T) {
	l, r := build(t, input(t, twoLamps(t), "nothing_found = true\nspares = 3", 40))
	checkLab(t, l)
	checkNeighbors(t, l)
	if r.Draws < 43 || r.Same != 0 {
		t.Errorf("%d draws, %d pairs of neighbors begin alike", r.Draws, r.Same)
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

// A state is usable when its V lies between these shares of that of the empty-handed start.
const leastV, mostV = 0.5, 1.1

func TestBuildSingleCoil(t *testing.T) {
	l, r := build(t, input(t, builtin(t, "single-coil"), "spares = 4", 24))
	checkLab(t, l)
	checkNeighbors(t, l)
	if c := r.Complaints[0]; r.Low < leastV*c.Reference || r.High > mostV*c.Reference {
		t.Errorf("V from %.0f to %.0f, from the complaint alone %.0f", r.Low, r.High, c.Reference)
	}
}

// TestSeveralComplaints mixes two complaints in one lab. The vehicle with nothing wrong is a suspect of both and
// borrows either.
func TestSeveralComplaints(t *testing.T) {
	in := input(t, builtin(t, "single-coil"), "complaints = [\"no-start\", \"rough\"]\nnothing_found = true\nexclude "+
		"= [\"fuse-blown\"]\n", 30)
	l, r := build(t, in)
	checkLab(t, l)
	checkNeighbors(t, l)
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
		w, err := l.World(c, nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		if set := w.Suspects; !set.Has(slices.IndexFunc(l.Hypotheses,
			func(h lab.Hypothesis) bool { return h.Complaint < 0 })) {
			t.Errorf("nothing wrong is no suspect of %s", l.Complaints[c].ID)
		}
	}
}

// TestAllowedTests leaves instruments, conditions and unplugging out and wants the lab without those tests, and the
// compared reading of the same sheet beside each feed.
func TestAllowedTests(t *testing.T) {
	in := input(t, builtin(t, "single-coil"), "complaint = \"no-start\"\ninstruments = [\"voltmeter\", \"min-hold\", "+
		"\"ohmmeter\"]\n"+
		"conditions = [\"on\", \"crank\"]\nunplug = false\nforbid = [\"min-hold\"]\n", 6)
	l, _ := build(t, in)
	checkLab(t, l)
	beside := 0
	for i, test := range l.Tests {
		if test.Instrument != "voltmeter" && test.Instrument != "min-hold" || len(test.Unplugged) > 0 ||
			test.Condition == "idle" {
			t.Errorf("test %s is in the lab", test.ID)
		}
		for _, s := range l.Sheets {
			if (test.Compare >= 0) != (s.Lines[i].Beside != "") {
				t.Errorf("test %s is compared with %d and prints %q beside", test.ID, test.Compare, s.Lines[i].Beside)
			}
			if test.Compare >= 0 && !strings.HasSuffix(s.Lines[i].Beside, " "+s.Lines[test.Compare].Reading) {
				t.Errorf("test %s prints %q beside, line of the compared test %q", test.ID, s.Lines[i].Beside,
					s.Lines[test.Compare].Reading)
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

// TestForbiddenInstrument wants best play to do without a forbidden instrument: on the lamp that leaves the ohmmeter,
// whose one test takes 5 minutes whatever it shows.
func TestForbiddenInstrument(t *testing.T) {
	l, r := build(t, input(t, builtin(t, "lamp"), "proof = false\nforbid = [\"voltmeter\"]\n", 4))
	checkLab(t, l)
	if len(l.Tests) != 4 || r.Complaints[0].Reference != 50 || r.Low != 50 || r.High != 50 {
		t.Errorf("%d tests, reference %v, difficulty %.0f to %.0f, want 4 tests and 50 tenths", len(l.Tests),
			r.Complaints[0].Reference, r.Low, r.High)
	}
}

// TestSeats puts the class on a grid of five columns and wants all eight neighbors of everybody to differ.
func TestSeats(t *testing.T) {
	in := input(t, twoLamps(t), "", 25)
	in.Seating = term.Seating{}
	for i, s := range in.Students {
		in.Seating[s.ID] = term.Seat{Row: i / 5, Column: i % 5}
	}
	in.Seating["nobody"] = term.Seat{Row: 9, Column: 9}
	l, r := build(t, in)
	checkLab(t, l)
	if len(l.Cases) < 9 {
		t.Logf("%d cases for eight neighbors", len(l.Cases))
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
	noted(`has no seat for students, whose neighbors are therefore not known: "s03"`)
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

func TestDifficulty(t *testing.T) {
	in := input(t, builtin(t, "single-coil"), "complaint = \"no-start\"\ndifficulty = [3, 4]", 20)
	l, r := build(t, in)
	checkLab(t, l)
	for _, s := range l.Sheets {
		if v := l.Cases[s.Case].Reference; v < 30 || v > 40 {
			t.Errorf("sheet %s takes %.1f tenths, asked for 30 to 40", s.Code, v)
		}
	}
	if r.Low < 30 || r.High > 40 || l.Window != [2]int64{30, 40} {
		t.Errorf("report %f to %f, window %v", r.Low, r.High, l.Window)
	}
}

func TestBuildRefuses(t *testing.T) {
	check := func(name, source, plan string, students int, want ...string) {
		t.Run(name, func(t *testing.T) {
			in := Input{Term: testTerm(), Plan: planOf(t, plan), Students: class(students), PackFile: "pack.toml",
				Pack: source, Key: term.Key{1}}
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
	check("ids", lamps, "complaint = \"lamp\"\nconditions = [\"onn\"]\nexclude = [\"fuse-blow\"]\nlarge_print = "+
		"[\"s9\"]\nsections = [\"B\"]\n", 3,
		`week05.toml:4: complaint names "lamp", which is no complaint of pack "two-lamps"; did you mean "lamps"?`,
		`week05.toml:5: conditions names "onn", which is no condition of pack "two-lamps"; did you mean "on"?`,
		`week05.toml:6: exclude names "fuse-blow", which is no fault of pack "two-lamps"; did you mean "fuse-blown"?`,
		`week05.toml:7: large_print names "s9"`, `week05.toml:8: sections names "B", which the roster does not have; it has "A"`)
	check("absent instrument", lamps, "instruments = [\"timing-light\"]\n", 3, `instruments names "timing-light"`,
		`it has "voltmeter", "ohmmeter"`)
	check("many complaints", builtin(t, "single-coil"), "complaint = \"misfire\"\n", 3, `complaint names "misfire", `+
		`which is no complaint of pack "single-coil"; it has "no-crank", "slow-crank", `, `"wet"`)
	check("many faults", builtin(t, "single-coil"), "faults = [\"bananas-in-the-tailpipe\"]\n", 3,
		"; nospark pack show x lists them")
	check("nobody", lamps, "", 0, "nobody gets a sheet")
	check("difficulty", lamps, "difficulty = [90, 91]\n", 3, "no case is as difficult as asked for; best play takes")
	check("no nothing", builtin(t, "lamp"), "nothing_found = true\n", 3, `pack "lamp" has no [nothing_found] table`)
	check("nothing to test", lamps, "instruments = [\"ohmmeter\"]\nfaults = [\"switch-burnt\"]\nunplug = false\n", 3,
		"leave no test")
	check("no test left", lamps, "unplug = false\nconditions = [\"off\"]\n", 3, "leave no test")
}

func TestNothingNeedsTesting(t *testing.T) {
	source := twoLamps(t)
	// With every fault needing one repair there is nothing to find out.
	for _, r := range []string{"switch", "left-wire", "right-wire", "left-lamp", "right-lamp", "left-ground",
		"right-ground"} {
		source = strings.ReplaceAll(source, "\nrepair = \""+r+"\"", "\nrepair = \"fuse\"")
	}
	in := input(t, source, "proof = false\n", 3)
	_, _, err := Lab(context.Background(), in)
	if err == nil || !strings.Contains(err.Error(), "nothing needs testing") {
		t.Errorf("got %v", err)
	}
}

func TestNamedFaults(t *testing.T) {
	l, _ := build(t, input(t, twoLamps(t), "faults = [\"fuse-blown\", \"left-out\", \"switch-burnt\"]", 9))
	checkLab(t, l)
	checkNeighbors(t, l)
	for _, s := range l.Sheets {
		if id := l.Faults[l.Hypotheses[s.Truth].Fault].ID; id != "fuse-blown" && id != "left-out" &&
			id != "switch-burnt" {
			t.Errorf("fault %s is hidden", id)
		}
	}
	if len(l.Hypotheses) < 9 {
		t.Errorf("only %d hypotheses: naming faults must not narrow the suspects", len(l.Hypotheses))
	}
}

func TestNothingFoundBorrowsComplaint(t *testing.T) {
	l, _ := build(t, input(t, twoLamps(t), "nothing_found = true\nfaults = [\"nothing-wrong\", \"fuse-blown\"]", 40))
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
	if n == 0 {
		t.Error("no sheet with nothing wrong")
	}
}

// TestTightBands makes a pack whose tolerance often carries a reading out of its band, and wants that to be counted,
// not printed.
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
	if !slices.ContainsFunc(r.Refusals, func(x Refusal) bool {
		return x.Test == "volts.bat_pos.on" &&
			x.Band == "low"
	}) {
		t.Errorf("refusals %+v name no low battery", r.Refusals)
	}
}

func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, _, err := Lab(ctx, input(t, twoLamps(t), "", 5)); err == nil {
		t.Error("a canceled build made a lab")
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
