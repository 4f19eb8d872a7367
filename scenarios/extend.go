package scenarios

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"nospark/scenarios/pack"
)

// extend adds sheets to a lab for students and spares that have none. Sheets that are there may have been printed, so nothing about them
// changes: the lab keeps the text of its pack, its hypotheses and its rubric, and a plan that would need others is refused.
func extend(ctx context.Context, in Input) (*Lab, *Report, error) {
	old := in.Previous
	switch old.Verify(in.Term, in.Key) {
	case Changed:
		return nil, nil, fmt.Errorf("lab %q was changed since it was built, so nothing is added to it; restore its lab.json from a copy", old.Name)
	case OtherKey:
		return nil, nil, fmt.Errorf("lab %q was built with another key than %s is now, so nothing is added to it; restore that key from a copy",
			old.Name, KeyFile)
	case NotCheckable:
		return nil, nil, fmt.Errorf("lab %q was built in another term (%s), so nothing is added to it", old.Name, old.Term)
	}
	p, err := pack.Parse("the pack kept in lab "+old.Name, []byte(old.Pack.Source))
	if err != nil {
		return nil, nil, fmt.Errorf("lab %q was built by a version of this program whose packs this one does not read: %w", old.Name, err)
	}
	req, err := resolve(&in.Plan, p)
	list, peopleErr := people(&in.Plan, in.Students)
	if err := errors.Join(err, peopleErr); err != nil {
		return nil, nil, err
	}
	if err := errors.Join(old.samePack(in), old.sameAs(&in.Plan, p, req)); err != nil {
		return nil, nil, err
	}
	l := *old // shares all but the sheets with the old lab, and changes none of it
	l.Sheets = slices.Clone(old.Sheets)
	grounds, err := l.surveyAll(req, &in.Plan, l.complaintsUsed())
	if err != nil {
		return nil, nil, err
	}
	if err := l.walkAll(grounds); err != nil {
		return nil, nil, fmt.Errorf("%s: %w", in.Plan.File, err)
	}
	chosen, notes, err := l.choose(&in, req, l.besides(grounds, req), len(list), len(l.Sheets) == 0)
	if err != nil {
		return nil, nil, err
	}
	w := work{lab: &l, in: &in, drawer: newDrawer(&l, p, in.Key, req.tests, chosen), chosen: chosen, people: list, old: l.owners(list)}
	notes = append(notes, old.moved(list)...)
	if in.Pack != old.Pack.Source {
		notes = append(notes, fmt.Sprintf("the pack has changed since the lab was built; the lab keeps version %d, so that all sheets agree", old.Pack.Version))
	}
	return w.finish(ctx, grounds, notes)
}

// besides keeps the candidates as difficult as the sheets that are there, so that new sheets do not widen a spread that was the least
// possible. With an asked window they lie inside anyway, and faults that the plan names are hidden whatever they take.
func (l *Lab) besides(grounds []ground, req request) []ground {
	if len(l.Sheets) == 0 || l.Window[1] > 0 || req.named {
		return grounds
	}
	low, high := l.Sheets[0].Minutes, l.Sheets[0].Minutes
	for _, s := range l.Sheets {
		low, high = min(low, s.Minutes), max(high, s.Minutes)
	}
	walk := l.walked(grounds)
	kept := slices.Clone(grounds)
	for i := range kept {
		kept[i].candidates = slices.DeleteFunc(within(kept[i].candidates, low, high), func(c candidate) bool {
			return c.walk.mark < walk[0].mark || c.walk.mark > walk[1].mark
		})
	}
	return kept
}

// owners gives for each person the sheet that is there, -1 for none. Spares are told apart by their number only.
func (l *Lab) owners(list []person) []int {
	sheet := map[string]int{}
	var spares []int
	for i, s := range l.Sheets {
		if s.Student == "" { // a spare that somebody used is still a spare here: the entry form tells whose it was
			spares = append(spares, i)
		} else {
			sheet[s.Student] = i
		}
	}
	old := make([]int, len(list))
	for i, p := range list {
		old[i] = -1
		if at, known := sheet[p.id]; known && !p.spare {
			old[i] = at
		}
		if p.spare && len(spares) > 0 {
			old[i], spares = spares[0], spares[1:]
		}
	}
	return old
}

// anotherLab is what to do where a plan asks for another lab than was built.
const anotherLab = "put it back, or give the plan a new name for a new lab; as long as nothing was handed out, the lab's folder may be deleted instead"

