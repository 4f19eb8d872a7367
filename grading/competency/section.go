package competency

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"nospark/grading/evidence"
	"nospark/scenarios/term"
)

// SectionID tells sections apart: those of one name under two instructors, on two campuses or in two years are two.
type SectionID struct {
	name  string
	place term.Place
	term  string
}

func SectionOf(r *evidence.Record) SectionID {
	place := term.Place{Instructor: r.Instructor, Course: r.Course, Campus: r.Campus, Cohort: r.Cohort}
	return SectionID{r.Section, place, r.Term}
}

// labels gives each section a text of its own: its name, and where several share it, those parts of the place in which
// they differ, and the term's id where they differ in nothing else.
func labels(sections []SectionID) map[SectionID]string {
	byName := map[string][]SectionID{}
	for _, id := range sections {
		if !slices.Contains(byName[id.name], id) {
			byName[id.name] = append(byName[id.name], id)
		}
	}
	label := map[SectionID]string{}
	for name, same := range byName {
		parts := []func(SectionID) string{
			func(s SectionID) string { return s.place.Instructor }, func(s SectionID) string { return s.place.Course },
			func(s SectionID) string { return s.place.Campus }, func(s SectionID) string { return s.place.Cohort },
		}
		differ := slices.DeleteFunc(parts, func(part func(SectionID) string) bool {
			return len(values(same,
				part)) < 2
		})
		text := func(s SectionID) string {
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
func values(sections []SectionID, part func(SectionID) string) []string {
	seen := map[string]bool{}
	for _, s := range sections {
		seen[part(s)] = true
	}
	return slices.Sorted(maps.Keys(seen))
}
