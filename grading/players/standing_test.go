package players_test

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"nospark/grading/players"
	"nospark/scenarios/lab"
	"nospark/scenarios/testrun"
)

// large is from how many different faults on a complaint is a large one.
const large = 20

// figures are what students of every skill reach in the labs of one complaint, over some terms.
type figures struct {
	l               builtinLab
	faults, repairs float64                   // different ones on 24 sheets, mean over the keys
	overlap         float64                   // sheets of two keys that can be matched fault by fault, as a share
	mark            map[players.Skill]float64 // mean
	apart           map[players.Skill]float64 // standard deviation over sheets
	pool            float64                   // mean mark of a list player who knows a leaked pool of eight
	expert          float64                   // least
	part            float64                   // least mean of the technician over a module, coil or sensor
}

// finished are the kinds of parts that put out what others need: modules, coils, sensors.
var finished = []string{"module", "driver", "driver-2", "coil", "twin-coil", "pencil-coil", "hall", "pickup",
	"controller", "controller-2", "controller-4", "controller-pickup"}

// ofPart names the module, coil or sensor that a sheet's fault is in; "" for faults elsewhere.
func (l builtinLab) ofPart(sheet int) string {
	id := l.lab.Faults[l.lab.Hypotheses[l.lab.Sheets[sheet].Truth].Fault].ID
	for _, f := range l.system.Faults {
		if f.ID == id && len(f.Set) == 1 {
			if part := l.system.Parts[f.Set[0].Part]; slices.Contains(finished, part.Kind.Name) {
				return part.ID
			}
		}
	}
	return ""
}

func measured(t *testing.T, labs []builtinLab, rounds int) figures {
	t.Helper()
	f := figures{l: labs[0], mark: map[players.Skill]float64{}, apart: map[players.Skill]float64{}, expert: 100}
	n := float64(len(labs))
	var hidden []map[int]int
	parts := map[string][]float64{}
	for k, l := range labs {
		sheets, repairs := map[int]int{}, map[int]bool{}
		for _, s := range l.lab.Sheets {
			fault := l.lab.Hypotheses[s.Truth].Fault
			sheets[fault]++
			repairs[l.lab.Faults[fault].Repair] = true
		}
		hidden = append(hidden, sheets)
		f.faults, f.repairs = f.faults+float64(len(sheets))/n, f.repairs+float64(len(repairs))/n
		class, err := players.New(l.lab)
		if err != nil {
			t.Fatal(err)
		}
		if err := class.UseChart(labs[(k+1)%len(labs)].lab); err != nil {
			t.Fatal(err)
		}
		for _, skill := range players.All() {
			marks, err := class.Measure(skill, rounds)
			if err != nil {
				t.Fatal(err)
			}
			mean, apart := meanAndDeviation(marks)
			if skill == players.Walker && f.large() {
				apart = between(t, class, rounds)
			}
			f.mark[skill], f.apart[skill] = f.mark[skill]+mean/n, f.apart[skill]+apart/n
			switch skill {
			case players.Expert:
				f.expert = min(f.expert, slices.Min(marks))
			case players.Technician:
				for i, m := range marks {
					parts[l.ofPart(i)] = append(parts[l.ofPart(i)], m)
				}
			}
		}
		class.UsePool(pool(l.lab, 8))
		marks, err := class.Measure(players.List, rounds)
		if err != nil {
			t.Fatal(err)
		}
		mean, _ := meanAndDeviation(marks)
		f.pool += mean / n
	}
	f.part = 100
	for part, marks := range parts {
		if mean, _ := meanAndDeviation(marks); part != "" {
			f.part = min(f.part, mean)
		}
	}
	pairs := 0.0
	for i := range hidden {
		for j := range i {
			pairs++
			for fault, sheets := range hidden[i] {
				f.overlap += float64(min(sheets, hidden[j][fault])) / float64(len(labs[i].lab.Sheets))
			}
		}
	}
	f.overlap /= max(pairs, 1)
	return f
}

// large tells whether the complaint has many faults.
func (f figures) large() bool { return f.l.report.Complaints[0].Faults >= large }

// between is the standard deviation of a walker's marks between sheets. Means of n walks vary by B + W/n, B between
// sheets and W from walk to walk; means of a few walks and of many tell both.
func between(t *testing.T, class *players.Class, few int) float64 {
	t.Helper()
	variance := func(n int) float64 {
		marks, err := class.Measure(players.Walker, n)
		if err != nil {
			t.Fatal(err)
		}
		_, deviation := meanAndDeviation(marks)
		return deviation * deviation
	}
	many := 5 * few
	return math.Sqrt(max(0, (float64(many)*variance(many)-float64(few)*variance(few))/float64(many-few)))
}

