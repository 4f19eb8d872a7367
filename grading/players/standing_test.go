package players_test

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"nospark/grading/players"
)

const (
	students = 1000 // of each skill on each fault: with 200 chance alone moves a guesser's mean by three points
	between  = 5.0  // points that may lie between the mean marks of two faults
)

// standing is how students of one skill did in one lab.
type standing struct {
	efficiency float64
	mark       float64
	faults     []float64 // mean mark of each fault
	least      float64   // single mark
}

// apart is how far the mean marks of the faults lie apart.
func (s standing) apart() float64 { return slices.Max(s.faults) - slices.Min(s.faults) }

func (l builtinLab) standing(t *testing.T, skill players.Skill, n int) standing {
	t.Helper()
	big := l.enlarged(n)
	all := graded(t, big, played(t, big, skill, n))
	s := standing{mark: meanMark(all), least: 100}
	for _, one := range all {
		s.efficiency += one.Parts.Efficiency / float64(len(all))
		s.least = min(s.least, one.Mark)
	}
	for from := 0; from < len(all); from += n {
		s.faults = append(s.faults, meanMark(all[from:from+n]))
	}
	return s
}

// TestStandings plays every complaint of every built-in pack with 1,000 simulated students of each skill on each hidden fault, and prints the
// table. In every lab
//
//   - best play earns exactly 100, always;
//   - mean efficiency and mean mark order the skills;
//   - guessers average under 25;
//   - the mean marks of one skill on two faults lie less than 5 points apart.
//
// NOSPARK_KEYS=8 does so in eight terms with keys of their own.
func TestStandings(t *testing.T) {
	keys := 1
	if text := os.Getenv("NOSPARK_KEYS"); text != "" {
		var err error
		if keys, err = strconv.Atoi(text); err != nil || keys < 1 || keys > 255 {
			t.Fatalf("NOSPARK_KEYS = %q, want a number from 1 to 255", text)
		}
	}
	for key := range keys {
		t.Run(fmt.Sprintf("key %d", key+1), func(t *testing.T) { standings(t, labsOf(t, byte(key+1))) })
	}
}

func standings(t *testing.T, labs []builtinLab) {
	n := students
	if testing.Short() {
		n = 20 // enough for the order, too few for comparing faults
	}
	var table strings.Builder
	sum, worst := map[players.Skill]float64{}, map[players.Skill]float64{}
	even := 0
	for _, l := range labs {
		r := l.report
		if r.Even {
			even++
		}
		fmt.Fprintf(&table, "%-13s %-17s %2d  %4.1f-%4.1f  %4.1f-%4.1f %5v", l.pack, l.complaint, len(l.faults()), float64(r.Low)/10,
			float64(r.High)/10, r.WalkMarks[0], r.WalkMarks[1], r.Even)
		last := standing{efficiency: 31, mark: 101}
		for _, skill := range players.Skills() {
			s := l.standing(t, skill, n)
			fmt.Fprintf(&table, "  %4.1f %5.1f %4.1f", s.efficiency, s.mark, s.apart())
			sum[skill] += s.mark / float64(len(labs))
			worst[skill] = max(worst[skill], s.apart())
			if s.efficiency >= last.efficiency || s.mark >= last.mark {
				t.Errorf("%s: %s has efficiency %.2f and mark %.2f, the skill before %.2f and %.2f", l.name(), skill, s.efficiency, s.mark, last.efficiency, last.mark)
			}
			if skill == players.Expert && s.least != 100 {
				t.Errorf("%s: best play earns %v", l.name(), s.least)
			}
			if skill == players.Guesser && s.mark >= 25 {
				t.Errorf("%s: guessers average %.1f", l.name(), s.mark)
			}
			if s.apart() >= between && !testing.Short() {
				t.Errorf("%s: mean marks of %ss on two faults lie %.1f points apart", l.name(), skill, s.apart())
			}
			last = s
		}
		table.WriteByte('\n')
	}
	t.Logf("%d students of each skill on each fault: minutes of best play and marks of a walk as the build says, then efficiency, mark and how far faults lie apart\n"+
		"%-13s %-17s %2s  %-9s  %-9s %5s  %-15s  %-15s  %-15s  %-15s\n%s", n, "pack", "complaint", "n", "best play", "walk", "even", "expert", "careful", "walker", "guesser", table.String())
	t.Logf("summary: %d labs, %d of them even; mean mark (most between faults) %s", len(labs), even, summary(sum, worst))
}

func summary(sum, worst map[players.Skill]float64) string {
	var parts []string
	for _, skill := range players.Skills() {
		parts = append(parts, fmt.Sprintf("%s %.1f (%.1f)", skill, sum[skill], worst[skill]))
	}
	return strings.Join(parts, ", ")
}
