package build

import (
	"fmt"
	"slices"

	"nospark/scenarios/lab"
	"nospark/scenarios/proof"
)

// prove fills in the checks that the repair of each hypothesis needs, as far as the allowed tests are concerned. Rows that the matrix tells
// apart and the lab does not have the checks of the heaviest of them.
func (b *builder) prove() {
	b.lab.Checks = nil
	if !b.in.Plan.Proof {
		return
	}
	if b.checks == nil {
		b.checks = proof.Of(b.pack, b.in.Matrix)
	}
	place := map[int]int{} // pack test -> lab test
	for i, t := range b.req.tests {
		place[t] = i
	}
	known := map[string]int{}
	for i := range b.lab.Hypotheses {
		h := &b.lab.Hypotheses[i]
		h.Checks = nil
		for _, c := range b.checks[b.sources[i].row] {
			check := lab.Check{What: c.What, Point: -1, Tests: []int{}, Under: c.Under}
			if c.Part >= 0 {
				check.Part, check.Label = b.pack.Parts[c.Part].ID, b.pack.Parts[c.Part].Label
			}
			if c.Point < b.pack.Points {
				check.Point = c.Point
			}
			for _, t := range c.Tests {
				if at, allowed := place[t]; allowed {
					check.Tests = append(check.Tests, at)
				}
			}
			key := fmt.Sprint(check)
			at, seen := known[key]
			if !seen {
				at = len(b.lab.Checks)
				known[key] = at
				b.lab.Checks = append(b.lab.Checks, check)
			}
			if !slices.Contains(h.Checks, at) {
				h.Checks = append(h.Checks, at)
			}
		}
	}
}