func meanAndDeviation(marks []float64) (mean, deviation float64) {
	for _, m := range marks {
		mean += m / float64(len(marks))
	}
	for _, m := range marks {
		deviation += (m - mean) * (m - mean) / float64(len(marks))
	}
	return mean, math.Sqrt(deviation)
}

// pool is what leaks of a lab: the first faults of its sheets, at most n of them.
func pool(l *lab.Lab, n int) []int {
	var faults []int
	for _, s := range l.Sheets {
		if f := l.Hypotheses[s.Truth].Fault; !slices.Contains(faults, f) && len(faults) < n {
			faults = append(faults, f)
		}
	}
	return faults
}

// TestFigures plays every complaint of every built-in pack with simulated students of all skills, 24 sheets a lab, and
// prints the table. NOSPARK_KEYS=8 does so in eight terms with keys of their own.
func TestFigures(t *testing.T) {
	keys, rounds := 2, testrun.Times(t, 4, 1)
	if text := os.Getenv("NOSPARK_KEYS"); text != "" {
		var err error
		if keys, err = strconv.Atoi(text); err != nil || keys < 1 || keys > 255 {
			t.Fatalf("NOSPARK_KEYS = %q, want a number from 1 to 255", text)
		}
	}
	terms := make([][]builtinLab, keys)
	for k := range terms {
		terms[k] = labsOf(t, byte(k+1))
	}
	var table strings.Builder
	for i := range terms[0] {
		var labs []builtinLab
		for k := range terms {
			labs = append(labs, terms[k][i])
		}
		f := measured(t, labs, rounds)
		fmt.Fprintf(&table, "%s\n", f.row())
		f.check(t)
	}
	t.Logf("%d terms, %d rounds\n%s\n%s", keys, rounds, header, table.String())
}

const header = "pack          complaint          n  hid rep over  exp care  sd walk  sd tech part list pool told chart " +
	"parts guess"

func (f figures) row() string {
	m := f.mark
	return fmt.Sprintf("%-13s %-17s %2d %4.1f %3.1f %4.2f %5.1f %4.1f %3.1f %4.1f %3.1f %4.1f %4.1f %4.1f %4.1f "+
		"%5.1f %5.1f %5.1f %5.1f", f.l.pack, f.l.complaint,
		f.l.report.Complaints[0].Faults, f.faults, f.repairs, f.overlap, f.expert, m[players.Careful],
		f.apart[players.Careful], m[players.Walker],
		f.apart[players.Walker], m[players.Technician], f.part, m[players.List], f.pool, m[players.Told], m[players.Chart], m[players.PartsChanger], m[players.Guesser])
}

// check holds the figures against what a lab shall reach. Complaints with few faults cannot vary much; there only the
// order counts.
//
// One limit is wider than what we want and as narrow as what holds: what tells the sheets of a walker apart at 4
// (coil-per-plug no-start 4.6, where a burnt driver has blown the fuse and only a lamp can load the ground).
func (f figures) check(t *testing.T) {
	t.Helper()
	want := func(ok bool, what string, got float64) {
		t.Helper()
		if !ok {
			t.Errorf("%s: %s: %.2f", f.l.name(), what, got)
		}
	}
	m := f.mark
	want(f.expert > 100-1e-9, "best play earns less than 100", f.expert)
	if !f.large() {
		return
	}
	want(f.faults >= 11, "different faults on 24 sheets", f.faults)
	want(f.repairs >= 7, "different repairs on 24 sheets", f.repairs)
	want(f.overlap <= 0.65, "overlap of two terms", f.overlap)
	want(f.l.report.Complaints[0].Reach >= 0.8, "share of the faults that can be hidden",
		f.l.report.Complaints[0].Reach)
	want(m[players.Careful] >= 92, "careful", m[players.Careful])
	want(f.apart[players.Walker] <= 4.7 || !testrun.Whole(), "walker, deviation between sheets", f.apart[players.Walker])
	want(m[players.List] <= 90 && m[players.List] <= m[players.Walker]+5, "knowing the list", m[players.List])
	want(m[players.List] < m[players.Careful]-5, "knowing the list against reasoning",
		m[players.List]-m[players.Careful])
	want(f.pool <= 70, "knowing a leaked pool of eight", f.pool)
	want(m[players.Told] <= 76, "told by a neighbor", m[players.Told])
	want(m[players.Chart] <= 95, "following another term's chart", m[players.Chart])
	want(m[players.PartsChanger] <= 30, "changing parts", m[players.PartsChanger])
	want(m[players.Guesser] <= 20, "guessing", m[players.Guesser])
	want(m[players.Technician] >= 90, "technician", m[players.Technician])
	want(f.part >= 85, "technician at a module, coil or sensor", f.part)
}
