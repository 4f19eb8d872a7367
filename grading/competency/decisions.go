package competency

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"nospark/grading/competency/lists"
	"nospark/scenarios/roster"
)

// resolveAliases gives every entry, signature and award the id that counts. An id may change twice; a circle is told
// and left alone.
func (g *gathering) resolveAliases() {
	to := map[string]string{}
	for _, a := range g.t.Aliases {
		if other, twice := to[a.Old]; twice && other != a.ID {
			g.problem(a.Place, "keep one of the two lines; the first counts", "id %q becomes %q here and %q before",
				a.Old, a.ID, other)
			continue
		}
		to[a.Old] = a.ID
	}
	for _, a := range g.t.Aliases {
		if _, ok := lists.Resolve(to, a.Old); !ok {
			g.problem(a.Place, "take one line of the circle out; the id stays as it is", "id %q becomes itself "+
				"in the end", a.Old)
		}
	}
	g.zerosApart(to)
	for _, r := range g.t.Records {
		type vehicle struct {
			student string
			number  int
		}
		taken := map[vehicle]bool{}
		for i := range r.Students {
			taken[vehicle{r.Students[i].Student, r.Students[i].Vehicle}] = true
		}
		for i := range r.Students {
			e := &r.Students[i]
			id, _ := lists.Resolve(to, e.Student)
			if id == e.Student {
				continue
			}
			v := vehicle{id, e.Vehicle}
			if taken[v] { // two sheets for one vehicle cannot both be of one student
				g.problem(g.files[r], "look who had which sheet; both stay apart in this lab",
					"ids %s and %s are one student by %s, and both have a sheet", e.Student, id, lists.AliasesFile)
				continue
			}
			taken[v] = true
			e.Student = id
		}
	}
	for i := range g.t.SignOffs {
		s := &g.t.SignOffs[i]
		s.Student, _ = lists.Resolve(to, s.Student)
	}
	for i := range g.t.Awards { // the lines have been checked against their hashes before
		a := &g.t.Awards[i]
		a.Student, _ = lists.Resolve(to, a.Student)
	}
}

// zerosApart adds to the aliases ids that differ by leading zeros alone and have one name: a spreadsheet took the zeros
// from one list of the class, and another has them. Who stand in one record together are two people. to is by id as the
// records have it.
func (g *gathering) zerosApart(to map[string]string) {
	type seen struct{ id, name, file string }
	all := map[string][]seen{} // ids by what is left of them without zeros
	apart := map[string]bool{}
	for _, r := range g.t.Records {
		here := map[string]string{}
		for i := range r.Students {
			e := &r.Students[i]
			id, _ := lists.Resolve(to, e.Student)
			bare := roster.BareID(id)
			if other, there := here[bare]; there && other != id {
				apart[bare] = true
			}
			here[bare] = id
			if !slices.ContainsFunc(all[bare], func(o seen) bool { return o.id == id }) {
				all[bare] = append(all[bare], seen{id, e.Name, g.files[r]})
			}
		}
	}
	for _, bare := range slices.Sorted(maps.Keys(all)) {
		longest := slices.MaxFunc(all[bare], func(a, b seen) int { return len(a.id) - len(b.id) })
		for _, x := range all[bare] {
			switch {
			case apart[bare] || len(x.id) == len(longest.id):
			case roster.SameName(x.name, longest.name):
				to[x.id] = longest.id
				g.problem(x.file, "nothing, if that is right", "ids %s and %s differ by leading zeros alone; counted as "+
					"one student", x.id, longest.id)
			default:
				g.problem(x.file, "if they are one person, write a line old,id into "+lists.AliasesFile,
					"ids %s and %s differ by leading zeros alone, and the names differ; counted as two students", x.id,
					longest.id)
			}
		}
	}
}

// bareIndex finds students by their id as a spreadsheet leaves it; -1 for several.
func bareIndex(at map[string]int) map[string]int {
	bare := map[string]int{}
	for id, k := range at {
		key := roster.BareID(id)
		if _, twice := bare[key]; twice {
			k = -1
		}
		bare[key] = k
	}
	return bare
}

