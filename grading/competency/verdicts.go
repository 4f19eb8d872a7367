package competency

import (
	"fmt"
	"slices"

	"nospark/grading/competency/lists"
	"nospark/grading/evidence"
	"nospark/scenarios/tabular"
	"nospark/scenarios/term"
)

// Verdict is where one student stands in one task: as in the weakest of what is mapped to it and of the tasks below.
type Verdict struct {
	Status Status
	// what decides, for a task without others below it; nil: nothing is mapped to it
	Standing  *Standing
	Shown, Of int // of a task with others below: in how many of them the student is competent, and how many there are
}

// Rank orders statuses by what wants attention first.
func (s Status) Rank() int {
	return [...]int{AtRisk: 0, NotYet: 1, TooLittle: 2, ToSign: 3, HandsOn: 4, Competent: 5}[s]
}

// weaker gives the one of two statuses that wants attention first.
func weaker(a, b Status) Status {
	if b.Rank() < a.Rank() {
		return b
	}
	return a
}

// mapTasks finds what each line of the map means and which tasks have no evidence. A line that means nothing is told
// and never stops the rest.
func (g *gathering) mapTasks() {
	t := &g.t
	if len(t.Tasks) == 0 {
		return
	}
	t.Gaps, t.mapped = make([]string, len(t.Tasks)), make([][]mapped, len(t.Tasks))
	lines := slices.Clone(t.TaskLines)
	untaught := map[int]bool{}
	for _, x := range t.Term.Tasks { // blocks of term.toml say the same
		if x.Taught {
			lines = append(lines, lists.TaskLine{Place: term.File, Task: x.Code, Competency: x.Competency})
		} else if k := g.taskOf(lists.TaskLine{Place: term.File, Task: x.Code}); k >= 0 {
			untaught[k] = true
		}
	}
	for _, l := range lines {
		k := g.taskOf(l)
		c := slices.IndexFunc(t.Competencies, func(c evidence.Competency) bool {
			return tabular.Fold(c.ID) == tabular.Fold(l.Competency) ||
				tabular.Fold(c.Title) == tabular.Fold(l.Competency)
		})
		if c < 0 {
			g.problem(l.Place, "correct the id of the competency; the sheet Rules lists them",
				"there is no competency %q", l.Competency)
		}
		if k >= 0 && c >= 0 {
			t.mapped[k] = append(t.mapped[k], mapped{c, l.Pack, l.Repair})
		}
	}
	for k := len(t.Tasks) - 1; k >= 0; k-- { // those below come first
		t.Gaps[k] = t.gap(k, untaught[k])
	}
}

// taskOf finds the task that a line of the map names by id or code, -1 for none.
func (g *gathering) taskOf(l lists.TaskLine) int {
	k, n := -1, 0
	for i := range g.t.Tasks {
		x := &g.t.Tasks[i]
		if x.ID == l.Task {
			return i
		}
		if x.Code != "" && tabular.Fold(x.Code) == tabular.Fold(l.Task) {
			k, n = i, n+1
		}
	}
	switch {
	case n == 0:
		g.problem(l.Place, "correct it; "+lists.TasksFile+" has the ids and codes", "there is no task %q", l.Task)
	case n > 1:
		g.problem(l.Place, "write the id of the one that is meant", "%d tasks have the code %q", n, l.Task)
		return -1
	}
	return k
}

// gap says why nothing can be said of a task, "" where there is evidence.
func (t *Term) gap(k int, untaught bool) string {
	x, lines := &t.Tasks[k], t.mapped[k]
	for _, below := range x.Below {
		if t.Gaps[below] == "" {
			return ""
		}
	}
	switch {
	case untaught:
		return "not taught"
	case len(lines) == 0 && len(x.Below) > 0:
		return "none of those below has evidence"
	case len(lines) == 0:
		return "nothing is mapped to it"
	}
	for i := range t.Students {
		for _, l := range lines {
			if len(t.standingIn(&t.Students[i], l).Opportunities) > 0 {
				return ""
			}
		}
	}
	return "nobody had an opportunity yet"
}

// standingIn is a student's standing in what a line of the map asks for. A line that names a pack or a repair cannot
// ask for several of them, so the rule's numbers of packs and faults do not bind there, and an award, which is for the
// whole competency, does not count for a part of it.
func (t *Term) standingIn(s *Student, l mapped) *Standing {
	own := &s.Standings[l.competency]
	if l.pack == "" && l.repair == "" {
		return own
	}
	part := &Standing{Signed: own.Signed}
	for _, o := range own.Opportunities {
		if (l.pack == "" || o.Record.Pack == l.pack) && (l.repair == "" || o.Entry.Repair == l.repair) {
			part.Opportunities = append(part.Opportunities, o)
		}
	}
	rule := t.Term.Mastery
	rule.Packs = 1
	if l.repair != "" {
		rule.Faults = 1
	}
	part.judge(rule, t.Competencies[l.competency].HandsOn)
	return part
}

// Verdict tells where a student stands in a task of the list. A gap below a task keeps it from being shown.
func (t *Term) Verdict(s *Student, task int) Verdict {
	x, lines := &t.Tasks[task], t.mapped[task]
	v := Verdict{Status: Competent}
	for _, l := range lines {
		standing := t.standingIn(s, l)
		if v.Standing == nil || standing.Status.Rank() < v.Standing.Status.Rank() {
			v.Standing = standing
		}
		v.Status = weaker(v.Status, standing.Status)
	}
	for _, k := range x.Below {
		below := t.Verdict(s, k)
		v.Status = weaker(v.Status, below.Status)
		v.Of++
		if below.Status == Competent {
			v.Shown++
		}
	}
	if len(lines) == 0 && len(x.Below) == 0 || t.Gaps[task] != "" {
		v.Status = weaker(v.Status, TooLittle)
	}
	return v
}

// TaskRule says in words what a verdict on a task is.
func (t *Term) TaskRule() string {
	return fmt.Sprintf("A task of %s stands where the weakest competency stands that %s maps to it, and the weakest "+
		"task below it. A task to which nothing is mapped, or of which nobody had an opportunity, is a gap: it is "+
		"told, and keeps what is above it from being shown. A line that names a pack or a repair looks at those "+
		"sheets alone.", lists.TasksFile, lists.TaskMapFile)
}
