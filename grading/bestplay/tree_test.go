package bestplay_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"nospark/grading/bestplay"
	"nospark/grading/labtest"
	"nospark/scenarios/lab"
)

// inputOf is the tree's input of a lab that keeps no text of a pack.
func inputOf(lab *lab.Lab, complaint int) bestplay.TreeInput {
	in := bestplay.TreeInput{Title: lab.Title, Complaint: lab.Complaints[complaint].Label, Problem: lab.Problem(),
		Start: lab.Suspects(complaint)}
	for i, t := range lab.Tests {
		test := bestplay.TreeTest{ID: t.ID, Name: lab.TestName(i)}
		for _, b := range t.Bands {
			test.Bands = append(test.Bands, bestplay.TreeBand{Name: b.Name, Normal: b.Normal})
		}
		in.Tests = append(in.Tests, test)
	}
	for _, r := range lab.Repairs {
		in.Repairs = append(in.Repairs, bestplay.TreeRepair{Label: r.Label, Code: r.Code + r.Letters})
	}
	for _, h := range lab.Hypotheses {
		in.Faults = append(in.Faults, lab.Faults[h.Fault].Label)
	}
	return in
}

// The tree of the lamp lab by hand: feed first; dropped or none is the switch, normal leaves lamp and ground, which the
// ground tells apart.
func TestTreeByHand(t *testing.T) {
	tree, err := bestplay.NewTree(inputOf(labtest.Lamp(), 0))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, n := range tree.Nodes {
		text := fmt.Sprintf("%d %s after %.1f, %.0f %%", n.Step, n.Test, n.Spent, 100*n.Share)
		for _, r := range n.Repairs {
			text += ", " + r.Label
		}
		for _, b := range n.Branches {
			text += fmt.Sprintf(", %s %.0f %% to %d", b.Band, 100*b.Share, b.Next)
		}
		got = append(got, text)
	}
	want := []string{
		"1 lamp-feed after 0.0, 100 %, dropped 20 % to 1, none 30 % to 2, normal 50 % to 3",
		"0  after 2.0, 20 %, Replace the switch",
		"0  after 2.0, 30 %, Replace the switch",
		"2 lamp-ground after 2.0, 50 %, normal 80 % to 4, dropped 20 % to 5",
		"0  after 4.0, 40 %, Replace the lamp",
		"0  after 4.0, 10 %, Clean the lamp ground",
	}
	if !slices.Equal(got, want) {
		t.Errorf("tree\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if tree.Minutes != 3 || tree.Worst != 4 || tree.Suspects != 4 || !tree.Proven {
		t.Errorf("minutes %v, worst %v, suspects %d, proven %v; want 3, 4, 4, true", tree.Minutes, tree.Worst,
			tree.Suspects, tree.Proven)
	}
	text, err := json.Marshal(tree)
	if err != nil || !strings.Contains(string(text), `"nodes":[{"step":1,"test":"lamp-feed"`) {
		t.Errorf("%v: %s", err, text)
	}
}

// The chart of the open lamp: each end has its checks made. What the checks stand for is on no branch; at the battery,
// at the feed and at the ground any other reading is a cause that is not on the list. Shares are those of the list, 50
// in all; the minutes are V = 2140/63 tenths.
func TestTreeOfAnOpenLab(t *testing.T) {
	l := labtest.OpenLamp()
	world, err := l.World(0, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	in := inputOf(l, 0)
	in.Problem, in.Start, in.Gaps = world.Problem, world.Suspects, world.Suspects.Minus(world.Rows(world.Suspects))
	tree, err := bestplay.NewTree(in)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, n := range tree.Nodes {
		text := fmt.Sprintf("%s %d %.0f %% %v", n.Test, n.Suspects, 100*n.Share, n.Unlisted)
		for _, r := range n.Repairs {
			text += ", " + r.Label
		}
		for _, b := range n.Branches {
			text += fmt.Sprintf(", %s %.0f %% to %d", b.Band, 100*b.Share, b.Next)
		}
		got = append(got, text)
	}
	want := []string{
		"lamp-feed 4 100 % true, normal 50 % to 1, dropped 20 % to 4, none 30 % to 6",
		"lamp-ground 2 50 % true, normal 80 % to 2, dropped 20 % to 3",
		" 1 40 % false, Replace the lamp",
		" 1 10 % false, Clean the lamp ground",
		"battery 1 20 % true, normal 100 % to 5",
		" 1 20 % false, Replace the switch",
		"battery 1 30 % true, normal 100 % to 7",
		" 1 30 % false, Replace the switch",
	}
	if !slices.Equal(got, want) {
		t.Errorf("tree\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if math.Abs(tree.Minutes-214./63) > 1e-9 || tree.Worst != 4 || tree.Suspects != 4 {
		t.Errorf("minutes %v, worst %v, suspects %d", tree.Minutes, tree.Worst, tree.Suspects)
	}
}

// Whatever is hidden, following its readings through the tree ends where it is among the faults; the mean of the
// minutes is V.
func TestTreesLeadToTheFault(t *testing.T) {
	labtest.Many(t, 100, func(t *testing.T, _ *rand.Rand, l *lab.Lab) {
		tree, err := bestplay.NewTree(inputOf(l, 0))
		if err != nil {
			t.Fatal(err)
		}
		s, err := bestplay.NewSuspects(l, 0, nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		if v := s.Value(s.All()) / 10; math.Abs(tree.Minutes-v) > 1e-9 {
			t.Errorf("%v minutes, V is %v", tree.Minutes, v)
		}
		for h := range l.Suspects(0).All() {
			n := tree.Nodes[0]
			for !n.End() {
				test := slices.IndexFunc(l.Tests, func(t lab.Test) bool { return t.ID == n.Test })
				band := l.Tests[test].Bands[l.Hypotheses[h].Band(test)].Name
				at := slices.IndexFunc(n.Branches, func(b bestplay.TreeBranch) bool { return b.Band == band })
				if at < 0 {
					t.Fatalf("hypothesis %d: no branch %q after test %s", h, band, n.Test)
				}
				n = tree.Nodes[n.Branches[at].Next]
			}
			fault := l.Faults[l.Hypotheses[h].Fault]
			if !slices.Contains(n.Faults, fault.Label) || !slices.ContainsFunc(n.Repairs,
				func(r bestplay.TreeRepair) bool { return r.Label == l.Repairs[fault.Repair].Label }) {
				t.Errorf("hypothesis %d, %s, ends at %q, repairs %v", h, fault.Label, n.Faults, n.Repairs)
			}
		}
	})
}

func TestTreeErrors(t *testing.T) {
	in := inputOf(labtest.Lamp(), 0)
	in.Tests = in.Tests[:2]
	if _, err := bestplay.NewTree(in); err == nil || !strings.Contains(err.Error(), "2 tests") {
		t.Errorf("missing names of tests: %v", err)
	}
	in.Start = labtest.Lamp().Suspects(7)
	if _, err := bestplay.NewTree(in); err == nil || !strings.Contains(err.Error(), "no fault gives it") {
		t.Errorf("a complaint that nothing gives: %v", err)
	}
}