// sign gives the signatures to whom they are for; of several for the same the latest counts. at and place are the
// indexes of students and competencies by id.
func (g *gathering) sign(at, place map[string]int) {
	bare := bareIndex(at)
	// An id as it is comes before a bare one: "007" and "7" may be two people.
	for i := range g.t.SignOffs {
		s := &g.t.SignOffs[i]
		k, known := at[s.Student]
		if !known {
			k, known = bare[roster.BareID(s.Student)]
		}
		switch {
		case !known:
			g.problem(s.Place, "correct the id, or leave it: it counts for nobody", "no record speaks of student %q",
				s.Student)
			continue
		case k < 0:
			g.problem(s.Place, "write the id as the class list has it; it counts for nobody",
				"id %q fits several students", s.Student)
			continue
		}
		c, known := place[s.Competency]
		if !known {
			g.problem(s.Place, "correct the id of the competency; the sheet Rules lists them",
				"there is no competency %q", s.Competency)
			continue
		}
		if g.t.Competencies[c].HandsOn {
			g.problem(s.Place, "take the line out; sign it where the program keeps hands-on evidence",
				"%q is never signed from paper or screen", s.Competency)
			continue
		}
		if why := g.t.acceptable(s); why != "" {
			g.problem(s.Place, "correct it; until then it does not count", "%s", why)
			continue
		}
		own := &g.t.Students[k].Standings[c]
		if own.Signed == nil || own.Signed.Date <= s.Date {
			own.Signed = s
		}
	}
}

// award gives the awards to whom they are for; the last line for a student and competency counts. at and place are the
// indexes of students and competencies by id.
func (g *gathering) award(at, place map[string]int) {
	all := slices.Concat(g.t.Awards, g.gathered)
	bare := bareIndex(at)
	for i := range all {
		a := &all[i]
		k, known := at[a.Student]
		if !known {
			k, known = bare[roster.BareID(a.Student)]
			known = known && k >= 0
		}
		c, there := place[a.Competency]
		switch {
		case !known || !there:
			g.problem(a.Place, "nothing, if the records were left elsewhere; the award stands in the register",
				"no record speaks of student %q and competency %q", a.Student, a.Competency)
		case a.What == lists.Awarded:
			own := &g.t.Students[k].Standings[c]
			own.Award = a
			if a.Signed() {
				own.Signed = &lists.SignOff{Place: a.Place, Student: a.Student, Competency: a.Competency, Date: a.Date,
					By: a.By}
			}
		default:
			own := &g.t.Students[k].Standings[c]
			if own.Award != nil && own.Signed != nil && own.Signed.Place == own.Award.Place {
				own.Signed = nil
			}
			own.Award = nil
		}
	}
}

// acceptable tells why a signature cannot count, whoever it is for; "" when it can.
func (t *Term) acceptable(s *lists.SignOff) string {
	signers := t.Term.Signers
	same := func(name string) bool { return strings.EqualFold(strings.TrimSpace(name), strings.TrimSpace(s.By)) }
	switch {
	case t.Today != "" && s.Date > t.Today:
		return fmt.Sprintf("the date %s is in the future", s.Date)
	case len(signers) > 0 && !slices.ContainsFunc(signers, same):
		return fmt.Sprintf("%q may not sign; signers of term.toml names %s", s.By, strings.Join(signers, ", "))
	}
	return ""
}

// checkSignatures tells of signatures that the evidence does not bear. One from before the evidence was there signs
// nothing.
func (g *gathering) checkSignatures() {
	for i := range g.t.Students {
		for k := range g.t.Students[i].Standings {
			own := &g.t.Students[i].Standings[k]
			if own.Signed == nil {
				continue
			}
			who := fmt.Sprintf("%s of student %s", g.t.Competencies[k].ID, g.t.Students[i].ID)
			switch day := own.Since(g.t.Term.Mastery); {
			case day == "":
				g.problem(own.Signed.Place, "it counts once the evidence is there and is signed then",
					"%s is signed, but the rule is not met yet", who)
				own.Signed = nil
			case own.Signed.Date < day:
				g.problem(own.Signed.Place, "correct the date, or sign again; it does not count",
					"%s is signed on %s, before the rule was met on %s", who, own.Signed.Date, day)
				own.Signed = nil
			}
		}
	}
}
