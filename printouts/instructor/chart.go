package instructor

import (
	"fmt"
	"slices"
	"strings"

	"nospark/grading/bestplay"
	"nospark/printouts/content"
	"nospark/printouts/wording"
)

// ChartName is what an isolation chart is called.
const ChartName = "Isolation chart"

// Chart is an isolation chart in words: every test with what to do after each of its readings. Paper draws it instead.
func Chart(t *bestplay.Tree) content.Section {
	blocks := []content.Block{
		content.Title{Text: ChartName + ": " + t.Title},
		content.Paragraph{Text: "**Complaint:** " + t.Complaint},
		content.Paragraph{Text: ChartText(t)},
		content.Cautions{Lacks: t.Lacks},
	}
	if t.Nodes[0].End() {
		blocks = append(blocks, content.Paragraph{Text: NothingToTest(t)})
	}
	tests := slices.DeleteFunc(slices.Clone(t.Nodes), bestplay.TreeNode.End)
	slices.SortFunc(tests, func(a, b bestplay.TreeNode) int { return a.Step - b.Step })
	for _, n := range tests {
		blocks = append(blocks, content.Together{Blocks: []content.Block{
			content.Heading{Level: 2, Text: fmt.Sprintf("Step %d: %s, %s min", n.Step, n.Name,
				wording.Short(n.Minutes, 1))},
			content.Paragraph{Text: GoodText(n)},
			branchTable(t, n),
		}})
	}
	return content.Section{Name: t.Complaint, Foot: ChartName, Blocks: blocks}
}

// branchTable says where each reading of a test leads.
func branchTable(t *bestplay.Tree, n bestplay.TreeNode) content.Table {
	table := content.Table{Columns: []content.Column{
		{Head: "reading", Header: true}, {Head: "how often", Width: content.Natural, Align: content.Right},
		{Head: "then"},
	}}
	for _, b := range n.Branches {
		next := t.Nodes[b.Next]
		then := fmt.Sprintf("step %d", next.Step)
		if next.End() {
			then = RepairList(next) + ": " + strings.Join(next.Faults, "; ")
		}
		reading := b.Band
		if b.Words != b.Band {
			reading = wording.Join(", ", b.Band, b.Words)
		}
		table.Row(reading, Percent(b.Share), then)
	}
	return table
}

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
