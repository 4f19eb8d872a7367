package build

import (
	"fmt"
	"slices"

	"nospark/scenarios/lab"
	"nospark/scenarios/proof"
)

// prove fills in the checks that the repair of each hypothesis needs, as far as the allowed tests are concerned. Rows
// that the matrix tells apart and the lab does not have the checks of the heaviest of them.
func (b *builder) prove() {
	b.lab.Checks = nil
	if !b.in.Plan.Proof {
		return
	}
	all := b.allChecks()
	place := map[int]int{} // pack test -> lab test
	for i, t := range b.req.tests {
		place[t] = i
	}
	known := map[string]int{}
	for i := range b.lab.Hypotheses {
		h := &b.lab.Hypotheses[i]
		h.Checks = nil
		for _, c := range all[b.sources[i].row] {
			check := b.check(c)
			check.Tests, check.Under = []int{}, c.Under
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

// allChecks gives the checks of each row of the matrix.
func (b *builder) allChecks() [][]proof.Check {
	if b.checks == nil {
		b.checks = proof.Of(b.pack, b.in.Matrix)
	}
	return b.checks
}

// check is a check of the pack as a lab has it, without tests and complaints.
func (b *builder) check(c proof.Check) lab.Check {
	check := lab.Check{What: c.What, Point: -1, Tests: []int{}}
	if c.Part >= 0 {
		check.Part, check.Label = b.pack.Parts[c.Part].ID, b.pack.Parts[c.Part].Label
	}
	if c.Point < b.pack.Points {
		check.Point = c.Point
	}
	return check
}

// booklet gathers what every repair of the pack needs, whatever the complaint, the plan and its tests. A check stands
// among those that cannot be made when no row has a test for it.
func (b *builder) booklet() *lab.Booklet {
	book := &lab.Booklet{Checks: []lab.Check{}, Proofs: make([][]int, len(b.lab.Repairs)), Never: []int{}}
	for i := range book.Proofs {
		book.Proofs[i] = []int{}
	}
	place, testable := map[string]int{}, map[int]bool{}
	for i, checks := range b.allChecks() {
		row := b.in.Matrix.Rows[i]
		repair := b.repairOf(row.Fault)
		if repair < 0 || row.Fault >= 0 && row.Complaint < 0 { // a fault so mild that nobody complains
			continue
		}
		for _, c := range checks {
			check := b.check(c)
			key := fmt.Sprint(check)
			at, seen := place[key]
			if !seen {
				at = len(book.Checks)
				place[key] = at
				book.Checks = append(book.Checks, check)
			}
			testable[at] = testable[at] || len(c.Tests) > 0
			if !slices.Contains(book.Proofs[repair], at) {
				book.Proofs[repair] = append(book.Proofs[repair], at)
			}
		}
	}
	for i := range book.Checks {
		if !testable[i] {
			book.Never = append(book.Never, i)
		}
	}
	return book
}

// repairOf is the place in the lab of the repair of a fault of the matrix; -1 stands for the vehicle with nothing
// wrong.
func (b *builder) repairOf(fault int) int {
	id := ""
	switch {
	case fault >= 0:
		id = b.pack.Repairs[b.pack.Faults[fault].Repair].ID
	case b.pack.Nothing != nil:
		id = b.pack.Repairs[b.pack.Nothing.Repair].ID
	}
	return slices.IndexFunc(b.lab.Repairs, func(r lab.Repair) bool { return r.ID == id })
}
