package competency

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"nospark/grading"
	"nospark/grading/competency/lists"
	"nospark/grading/evidence"
	"nospark/scenarios/lab"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
)

// gathering is a term in the making. Files are added one after the other; term then works out what follows from all of
// them together.
type gathering struct {
	t       Term
	texts   map[string]string           // one copy of each text that comes again and again
	files   map[*evidence.Record]string // where a record was read from
	taken   map[[3]string]string        // file by term, lab and section
	foreign map[string][]string         // files by term, of terms whose key is not here
	// awards of other terms, from files that their instructors signed
	gathered []lists.Award
}

func newGathering(o Options) *gathering {
	return &gathering{t: Term{Options: o}, texts: map[string]string{}, files: map[*evidence.Record]string{},
		taken: map[[3]string]string{}, foreign: map[string][]string{}}
}

// problem notes something to look at: place is a file or a line of one, do what a person can do about it.
func (g *gathering) problem(place, do, format string, args ...any) {
	g.t.Problems = append(g.t.Problems, grading.Problem{Place: place, What: fmt.Sprintf(format, args...), Do: do})
}

// add takes one file: a record whose seal is that of this term, or what another instructor has gathered and signed.
func (g *gathering) add(name string, data []byte) {
	if strings.HasSuffix(name, GatheredEnd) {
		g.addGathered(name, data)
		return
	}
	r, err := evidence.Decode(name, data)
	if err != nil {
		g.problem(name, "the record is left out until that is done", "%s", strings.TrimPrefix(err.Error(), name+": "))
		return
	}
	if g.t.Key != nil {
		switch sealing := r.Verify(data, g.t.Term, *g.t.Key); sealing {
		case lab.Changed:
			g.problem(name, "grade the lab again to write it anew; it is left out until then", "%s",
				evidence.SealingWords(sealing))
			return
		case lab.NotCheckable:
			g.foreign[r.Term] = append(g.foreign[r.Term], name)
			return
		}
	}
	g.take(name, r)
}

// take adds a record that can be trusted. Of two that speak of the same section of a lab the first counts.
func (g *gathering) take(name string, r *evidence.Record) {
	key := [3]string{r.Term, r.Lab, r.Section}
	if first, twice := g.taken[key]; twice {
		g.problem(name, "keep one of the two; the other file counts", "speaks of lab %s, section %q of the same term "+
			"as %s", r.Lab, r.Section, first)
		return
	}
	g.taken[key], g.files[r] = name, name
	g.share(r)
	g.t.Records = append(g.t.Records, r)
}

// tellForeign tells once of the records of each other term: their seals cannot be checked here.
func (g *gathering) tellForeign() {
	for _, id := range slices.Sorted(maps.Keys(g.foreign)) {
		first, records := g.foreign[id][0], fmt.Sprintf("and %d others are", len(g.foreign[id])-1)
		switch len(g.foreign[id]) {
		case 1:
			records = "is"
		case 2:
			records = "and 1 other are"
		}
		g.problem(first, "to count them, have their instructor gather them (nospark gather) and list the key in "+
			"term.toml",
			"%s of term %s: anybody could have written them, so they are left out", records, id)
	}
}

// share lets equal texts of all records be one, which is most of what a large term would need memory for.
func (g *gathering) share(r *evidence.Record) {
	one := func(text *string) {
		if known, ok := g.texts[*text]; ok {
			*text = known
			return
		}
		g.texts[*text] = *text
	}
	for i := range r.Students {
		e := &r.Students[i]
		for _, text := range []*string{&e.Student, &e.Name, &e.Fault, &e.Label, &e.Complaint, &e.Repair, &e.Concluded,
			&e.Why} {
			one(text)
		}
		for k := range e.Evidence {
			x := &e.Evidence[k]
			one(&x.Competency)
			one(&x.Test)
			one(&x.Why)
		}
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
	case first.told || strings.EqualFold(strings.Join(strings.Fields(first.name), " "),
		strings.Join(strings.Fields(e.Name), " ")):
	default:
		g.problem(g.files[r], "nothing if it is one person; if there are two, give one of them another id and grade "+
			"again",
			"id %s is %q here and %q in %s; counted as one student", e.Student, e.Name, first.name, first.file)
		first.told = true
		names[e.Student] = first
	}
}

// sign gives the signatures to whom they are for; of several for the same the latest counts. at and place are the
// indexes of students and competencies by id.
func (g *gathering) sign(at, place map[string]int) {
	bare := map[string]int{} // students by their id as a spreadsheet leaves it; -1 for several
	for id, k := range at {
		key := roster.BareID(id)
		if _, twice := bare[key]; twice {
			k = -1
		}
		bare[key] = k
	}
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
	for i := range all {
		a := &all[i]
		k, known := at[a.Student]
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
