// Package course plans the labs of a term as a whole: which pack, complaints and instruments come in which week, such
// that every kind of test gets enough opportunities, and what can be expected of plans that somebody else has written.
//
// Start at Blueprint, which writes plans, and at Expect, which deals them out to students who do not exist. It builds
// no lab and chooses no fault: what a case hides is drawn by its weights, whatever the course wants.
package course

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// Options say what a course is planned for.
type Options struct {
	Weeks    int       // Least to Most
	Minutes  int       // of a period
	First    time.Time // day of the first lab; the others follow a week apart
	Sections []string  // each gets plans of its own; nil: one plan a week for all
}

// Bounds of a course. Fewer weeks have no room for the steps, and no term has more.
const (
	Least = 6
	Most  = 40
)

// twoVehicles is the least period, in minutes, in which students have time for two vehicles. Practice of this project,
// no source: best play takes 5 to 14 minutes a vehicle, students about twice that, and the class has to begin and end.
const twoVehicles = 80

// Plan is a plan of one week.
type Plan struct {
	Name string // week07, or week07-A
	Text string
}

// kindOfLab is a kind of lab on one system.
type kindOfLab struct {
	pack, title string
	complaints  []string
	kinds       []string // of test that it is asked for
	empty       bool     // begins empty-handed: there its rows need more kinds of test
}

// The two lists of which most of a course is made: between them they need every kind of test. They go through the
// systems, so that no two labs in a row are of one.
func starting() []kindOfLab {
	var list []kindOfLab
	for _, pack := range []string{"single-coil", "reluctor", "double-ended", "coil-per-plug"} {
		list = append(list, kindOfLab{pack: pack, title: "Slow, or dull", complaints: []string{"slow-crank",
			"runs-badly"},
			kinds: []string{"source-voltage", "timing-inputs"}})
	}
	return list
}

func sparking() []kindOfLab {
	kinds := []string{"signal-checks", "component-test", "secondary-and-spark"}
	lab := func(pack, title string, complaints ...string) kindOfLab {
		return kindOfLab{pack, title, complaints, kinds, true}
	}
	return []kindOfLab{
		lab("coil-per-plug", "Does not start, or runs rough", "no-start", "rough"),
		lab("double-ended", "Does not start, or stumbles", "no-start", "load-miss"),
		lab("reluctor", "Does not start, or stumbles", "no-start", "load-miss"),
		lab("coil-per-plug", "Does not start, or runs rough", "no-start", "rough"),
		lab("coil-per-plug", "Stumbles, or runs rough", "load-miss", "rough"),
		lab("reluctor", "Stumbles, or does not start", "no-start", "load-miss"),
	}
}

// week is a lab before it is written down.
type week struct {
	kindOfLab
	why      string
	vehicles int
	more     []string // lines of the plan
}

// Blueprint plans a course. The order is that of teaching: one guided lab on voltage drop, restricted instruments, open
// diagnosis on rotating systems, complaints that come and go, a vehicle with nothing wrong, oscilloscope pictures, and
// a final with two vehicles.
func Blueprint(o Options) ([]Plan, error) {
	if o.Weeks < Least || o.Weeks > Most {
		return nil, fmt.Errorf("%d weeks: a course has %d to %d", o.Weeks, Least, Most)
	}
	if o.Minutes < 30 || o.Minutes > 400 {
		return nil, fmt.Errorf("a period of %d minutes: want 30 to 400", o.Minutes)
	}
	sections := o.Sections
	if len(sections) == 0 {
		sections = []string{""}
	}
	var plans []Plan
	for i, w := range weeks(o.Weeks, o.Minutes) {
		for _, section := range sections {
			name := fmt.Sprintf("week%02d", i+1)
			if section != "" {
				name += "-" + section
			}
			plans = append(plans, Plan{name, w.text(o.Minutes, o.First.AddDate(0, 0, 7*i).Format(time.DateOnly), section)})
		}
	}
	return plans, nil
}

// usualPeriod is what a plan without a period means, in minutes.
const usualPeriod = 50

