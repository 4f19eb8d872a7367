package build

import (
	"bytes"
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
	"testing"
)

// hidden is what a student's sheet hides.
func hidden(l *lab.Lab, student string) (fault, repair string) {
	for _, s := range l.Sheets {
		if s.Student == student {
			f := l.Faults[l.Hypotheses[s.Truth].Fault]
			return f.ID, l.Repairs[f.Repair].ID
		}
	}
	return "", ""
}

// historyOf is what a class has had after some labs.
func historyOf(labs ...*lab.Lab) term.History {
	h := term.History{}
	for _, l := range labs {
		for _, s := range l.Sheets {
			fault, repair := hidden(l, s.Student)
			h[s.Student] = append(h[s.Student], term.Had{Pack: l.Pack.Name, Fault: fault, Repair: repair})
		}
	}
	return h
}

// repeats counts the students who have a fault, or a repair, that the history has.
func repeats(l *lab.Lab, h term.History) (faults, repairs int) {
	for _, s := range l.Sheets {
		fault, repair := hidden(l, s.Student)
		sameFault, sameRepair := false, false
		for _, had := range h[s.Student] {
			sameFault = sameFault || had.Fault == fault
			sameRepair = sameRepair || had.Repair == repair
		}
		if sameFault {
			faults++
		}
		if sameRepair {
			repairs++
		}
	}
	return faults, repairs
}

// evenness is the number of sheets of the rarest and of the most frequent fault.
func evenness(r *Report) (least, most int) {
	least = r.Faults[0].Sheets
	for _, f := range r.Faults {
		least, most = min(least, f.Sheets), max(most, f.Sheets)
	}
	return least, most
}

// TestHistory builds a second lab from the same faults: with the history of the first nobody gets the same fault again, at no cost to
// difficulty, even numbers and neighbours.
func TestHistory(t *testing.T) {
	const plan = "complaint = \"no-start\"\nfaults = [\"icm-dead\", \"dash-open\", \"pcm-mute\", \"switch-open\", \"coil-secondary\", \"splice-open\"]\n"
	first, _ := build(t, input(t, builtin(t, "single-coil"), "name = \"week05\"\n"+plan, 24))
	in := input(t, builtin(t, "single-coil"), "name = \"week06\"\n"+plan, 24)
	plain, plainReport := build(t, in)
	h := historyOf(first)
	in.History = h
	fresh, report := build(t, in)
	checkLab(t, fresh)
	checkNeighbours(t, fresh)
	before, _ := repeats(plain, h)
	after, _ := repeats(fresh, h)
	if before == 0 {
		t.Fatal("without the history nobody has a fault again, so the test shows nothing")
	}
	if after != 0 {
		t.Errorf("%d students have a fault again, %d without the history", after, before)
	}
	if report.Low != plainReport.Low || report.High != plainReport.High || report.Clashes != plainReport.Clashes {
		t.Errorf("difficulty %d to %d and %d clashes, without the history %d to %d and %d", report.Low, report.High, report.Clashes,
			plainReport.Low, plainReport.High, plainReport.Clashes)
	}
	least, most := evenness(report)
	if wasLeast, wasMost := evenness(plainReport); most-least > max(1, wasMost-wasLeast) {
		t.Errorf("%d to %d sheets per fault, without the history %d to %d", least, most, wasLeast, wasMost)
	}
	again, _ := build(t, in)
	if !bytes.Equal(encode(t, fresh), encode(t, again)) {
		t.Error("two builds with one history differ")
	}
}

// TestHistoryYields has a class that has had everything: nothing can be new, and the lab is built as evenly as ever.
func TestHistoryYields(t *testing.T) {
	in := input(t, twoLamps(t), "spares = 2", 12)
	plain, plainReport := build(t, in)
	h := term.History{}
	for _, s := range plain.Sheets {
		for _, f := range plain.Faults {
			h[s.Student] = append(h[s.Student], term.Had{Pack: plain.Pack.Name, Fault: f.ID, Repair: plain.Repairs[f.Repair].ID})
		}
	}
	h["somebody-else"] = []term.Had{{Pack: "other", Fault: "x", Repair: "y"}}
	in.History = h
	l, report := build(t, in)
	checkLab(t, l)
	checkNeighbours(t, l)
	if report.Clashes != plainReport.Clashes || len(l.Sheets) != len(plain.Sheets) {
		t.Errorf("%d clashes, %d sheets", report.Clashes, len(l.Sheets))
	}
	// A history that speaks of another pack alone changes nothing.
	in.History = term.History{"s00": {{Pack: "other", Fault: plain.Faults[0].ID, Repair: plain.Repairs[0].ID}}}
	if same, _ := build(t, in); !bytes.Equal(encode(t, same), encode(t, plain)) {
		t.Error("a fault of another pack with the same id counts")
	}
}

// TestHistoryPrefersNewRepairs gives everybody a history of one repair: as few as can be get it again.
func TestHistoryPrefersNewRepairs(t *testing.T) {
	in := input(t, builtin(t, "single-coil"), "complaint = \"no-start\"", 8)
	plain, _ := build(t, in)
	_, repair := hidden(plain, "s00")
	in.History = term.History{"s00": {{Pack: "single-coil", Fault: "another", Repair: repair}}}
	l, _ := build(t, in)
	if _, now := hidden(l, "s00"); now == repair {
		t.Errorf("s00 has repair %s again", now)
	}
}
