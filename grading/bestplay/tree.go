package bestplay

import (
	"cmp"
	"fmt"
	"slices"

	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// TreeInput is what a tree needs to know of a lab, or of the matrix of a pack. Indexes are those of Problem.
type TreeInput struct {
	Title     string
	Complaint string // label
	Lacks     lab.Lacks
	Tests     []TreeTest
	Repairs   []TreeRepair // Problem.Repair leads here
	Faults    []string     // label of each hypothesis; the gaps come last and have none
	Problem   isolation.Problem
	Start     isolation.Set // the hypotheses that give the complaint
	// of these, the ones that stand for a cause that is not on the list: weighed, but on no chart
	Gaps   isolation.Set
	Limits isolation.Limits // zero: best play is proven, however long it takes
}

// TreeTest is a test in words for the shop.
type TreeTest struct {
	ID    string
	Name  string // "volts to battery negative, key on, at 9 coil positive terminal"
	Bands []TreeBand
}

// TreeBand is a class of readings of a test.
type TreeBand struct {
	Name   string
	Words  string // which readings belong to it, "" when the name says it
	Normal bool
}

// TreeRepair is a repair; Code is what students write, "" without a lab.
type TreeRepair struct {
	Label string `json:"label"`
	Code  string `json:"code,omitempty"`
}

// Tree is best play from a complaint as an isolation chart: which test first, and what next after each reading. The
// JSON form is for other programs; all minutes in it are minutes.
type Tree struct {
	Title     string     `json:"title"`
	Complaint string     `json:"complaint"`
	Suspects  int        `json:"suspects"` // at the start; gaps are not counted, here and below
	Minutes   float64    `json:"minutes"`  // expected by the prior weights, causes that are not on the list included
	Worst     float64    `json:"worst"`    // longest way to an end
	Proven    bool       `json:"proven"`   // no chart takes fewer minutes on average
	Lacks     lab.Lacks  `json:"-"`        // dangers that the vehicle does not have
	Nodes     []TreeNode `json:"nodes"`    // the first is where to begin; branches lead to later ones
}

// TreeNode is a test with its branches, or an end with what is to be repaired.
type TreeNode struct {
	// number of the test, from 1 along the longest way, then along the others; 0 for an end
	Step    int     `json:"step,omitempty"`
	Test    string  `json:"test,omitempty"` // id
	Name    string  `json:"name,omitempty"` // of the test
	Good    string  `json:"good,omitempty"` // what a normal reading is
	Minutes float64 `json:"minutes,omitempty"`
	// any reading without a branch means a cause that is not on the list
	Unlisted bool         `json:"unlisted,omitempty"`
	Branches []TreeBranch `json:"branches,omitempty"` // ends first, the longest way last
	// of an end, likeliest first; more than one when no test tells them apart
	Repairs  []TreeRepair `json:"repairs,omitempty"`
	Faults   []string     `json:"faults,omitempty"` // of an end, likeliest first
	Spent    float64      `json:"spent"`            // minutes from the start to here, this test not included
	Share    float64      `json:"share"`            // chance of coming here
	Suspects int          `json:"suspects"`
}

// TreeBranch is what to do after a reading.
type TreeBranch struct {
	Band   string  `json:"band"`
	Words  string  `json:"words,omitempty"`
	Normal bool    `json:"normal"`
	Share  float64 `json:"share"` // chance of the reading at this point
	Next   int     `json:"next"`  // index into Nodes
}

// End tells that nothing is left to test.
func (n TreeNode) End() bool { return n.Step == 0 }

// NewTree works out best play. The error is for an input without hypotheses or of which the solver finds something
// wrong.
func NewTree(in TreeInput) (*Tree, error) {
	if in.Start.Empty() {
		return nil, fmt.Errorf("complaint %q: no fault gives it", in.Complaint)
	}
	if len(in.Tests) != len(in.Problem.Minutes) || len(in.Faults)+in.Gaps.Len() != len(in.Problem.Weight) {
		return nil, fmt.Errorf("complaint %q: %d tests and %d faults are named, the matrix has %d and %d", in.Complaint,
			len(in.Tests), len(in.Faults), len(in.Problem.Minutes), len(in.Problem.Weight))
	}
	solver, err := isolation.New(in.Problem, in.Limits)
	if err != nil {
		return nil, fmt.Errorf("complaint %q: %w", in.Complaint, err)
	}
	t := &Tree{Title: in.Title, Complaint: in.Complaint, Lacks: in.Lacks, Suspects: in.Start.Minus(in.Gaps).Len()}
	value := solver.Value(in.Start)
	t.Proven = value.Proven()
	g := grower{in: &in, solver: solver, tree: t}
	g.grow(in.Start, 0)
	t.number(0, 1)
	t.Minutes = float64(g.tenths) / float64(10*solver.Weight(in.Start))
	for i := range t.Nodes {
		if n := &t.Nodes[i]; n.End() {
			t.Worst = max(t.Worst, n.Spent)
		}
	}
	return t, nil
}

// number numbers the tests from a node on, along the longest way first and then along the ways that leave it, and gives
// the next free number.
func (t *Tree) number(at, next int) int {
	trunk := t.Trunk(at)
	for _, i := range trunk {
		t.Nodes[i].Step = next
		next++
	}
	for _, i := range trunk {
		for _, b := range t.Nodes[i].Branches {
			if side := b.Next; !t.Nodes[side].End() && !slices.Contains(trunk, side) {
				next = t.number(side, next)
			}
		}
	}
	return next
}

// Trunk lists the tests on the longest way from a node, itself first: what a chart draws in one line.
func (t *Tree) Trunk(at int) []int {
	var trunk []int
	for !t.Nodes[at].End() {
		trunk = append(trunk, at)
		branches := t.Nodes[at].Branches
		at = branches[len(branches)-1].Next
	}
	return trunk
}

// grower adds nodes to a tree.
type grower struct {
	in     *TreeInput
	solver *isolation.Solver
	tree   *Tree
	tenths int64 // of all ends so far, those that are on no chart included, each times its weight
}

// share is the chance of one set within another, of what is on the list.
func (g *grower) share(part, whole isolation.Set) float64 {
	return float64(g.solver.Weight(part.Minus(g.in.Gaps))) / float64(g.solver.Weight(whole.Minus(g.in.Gaps)))
}

// grow adds the node of a set and all that follows, and gives its index.
func (g *grower) grow(set isolation.Set, spent int64) int {
	at := len(g.tree.Nodes)
	node := TreeNode{Spent: float64(spent) / 10, Share: g.share(set, g.in.Start), Suspects: set.Minus(g.in.Gaps).Len()}
	test, more := g.solver.Best(set)
	if !more {
		g.tenths += g.solver.Weight(set) * spent
		g.end(&node, set)
		g.tree.Nodes = append(g.tree.Nodes, node)
		return at
	}
	what := g.in.Tests[test]
	node.Step, node.Test, node.Name = 1, what.ID, what.Name
	node.Minutes = float64(g.in.Problem.Minutes[test]) / 10
	g.tree.Nodes = append(g.tree.Nodes, node)
	for _, band := range what.Bands {
		if band.Normal {
			node.Good = joinOr(node.Good, cmp.Or(band.Words, band.Name))
		}
	}
	// What no reading on the list leaves are gaps, of which this test is a check: they end here.
	unlisted := set
	for _, w := range g.ways(set, test) {
		unlisted = unlisted.Minus(w.set)
		band := what.Bands[w.band]
		next := g.grow(w.set, spent+g.in.Problem.Minutes[test])
		node.Branches = append(node.Branches, TreeBranch{
			Band: band.Name, Words: band.Words, Normal: band.Normal, Next: next,
			Share: g.share(w.set, set),
		})
	}
	node.Unlisted = !unlisted.Empty()
	g.tenths += g.solver.Weight(unlisted) * (spent + g.in.Problem.Minutes[test])
	g.tree.Nodes[at] = node
	return at
}

func joinOr(a, b string) string {
	if a == "" {
		return b
	}
	return a + " or " + b
}

// way is what remains after one reading of a test.
type way struct {
	band  int
	set   isolation.Set
	tests int // still to come, over all branches
}

// ways lists what the readings of a test leave, the largest rest last: a chart runs down along it.
func (g *grower) ways(set isolation.Set, test int) []way {
	var all []way
	for band := range g.in.Tests[test].Bands {
		if rest := g.solver.After(set, test, uint8(band)); !rest.Empty() {
			all = append(all, way{band, rest, g.tests(rest)})
		}
	}
	slices.SortStableFunc(all, func(a, b way) int { return cmp.Compare(a.tests, b.tests) })
	return all
}

// tests counts the tests of best play over all ways from a set.
func (g *grower) tests(set isolation.Set) int {
	test, more := g.solver.Best(set)
	if !more {
		return 0
	}
	n := 1
	for band := range g.in.Tests[test].Bands {
		if rest := g.solver.After(set, test, uint8(band)); !rest.Empty() {
			n += g.tests(rest)
		}
	}
	return n
}

// end fills in what is to be repaired, by weight.
func (g *grower) end(node *TreeNode, set isolation.Set) {
	hypotheses := slices.SortedStableFunc(set.All(), func(a, b int) int {
		return -cmp.Compare(g.in.Problem.Weight[a], g.in.Problem.Weight[b])
	})
	weight := map[int]int64{}
	for _, h := range hypotheses {
		weight[g.in.Problem.Repair[h]] += g.in.Problem.Weight[h]
		if !slices.Contains(node.Faults, g.in.Faults[h]) {
			node.Faults = append(node.Faults, g.in.Faults[h])
		}
	}
	repairs := g.solver.Repairs(set)
	slices.SortStableFunc(repairs, func(a, b int) int { return -cmp.Compare(weight[a], weight[b]) })
	for _, r := range repairs {
		node.Repairs = append(node.Repairs, g.in.Repairs[r])
	}
}

// LabTree works out best play in a lab from one of its complaints for somebody who knows nothing else, with the
// instruments that the plan allows and with the checks that each repair owes.
func LabTree(lab *lab.Lab, complaint int) (*Tree, error) {
	detail, err := lab.Detail()
	if err != nil {
		return nil, err
	}
	world, err := lab.World(complaint, nil, nil)
	if err != nil {
		return nil, err
	}
	in := TreeInput{
		Title: lab.Pack.Title, Complaint: lab.Complaints[complaint].Label, Problem: world.Problem,
		Start: world.Suspects, Lacks: lab.Lacks,
		Gaps: world.Suspects.Minus(world.Rows(world.Suspects)),
	}
	for i, t := range lab.Tests {
		test := TreeTest{ID: t.ID, Name: lab.TestName(i)}
		for k, b := range t.Bands {
			test.Bands = append(test.Bands, TreeBand{Name: b.Name, Words: detail.Bands[i][k], Normal: b.Normal})
		}
		in.Tests = append(in.Tests, test)
	}
	for _, r := range lab.Repairs {
		in.Repairs = append(in.Repairs, TreeRepair{r.Label, r.Code + r.Letters})
	}
	for _, h := range lab.Hypotheses {
		in.Faults = append(in.Faults, lab.Faults[h.Fault].Label)
	}
	return NewTree(in)
}
