package build

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nospark/scenarios/draw"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/term"
)

// frame fills in the part of a lab that is the same for all sheets: points, columns, tests, repairs, complaints and faults. Complaints
// and faults keep the order of the pack; the vehicle with nothing wrong comes last when it is possible.
func frame(l *lab.Lab, p *pack.Pack, req request, key term.Key) error {
	for i, n := range p.Nodes[:p.Points] {
		l.Points = append(l.Points, lab.Point{Number: i + 1, ID: n.ID, Label: n.Label, Role: string(n.Role), Access: n.Access})
	}
	frameTests(l, p, req.tests)
	for _, c := range p.Complaints {
		l.Complaints = append(l.Complaints, lab.Complaint{ID: c.ID, Label: c.Label})
	}
	place, err := frameRepairs(l, p, req.nothing, key)
	if err != nil {
		return err
	}
	for _, f := range p.Faults {
		fault := lab.Fault{ID: f.ID, Label: f.Label, Note: f.Note, Repair: place[f.Repair], Parts: []string{}}
		for _, s := range f.Set {
			if id := p.Parts[s.Part].ID; !slices.Contains(fault.Parts, id) {
				fault.Parts = append(fault.Parts, id)
			}
		}
		l.Faults = append(l.Faults, fault)
	}
	if req.nothing {
		l.Faults = append(l.Faults, lab.Fault{ID: lab.NothingWrong, Label: p.Nothing.Label, Repair: place[p.Nothing.Repair], Parts: []string{}})
	}
	return nil
}

// frameTests freezes the allowed tests and the columns of the grid that they fill.
func frameTests(l *lab.Lab, p *pack.Pack, tests []int) {
	place := map[int]int{}     // pack test -> lab test
	column := map[[2]int]int{} // sweep and condition -> column; one that no allowed test fills is left out
	for i, t := range tests {
		place[t] = i
		if s := p.Tests[t].Sweep; s >= 0 {
			column[[2]int{s, p.Tests[t].Condition}] = -1
		}
	}
	for s, sweep := range p.Sweeps {
		for _, c := range sweep.Conditions {
			if _, used := column[[2]int{s, c}]; !used {
				continue
			}
			column[[2]int{s, c}] = len(l.Columns)
			l.Columns = append(l.Columns, lab.Column{Sweep: sweep.ID, Label: sweep.Label, Instrument: sweep.Instrument.ID,
				Condition: p.Conditions[c].Label, Minutes: sweep.Minutes})
		}
	}
	for _, i := range tests {
		t := p.Tests[i]
		test := lab.Test{ID: t.ID, Label: t.Label, Instrument: t.Instrument.ID, Condition: p.Conditions[t.Condition].Label,
			Minutes: t.Minutes, Column: -1, Point: -1, Group: t.Group, Compare: -1, Spec: pack.SpecText(t, p), Competency: t.Competency,
			Unplugged: []string{}}
		if t.Sweep >= 0 {
			test.Column, test.Point = column[[2]int{t.Sweep, t.Condition}], t.Point(p)
		}
		if t.Part >= 0 {
			test.Part = p.Parts[t.Part].ID
		}
		// A reading is printed beside another even where the plan does not allow it as a test of its own.
		if at, allowed := place[t.Compare]; t.Compare >= 0 && allowed {
			test.Compare = at
		}
		for _, b := range t.Bands {
			test.Bands = append(test.Bands, lab.Band{Name: b.Name, Normal: b.Normal, Silent: b.Silent})
		}
		for _, part := range t.Unplug {
			test.Unplugged = append(test.Unplugged, p.Parts[part].Label)
		}
		l.Tests = append(l.Tests, test)
	}
}

// frameRepairs lists the repairs by label, so that their order tells nothing, with codes in random order. The repair that says that
// nothing is wrong is left out when the plan excludes that, since best play then knows. It returns the place of each repair of the pack.
func frameRepairs(l *lab.Lab, p *pack.Pack, nothing bool, key term.Key) ([]int, error) {
	wanted := make([]bool, len(p.Repairs))
	for _, f := range p.Faults {
		wanted[f.Repair] = true
	}
	if nothing {
		wanted[p.Nothing.Repair] = true
	}
	var order []int
	for i := range p.Repairs {
		if wanted[i] {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(strings.Compare(strings.ToLower(p.Repairs[a].Label), strings.ToLower(p.Repairs[b].Label)),
			strings.Compare(p.Repairs[a].ID, p.Repairs[b].ID))
	})
	if len(order) > maxRepairs {
		return nil, fmt.Errorf("pack %q has %d repairs, codes of two digits suffice for %d", p.Name, len(order), maxRepairs)
	}
	// The codes are the same for the whole class, since they stand on the class reference.
	codes := shuffled(10, maxRepairs, draw.New(key[:], "lab", l.Name, "repair codes"))
	letters := lab.RepairLetters(l.Name, key[:])
	place := make([]int, len(p.Repairs))
	for i, r := range order {
		place[r] = i
		l.Repairs = append(l.Repairs, lab.Repair{ID: p.Repairs[r].ID, Label: p.Repairs[r].Label, Code: fmt.Sprint(codes[i]),
			Letters: letters.Letters(2), Minutes: p.Repairs[r].Minutes})
	}
	return place, nil
}

// maxRepairs is the most repairs of a pack: their codes have two digits and none begins with 0.
const maxRepairs = 90

// shuffled gives the n numbers from first in random order.
func shuffled(first, n int, s *draw.Stream) []int {
	numbers := make([]int, n)
	for i := range numbers {
		numbers[i] = first + i
	}
	s.Shuffle(n, func(i, j int) { numbers[i], numbers[j] = numbers[j], numbers[i] })
	return numbers
}

// rate sets the word for how often each repair is the right one, from the prior weights of the lab's hypotheses: common at one and a half
// times an even share among the possible repairs, rare below half of one. Words, not numbers, because that is what experience gives.
func rate(l *lab.Lab) {
	weight := make([]int64, len(l.Repairs))
	var total, possible int64
	for _, h := range l.Hypotheses {
		r := l.Faults[h.Fault].Repair
		if weight[r] == 0 {
			possible++
		}
		weight[r] += h.Weight
		total += h.Weight
	}
	for i, w := range weight {
		switch n := w * possible; {
		case 2*n >= 3*total:
			l.Repairs[i].Rarity = "common"
		case 2*n < total:
			l.Repairs[i].Rarity = "rare"
		default:
			l.Repairs[i].Rarity = "occasional"
		}
	}
}
