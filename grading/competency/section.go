package competency

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"nospark/grading/evidence"
	"nospark/scenarios"
)

// sectionID tells sections apart: those of one name under two instructors, on two campuses or in two years are two.
type sectionID struct {
	name  string
	place scenarios.Place
	term  string
}

func sectionOf(r *evidence.Record) sectionID {
	place := scenarios.Place{Instructor: r.Instructor, Course: r.Course, Campus: r.Campus, Cohort: r.Cohort}
	return sectionID{r.Section, place, r.Term}
}

// labels gives each section a text of its own: its name, and where several share it, those parts of the place in which
// they differ, and the term's id where they differ in nothing else.
func labels(students []Student) map[sectionID]string {
	byName := map[string][]sectionID{}
	for i := range students {
		id := students[i].section
		if !slices.Contains(byName[id.name], id) {
			byName[id.name] = append(byName[id.name], id)
		}
	}
	label := map[sectionID]string{}
	for name, same := range byName {
		parts := []func(sectionID) string{
			func(s sectionID) string { return s.place.Instructor }, func(s sectionID) string { return s.place.Course },
			func(s sectionID) string { return s.place.Campus }, func(s sectionID) string { return s.place.Cohort },
		}
		differ := slices.DeleteFunc(parts, func(part func(sectionID) string) bool {
			return len(values(same,
				part)) < 2
		})
		text := func(s sectionID) string {
			words := []string{name}
			for _, part := range differ {
				words = append(words, cmp.Or(part(s), "?"))
			}
			return strings.TrimPrefix(strings.Join(words, ", "), ", ")
		}
		told := len(values(same, text)) == len(same)
		for _, s := range same {
			label[s] = text(s)
			if !told {
				label[s] += ", term " + s.term
			}
		}
	}
	return label
}

// values collects the different texts of a part of the sections.
func values(sections []sectionID, part func(sectionID) string) []string {
	seen := map[string]bool{}
	for _, s := range sections {
		seen[part(s)] = true
	}
	return slices.Sorted(maps.Keys(seen))
}

// sortName is what lists are sorted by: the family name where the class list has one.
func (s *Student) sortName() string { return cmp.Or(s.Family, s.Name) }

// setEarlierAside takes a repeater's evidence of an earlier cohort out of what the rule looks at, unless the rule
// counts it; it stays in sight either way. A record that names no cohort is of the present one.
func (s *Student) setEarlierAside(counts bool) {
	for i := range s.Standings {
		x := &s.Standings[i]
		var now []Opportunity
		for _, o := range x.Opportunities {
			if o.Record.Cohort != "" && s.Place.Cohort != "" && o.Record.Cohort != s.Place.Cohort {
				s.Repeater = true
				x.Earlier = append(x.Earlier, o)
				if !counts {
					continue
				}
			}
			now = append(now, o)
		}
		x.Opportunities = now
	}
}