// weeks lists the labs of a course.
func weeks(n, minutes int) []week {
	vehicles := 1
	if minutes >= twoVehicles {
		vehicles = 2
	}
	list := []week{{kindOfLab: kindOfLab{"horn", "Where the volts go", []string{"silent", "weak"},
		[]string{"voltage-drop"}, true},
		why: "guided: one meter, a list that is complete, nothing known before", vehicles: vehicles,
		more: []string{`instruments = ["voltmeter"]`, "proof = false"}}}
	first, second := starting(), sparking()
	for i := 1; i < n; i++ { // the two kinds take turns
		lab := second[max(0, i-2)/2%len(second)]
		if i%2 == 1 {
			next := second[(i-1)/2%len(second)]
			for first[0].pack == list[i-1].pack || first[0].pack == next.pack {
				first = append(first[1:], first[0])
			}
			lab, first = first[0], append(first[1:], first[0])
		}
		list = append(list, week{kindOfLab: lab, why: "open diagnosis", vehicles: vehicles})
	}
	special(list)
	return list
}

// intermittents turn a lab into one on faults that come and go: each complaint says when, so that the student can
// provoke it.
func intermittents(pack string) kindOfLab {
	return kindOfLab{pack: pack, title: "Comes and goes", complaints: []string{"stalls", "hot", "wet"},
		kinds: []string{"secondary-and-spark", "signal-checks"}}
}

// special gives single weeks their purpose. Those of the second kind have always something to spare; of the first there
// is one week more than it takes, and in that the complaints come and go.
func special(list []week) {
	n := len(list)
	list[1].why = "restricted instruments: ohmmeters stand on the sheets and may not be used"
	list[1].more = []string{`forbid = ["ohmmeter"]`}
	even := func(i int) int { return i &^ 1 } // index of a lab of the second kind, at or before
	wiggled, nothing, scope := n/2|1, even(n*3/4), even(n-2)
	list[wiggled].kindOfLab = intermittents(list[wiggled].pack)
	list[wiggled].why = "intermittents: shaken, hot or wet, and well again in between"
	if nothing > 1 {
		list[nothing].why = "nothing found: the vehicle may be sound, and the students know"
		list[nothing].more = append(list[nothing].more, "nothing_found = true")
	}
	if scope != nothing {
		list[scope].why = "the oscilloscope among the instruments"
		list[scope].more = append(list[scope].more, "scope = true")
	}
	list[n-1].why = "final: two vehicles, one mark"
	list[n-1].vehicles = 2
	list[n-1].title = "Final: " + strings.ToLower(list[n-1].title[:1]) + list[n-1].title[1:]
}

// text writes a plan.
func (w week) text(minutes int, date, section string) string {
	quoted := func(list []string) string { return `["` + strings.Join(list, `", "`) + `"]` }
	var b strings.Builder
	fmt.Fprintf(&b, "# %s\n\ntitle = %q\ndate = %s\npack = %q\ncomplaints = %s\n", w.why, w.title, date, w.pack,
		quoted(w.complaints))
	if w.vehicles > 1 {
		fmt.Fprintf(&b, "vehicles = %d\n", w.vehicles)
	}
	if minutes != usualPeriod {
		fmt.Fprintf(&b, "period = %d\n", minutes)
	}
	fmt.Fprintf(&b, "competency = %s # cases that give opportunities for these come more often\n", quoted(w.kinds))
	if w.empty {
		fmt.Fprintln(&b, "known = 0 # begins empty-handed")
	}
	for _, line := range w.more {
		fmt.Fprintln(&b, line)
	}
	if section != "" {
		fmt.Fprintf(&b, "sections = [%q]\n", section)
	}
	return b.String()
}

// Next is a plan for the kinds of test that a class has shown least, most wanting first: the lab that can be asked for
// most of the first of them, on another system than the last one, a week later.
func Next(wanting []string, lastPack, lastDate string) string {
	var best kindOfLab
	most := -1
	for _, lab := range append(starting(), sparking()...) {
		score := 0
		for place, kind := range wanting {
			if slices.Contains(lab.kinds, kind) || kind == "ground-integrity" &&
				slices.Contains(lab.complaints, "runs-badly") ||
				kind == "voltage-drop" && lab.empty {
				score += 1 << (len(wanting) - place)
			}
		}
		if lab.pack == lastPack {
			score = 0
		}
		if score > most {
			best, most = lab, score
		}
	}
	day, err := time.Parse(time.DateOnly, lastDate)
	if err != nil { // of a record that says no day
		day = time.Time{}
	}
	w := week{kindOfLab: best, why: "what the class has shown least: " + strings.Join(wanting[:min(2, len(wanting))],
		", "), vehicles: 2}
	return w.text(usualPeriod, day.AddDate(0, 0, 7).Format(time.DateOnly), "")
}
