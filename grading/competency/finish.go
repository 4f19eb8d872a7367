package competency

import (
	"cmp"
	"slices"
	"time"

	"nospark/grading"
	"nospark/grading/evidence"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
)

// finish works out the standings: records in order, who is in them, what each has evidence of, signatures, and then the
// rule.
func (g *gathering) finish() *Term {
	t := &g.t
	g.tellForeign()
	g.resolveAliases()
	slices.SortStableFunc(t.Records, byTime)
	g.farDates()
	t.Competencies = g.competencies()
	place := map[string]int{} // of a competency
	for i, c := range t.Competencies {
		place[c.ID] = i
	}
	g.once()
	at := map[string]int{} // of a student
	names := map[string]nameSeen{}
	for _, r := range t.Records {
		t.Cohort = cmp.Or(r.Cohort, t.Cohort)
		for i := range r.Students {
			e := &r.Students[i]
			g.sameName(names, r, e)
			k, known := at[e.Student] // by id alone: who changes the section or the name keeps all evidence
			if !known {
				k = len(t.Students)
				at[e.Student] = k
				t.Students = append(t.Students,
					Student{ID: e.Student, Standings: make([]Standing, len(t.Competencies))})
			}
			t.Students[k].take(r, e, place)
		}
	}
	g.award(at, place)
	g.sign(at, place)
	all := len(t.Students)
	t.Students = slices.DeleteFunc(t.Students, func(s Student) bool { return !t.ofNow(s.Place.Cohort) })
	t.Former = all - len(t.Students)
	sections := make([]SectionID, len(t.Students))
	for i := range t.Students {
		sections[i] = t.Students[i].section
		t.Students[i].setEarlierAside(t.Term.Mastery.Earlier)
	}
	g.checkSignatures() // by the evidence that counts
	label := labels(sections)
	for i := range t.Students {
		t.Students[i].Section = label[t.Students[i].section]
		for k := range t.Students[i].Standings {
			t.Students[i].Standings[k].judge(t.Term.Mastery, t.Competencies[k].HandsOn)
		}
	}
	slices.SortStableFunc(t.Students, func(a, b Student) int {
		return cmp.Or(cmp.Compare(a.Section, b.Section), cmp.Compare(a.sortName(), b.sortName()),
			cmp.Compare(a.Name, b.Name),
			cmp.Compare(a.ID, b.ID))
	})
	g.mapTasks()
	if t.Key != nil {
		t.nameCodes(*t.Key)
	}
	return t
}

// once leaves every vehicle of a student in a lab once: somebody who stands in two sections of it counts in the first.
func (g *gathering) once() {
	type vehicle struct {
		term, lab, student string
		number             int
	}
	seen := map[vehicle]string{} // file
	for _, r := range g.t.Records {
		r.Students = slices.DeleteFunc(r.Students, func(e evidence.Entry) bool {
			key := vehicle{r.Term, r.Lab, e.Student, e.Vehicle}
			first, twice := seen[key]
			if twice {
				g.problem(g.files[r], "keep one of the two; the other counts", "student %s is in lab %s twice, also "+
					"in %s", e.Student, r.Lab, first)
				return true
			}
			seen[key] = g.files[r]
			return false
		})
	}
}

// competencies lists those of the table and, by id, all others that some record has evidence of.
func (g *gathering) competencies() []evidence.Competency {
	// The whole table, also what nobody had an opportunity for yet: an empty column says that the term gave none.
	list := evidence.Table()
	known := map[string]bool{}
	for _, c := range list {
		known[c.ID] = true
	}
	var others []string
	for _, r := range g.t.Records {
		for i := range r.Students {
			for _, x := range r.Students[i].Evidence {
				if !known[x.Competency] && !evidence.Retired(x.Competency) {
					known[x.Competency] = true
					others = append(others, x.Competency)
				}
			}
		}
	}
	slices.Sort(others)
	for _, id := range others {
		list = append(list, evidence.Own(id))
	}
	return list
}

// take adds what a record says about a student. place is the index of each competency. Records come oldest first, so
// the last name and section win and opportunities stay in the order of time.
func (s *Student) take(r *evidence.Record, e *evidence.Entry, place map[string]int) {
	s.section = SectionOf(r)
	s.Place = term.Place{Instructor: r.Instructor, Course: r.Course, Campus: r.Campus, Cohort: r.Cohort}
	if e.Name != "" {
		s.Name, s.Family = e.Name, e.Family
	}
	switch e.Status {
	case grading.Blank:
		s.Missing++
	case grading.Graded:
		s.Sheets++
	case grading.Provisional:
		s.Sheets++
		s.Waiting++
	}
	for k := range e.Evidence {
		c, counts := place[e.Evidence[k].Competency]
		if !counts { // retired
			continue
		}
		s.Standings[c].Opportunities = append(s.Standings[c].Opportunities,
			Opportunity{Record: r, Entry: e, Evidence: &e.Evidence[k]})
	}
}

// nameSeen is a student's name and where it stands.
type nameSeen struct {
	name, file string
	told       bool
}

// sameName reports an id under which two names go, once. Spelling in capitals or with other blanks is no other name; a
// changed name is somebody's right, so it is a question and not a mistake.
func (g *gathering) sameName(names map[string]nameSeen, r *evidence.Record, e *evidence.Entry) {
	if e.Name == "" {
		return
	}
	first, known := names[e.Student]
	switch {
	case !known:
		names[e.Student] = nameSeen{name: e.Name, file: g.files[r]}
	case first.told || roster.SameName(first.name, e.Name):
	default:
		g.problem(g.files[r], "nothing if it is one person; if there are two, give one of them another id and grade "+
			"again",
			"id %s is %q here and %q in %s; counted as one student", e.Student, e.Name, first.name, first.file)
		first.told = true
		names[e.Student] = first
	}
}

// farOff is how many years a record may lie from the one in the middle before somebody has to look: no course is that
// long, and a plan whose year was mistyped would put its lab before or behind all others.
const farOff = 8

// farDates tells of records whose year cannot be meant. Records are ordered by time already.
func (g *gathering) farDates() {
	year := func(r *evidence.Record) int {
		day, err := time.Parse(time.DateOnly, r.Date)
		if err != nil {
			return 0 // no record without a day is read
		}
		return day.Year()
	}
	n := len(g.t.Records)
	if n == 0 {
		return
	}
	middle := year(g.t.Records[n/2])
	for _, r := range g.t.Records {
		if off := year(r) - middle; off > farOff || off < -farOff {
			g.problem(g.files[r], "look at the date of its plan; the order of the evidence follows from it",
				"is of %s, and most records are of about %d", r.Date, middle)
		}
	}
}

// byTime orders records by time, and those of a day by names, so that the order of a folder does not matter.
func byTime(a, b *evidence.Record) int {
	return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.Lab, b.Lab), cmp.Compare(a.Term, b.Term),
		cmp.Compare(a.Section, b.Section))
}
