package build

import (
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

// What it costs to give somebody a fault or a repair once more. Two persons who exchange faults can save at most twice the sum, which is
// less than one pair of neighbours with the same repair.
const (
	hadFault  = 10
	hadRepair = 4
)

// again gives for each person what each of the faults costs in view of the history: a build prefers faults, and then repairs, that are new to
// a student, as far as that costs neither equal difficulty nor even numbers nor different neighbours. It is nil when nobody has had any. Spares have no history.
func again(h term.History, l *lab.Lab, people []person, faults []int) [][]int {
	var costs [][]int
	for i, p := range people {
		list := h[p.id]
		if p.spare || len(list) == 0 {
			continue
		}
		if costs == nil {
			costs = make([][]int, len(people))
		}
		costs[i] = make([]int, len(faults))
		for k, f := range faults {
			costs[i][k] = cost(l, f, list)
		}
	}
	return costs
}

func cost(l *lab.Lab, fault int, list []term.Had) int {
	sameFault, sameRepair := false, false
	for _, had := range list {
		if had.Pack == l.Pack.Name {
			sameFault = sameFault || had.Fault == l.Faults[fault].ID
			sameRepair = sameRepair || had.Repair == l.Repairs[l.Faults[fault].Repair].ID
		}
	}
	sum := 0
	if sameFault {
		sum += hadFault
	}
	if sameRepair {
		sum += hadRepair
	}
	return sum
}
