package instructor

import (
	"fmt"
	"strings"

	"nospark/grading/bestplay"
	"nospark/printouts/wording"
)

// ChartName is what an isolation chart is called.
const ChartName = "Isolation chart"

// ChartText says what a chart is worth and how to read it.
func ChartText(t *bestplay.Tree) string {
	proof := "No order of tests takes fewer minutes on average; this was proven, not estimated."
	if !t.Proven {
		proof = "That no other order takes fewer minutes was not proven for this chart."
	}
	return fmt.Sprintf("%s min of testing on average, %s min at most, among %s weighted by how often each occurs. %s "+
		"Make each test as named, compare the reading with the words at the branches, and follow the arrow. "+
		"Percentages: "+
		"how often that branch is taken from there. A reading that no branch has means a fault that this chart "+
		"does not "+
		"know, or a test that was made differently. A repair behind a good reading is the only one left of those "+
		"listed: "+
		"on a vehicle, confirm it at the part before you replace anything.",
		wording.Short(t.Minutes, 1), wording.Short(t.Worst, 1),
		wording.Count(t.Suspects, "possible fault", "possible faults and severities"), proof)
}

// NothingToTest says what to repair where all suspects ask for the same.
func NothingToTest(t *bestplay.Tree) string {
	return "Nothing needs testing: " + RepairList(t.Nodes[0]) + "."
}

// GoodText says what a normal reading of a test is.
func GoodText(n bestplay.TreeNode) string { return "good: " + n.Good }

// RepairList words the repairs of an end.
func RepairList(n bestplay.TreeNode) string {
	var names []string
	for _, r := range n.Repairs {
		names = append(names, wording.Join(" ", r.Label, r.Code))
	}
	return strings.Join(names, " or ")
}

// Percent rounds to whole percents; a branch that is there is never said to have none.
func Percent(share float64) string {
	if share < 0.005 {
		return "< 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}