// samePack refuses a plan that has turned to another pack. The pack may have changed, even for the worse: the lab has its own copy.
func (l *Lab) samePack(in Input) error {
	if in.Pack == l.Pack.Source {
		return nil
	}
	if now, err := pack.Parse(in.PackFile, []byte(in.Pack)); err == nil && now.Name != l.Pack.Name {
		return fmt.Errorf("%s: lab %q was built with pack %q, not with %q; %s",
			in.Plan.place("pack"), l.Name, l.Pack.Name, now.Name, anotherLab)
	}
	return nil
}

// sameAs refuses a plan that asks for another lab than the one that is there. Spares, sections, students, seats and faults may change.
func (l *Lab) sameAs(plan *Plan, p *pack.Pack, req request) error {
	var found []error
	// What stands on paper may not change, nor what marks follow from. The rubric and paper of the term do not count: the lab keeps those
	// it was built with, whatever the term has since become.
	differ := func(key, what, was string) {
		found = append(found, fmt.Errorf("%s: %s differs from what lab %q was built with (%s), and sheets may have been printed;"+
			" %s", plan.place(key), what, l.Name, was, anotherLab))
	}
	text := func(key, now, was string) {
		if now != was {
			differ(key, key, fmt.Sprintf("%q", was))
		}
	}
	text("name", plan.Name, l.Name)
	text("title", plan.Title, l.Title)
	text("date", plan.Date, l.Date)
	if plan.Paper != "" {
		text("paper", plan.Paper, l.Paper)
	}
	if plan.Rows != l.Rows {
		differ("rows", "rows", fmt.Sprint(l.Rows))
	}
	if plan.Difficulty != l.Window {
		was := "no difficulty"
		if l.Window[1] > 0 {
			was = minutesText(l.Window[0]) + " to " + minutesText(l.Window[1])
		}
		differ("difficulty", "difficulty", was)
	}
	if plan.Rubric != nil && *plan.Rubric != l.Rubric {
		differ("rubric", "the rubric", "another")
	}
	if !slices.Equal(plan.Forbid, l.Technique.Forbid) {
		differ("forbid", "forbid", cmp.Or(strings.Join(l.Technique.Forbid, ", "), "nothing"))
	}
	if plan.Scope != l.Scope {
		differ("scope", "scope", strconv.FormatBool(l.Scope))
	}
	used := l.complaintsUsed()
	if req.complaints != nil && !slices.Equal(req.complaints, used) {
		var ids []string
		for _, c := range used {
			ids = append(ids, l.Complaints[c].ID)
		}
		differ(complaintKey(plan), "the complaint", strings.Join(ids, ", "))
	}
	if req.nothing != (l.Faults[len(l.Faults)-1].ID == NothingWrong) {
		differ("nothing_found", "nothing_found", fmt.Sprint(!req.nothing))
	}
	if what := l.otherTests(p, req.tests); what != "" {
		differ("instruments", "the set of allowed tests (instruments, conditions, unplug)", what)
	}
	return errors.Join(found...)
}

// otherTests names a test by which the lab and the allowed tests of the plan differ, "" when they are the same.
func (l *Lab) otherTests(p *pack.Pack, tests []int) string {
	now := map[string]bool{}
	for _, t := range tests {
		now[p.Tests[t].ID] = true
	}
	for _, t := range l.Tests {
		if !now[t.ID] {
			return fmt.Sprintf("with test %q, for example", t.ID)
		}
		delete(now, t.ID)
	}
	for _, t := range tests {
		if now[p.Tests[t].ID] {
			return fmt.Sprintf("without test %q, for example", p.Tests[t].ID)
		}
	}
	return ""
}

// moved tells what the roster says differently since the sheets were made: they keep what is printed on them.
func (l *Lab) moved(list []person) []string {
	now := map[string]person{}
	for _, p := range list {
		if !p.spare {
			now[p.id] = p
		}
	}
	var notes []string
	for _, s := range l.Sheets {
		p, there := now[s.Student]
		switch {
		case s.Student == "":
		case !there:
			notes = append(notes, fmt.Sprintf("student %s is not in the roster any more; the sheet %s stays", s.Student, s.Code))
		case p.name != s.Name || p.section != s.Section:
			notes = append(notes, fmt.Sprintf("student %s has another name or section in the roster; the sheet %s keeps what is printed on it", s.Student, s.Code))
		}
	}
	return notes
}
