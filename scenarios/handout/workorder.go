package handout

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

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

// proofs lists the checks of each repair, for whatever row it is needed, part by part: "ICM: feed 11, ground 12, input
// 13 and 14, output 15". What can never be checked is not owed and stands in a list of its own. A lab without a booklet
// knows those under its own complaints.
func proofs(l *lab.Lab) []Proof {
	all := make([]Proof, len(l.Repairs))
	if l.Booklet != nil {
		for r, checks := range l.Booklet.Proofs {
			owed := slices.DeleteFunc(slices.Clone(checks), func(c int) bool {
				return slices.Contains(l.Booklet.Never, c)
			})
			all[r] = proofOf(l, l.Booklet.Checks, owed)
		}
		return all
	}
	for r := range l.Repairs {
		var checks []int
		for _, h := range l.Hypotheses {
			if l.Faults[h.Fault].Repair != r {
				continue
			}
			for _, c := range h.Checks {
				if !slices.Contains(checks, c) {
					checks = append(checks, c)
				}
			}
		}
		all[r] = proofOf(l, l.Checks, checks)
	}
	return all
}

// proofOf words checks, those of one part together.
func proofOf(l *lab.Lab, list []lab.Check, checks []int) Proof {
	var parts []string
	of := map[string][]string{}    // kinds of checks by part, in the order of the pack
	at := map[[2]string][]string{} // numbers of points by part and kind
	for _, i := range checks {
		c := list[i]
		if of[c.Label] == nil {
			parts = append(parts, c.Label)
		}
		if !slices.Contains(of[c.Label], c.What) {
			of[c.Label] = append(of[c.Label], c.What)
		}
		key := [2]string{c.Label, c.What}
		if c.Point >= 0 {
			if number := strconv.Itoa(l.Points[c.Point].Number); !slices.Contains(at[key], number) {
				at[key] = append(at[key], number)
			}
		}
	}
	var proof Proof
	var results []string
	for _, part := range parts {
		var words []string
		for _, what := range of[part] {
			words = append(words, strings.TrimSpace(what+" "+strings.Join(at[[2]string{part, what}], " and ")))
		}
		switch text := strings.Join(words, ", "); {
		case text != "result":
			proof = append(proof, part+": "+text)
		case part == "":
			results = append(results, "vehicle") // nothing in particular
		default:
			results = append(results, part)
		}
	}
	if results != nil {
		proof = append(proof, lab.ResultWords+": "+strings.Join(results, ", "))
	}
	return proof
}

// never lists the checks of the booklet for which the pack has no test.
func never(l *lab.Lab) []string {
	var list []string
	if l.Booklet == nil {
		return nil
	}
	for _, i := range l.Booklet.Never {
		if words := l.Booklet.Checks[i].Words(l); !slices.Contains(list, words) {
			list = append(list, words)
		}
	}
	slices.Sort(list)
	return list
}
