package players_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"nospark/grading/players"
)

const (
	students = 200 // of each skill
	between  = 5.0 // points that may lie between the mean marks of two faults
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

// TestStandings plays every complaint of every built-in pack with 200 simulated students of each skill on each hidden fault, and prints the
// table. In every lab
//
//   - best play earns exactly 100, always;
//   - mean efficiency and mean mark order the skills;
//   - guessers average under 25;
//   - where the faults are equally hard, as far as the build says so, the mean marks of one skill on two faults lie less than 5 points apart:
//     those of best play and of careful students if best play takes about the same minutes, those of all if a walk does so too.
//
// Where the build says that a lab is not equally hard, the pack offers no four faults that are; the table shows what that costs.
func TestStandings(t *testing.T) {
	n := students
	if testing.Short() {
		n = 20 // enough for the order, too few for comparing faults
	}
	var table strings.Builder
	sum, worst := map[players.Skill]float64{}, map[players.Skill]float64{}
	labs := builtinLabs(t)
	even := 0
	for _, l := range labs {
		equal := float64(l.report.High-l.report.Low) <= 0.15*float64(l.report.High+l.report.Low)/2
		if l.report.Even {
			even++
		}
		fmt.Fprintf(&table, "%-13s %-17s %2d  %4.1f-%4.1f %4.1f-%4.1f %5v", l.pack, l.complaint, len(l.faults()), float64(l.report.Low)/10,
			float64(l.report.High)/10, l.report.Walk[0]/10, l.report.Walk[1]/10, l.report.Even)
		last := standing{efficiency: 31, mark: 101}
		for _, skill := range players.Skills() {
			s := l.standing(t, skill, n)
			fmt.Fprintf(&table, "  %4.1f %5.1f %4.1f", s.efficiency, s.mark, s.apart())
			sum[skill] += s.mark / float64(len(labs))
			if s.efficiency >= last.efficiency || s.mark >= last.mark {
				t.Errorf("%s: %s has efficiency %.2f and mark %.2f, the skill before %.2f and %.2f", l.name(), skill, s.efficiency, s.mark, last.efficiency, last.mark)
			}
			if skill == players.Expert && s.least != 100 {
				t.Errorf("%s: best play earns %v", l.name(), s.least)
			}
			if skill == players.Guesser && s.mark >= 25 {
				t.Errorf("%s: guessers average %.1f", l.name(), s.mark)
			}
			fair := l.report.Even || equal && (skill == players.Expert || skill == players.Careful) || skill == players.Guesser
			if fair {
				worst[skill] = max(worst[skill], s.apart())
			}
			if fair && s.apart() >= between && !testing.Short() {
				t.Errorf("%s: mean marks of %ss on two faults lie %.1f points apart", l.name(), skill, s.apart())
			}
			last = s
		}
		table.WriteByte('\n')
	}
	t.Logf("%d students of each skill on each fault: minutes of best play and of a walk, then efficiency, mark and how far faults lie apart\n"+
		"%-13s %-17s %2s  %-9s %-9s %5s  %-15s  %-15s  %-15s  %-15s\n%s", n, "pack", "complaint", "n", "best play", "walk", "even", "expert", "careful", "walker", "guesser", table.String())
	t.Logf("summary: %d labs, %d of them even; mean mark (most between faults where equally hard) %s", len(labs), even, summary(sum, worst))
}

func summary(sum, worst map[players.Skill]float64) string {
	var parts []string
	for _, skill := range players.Skills() {
		parts = append(parts, fmt.Sprintf("%s %.1f (%.1f)", skill, sum[skill], worst[skill]))
	}
	return strings.Join(parts, ", ")
}
