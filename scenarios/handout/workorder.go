package handout

import (
	"fmt"
	"slices"

	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
)

// knownReadings words what the work order of each case says. The error is a lab whose pack lacks one of its tests.
func knownReadings(l *lab.Lab, p *pack.Pack) ([][]KnownReading, error) {
	place := map[string]int{}
	for i, t := range p.Tests {
		place[t.ID] = i
	}
	all := make([][]KnownReading, len(l.Cases))
	for i, c := range l.Cases {
		for _, k := range c.Known {
			at, ok := place[l.Tests[k.Test].ID]
			if !ok {
				return nil, fmt.Errorf("lab %q: the pack that it keeps has no test %q", l.Name, l.Tests[k.Test].ID)
			}
			all[i] = append(all[i], KnownReading{l.TestName(k.Test), lab.BandWords(p, at)[k.Band]})
		}
	}
	return all, nil
}

// proofs lists the checks of each repair, for whatever row it is needed.
func proofs(l *lab.Lab) []Proof {
	all := make([]Proof, len(l.Repairs))
	for _, h := range l.Hypotheses {
		r := l.Faults[h.Fault].Repair
		for _, c := range h.Checks {
			if words := l.Checks[c].Words(l); !slices.Contains(all[r], words) {
				all[r] = append(all[r], words)
			}
		}
	}
	for _, p := range all {
		slices.Sort(p)
	}
	return all
}

// notToday lists the checks for which the lab has no open test.
func notToday(l *lab.Lab) []string {
	var list []string
	for _, c := range l.Checks {
		open := slices.ContainsFunc(c.Tests, func(t int) bool { return !slices.Contains(l.Technique.Forbid, l.Tests[t].Instrument) })
		if words := c.Words(l); !open && !slices.Contains(list, words) {
			list = append(list, words)
		}
	}
	slices.Sort(list)
	return list
}
