package build

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"nospark/scenarios/draw"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/term"
)

// frame fills in the part of a lab that is the same for all sheets: points, columns, tests, repairs, complaints and
// faults. Complaints and faults keep the order of the pack; the vehicle with nothing wrong comes last when it is
// possible.
func frame(l *lab.Lab, p *pack.Pack, req request, key term.Key) error {
	for i, n := range p.Nodes[:p.Points] {
		l.Points = append(l.Points, lab.Point{Number: i + 1, ID: n.ID, Label: n.Label, Role: string(n.Role),
			Access: n.Access})
	}
	l.FrameTests(p, req.tests)
	for _, c := range p.Complaints {
		l.Complaints = append(l.Complaints, lab.Complaint{ID: c.ID, Label: c.Label})
	}
	place, err := frameRepairs(l, p, key)
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
		l.Faults = append(l.Faults, lab.Fault{ID: lab.NothingWrong, Label: p.Nothing.Label,
			Repair: place[p.Nothing.Repair], Parts: []string{}})
	}
	return nil
}

// frameRepairs lists the repairs by label, so that their order tells nothing, with the codes that they have all term.
// The repair that says that nothing is wrong is among them whether the plan allows that or not: the booklet has it. It
// returns the place of each repair of the pack.
func frameRepairs(l *lab.Lab, p *pack.Pack, key term.Key) ([]int, error) {
	wanted := make([]bool, len(p.Repairs))
	for _, f := range p.Faults {
		wanted[f.Repair] = true
	}
	if p.Nothing != nil {
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
	if len(order) > lab.MostRepairs {
		return nil, fmt.Errorf("pack %q has %d repairs, codes of two digits suffice for %d", p.Name, len(order),
			lab.MostRepairs)
	}
	ids := make([]string, len(order))
	for i, r := range order {
		ids[i] = p.Repairs[r].ID
	}
	signs := lab.RepairSigns(p.Name, ids, key[:])
	rarity := rarities(p)
	place := make([]int, len(p.Repairs))
	for i, r := range order {
		place[r] = i
		l.Repairs = append(l.Repairs, lab.Repair{ID: p.Repairs[r].ID, Label: p.Repairs[r].Label, Code: signs[i].Code,
			Letters: signs[i].Letters, Minutes: p.Repairs[r].Minutes, Rarity: rarity[r]})
	}
	return place, nil
}

// rarities words how often each repair of a pack is the right one, whatever the complaint: common at one and a half
// times an even share among the possible repairs, rare below half of one. Words, not numbers, because that is what
// experience gives. A fault counts by the root of its weight, as in the weights of a lab.
func rarities(p *pack.Pack) []string {
	weight := make([]float64, len(p.Repairs))
	total, possible := 0.0, 0.0
	for _, f := range p.Faults {
		if weight[f.Repair] == 0 {
			possible++
		}
		w := math.Sqrt(float64(f.Weight))
		weight[f.Repair] += w
		total += w
	}
	words := make([]string, len(p.Repairs))
	for i, w := range weight {
		switch n := w * possible; {
		case 2*n >= 3*total:
			words[i] = "common"
		case 2*n < total:
			words[i] = "rare"
		default:
			words[i] = "occasional"
		}
	}
	return words
}

// shuffled gives the n numbers from first in random order.
func shuffled(first, n int, s *draw.Stream) []int {
	numbers := make([]int, n)
	for i := range numbers {
		numbers[i] = first + i
	}
	s.Shuffle(n, func(i, j int) { numbers[i], numbers[j] = numbers[j], numbers[i] })
	return numbers
}
