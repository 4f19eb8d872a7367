package competency

import (
	"cmp"
	"slices"

	"nospark/grading"
	"nospark/grading/competency/lists"
	"nospark/grading/evidence"
	"nospark/scenarios/term"
)

// Options say what a term's records are read with.
type Options struct {
	Term      term.Term // its rule of mastery and tasks; its records are those whose seals can be checked
	Key       *term.Key // nil: seals are not checked, and students have no codes
	SignOffs  []lists.SignOff
	Aliases   []lists.Alias
	Awards    []lists.Award
	Tasks     []lists.Task     // the program's own list; nil: none
	TaskLines []lists.TaskLine // what counts for them
	Today     string           // 2006-01-02, to know a signature of the future; "": no day is
}

// Term is what all records of a folder say together: several labs, sections and instructors.
type Term struct {
	Options
	Records      []*evidence.Record    // that count, by date, lab, section
	Competencies []evidence.Competency // of the table, then the others by id
	Cohort       string                // the latest, by the dates of the records; "" where none is named
	Gaps         []string              // by task: why nothing can be said of it; "" where there is evidence
	mapped       [][]mapped            // by task
	Students     []Student             // of that cohort or of none, by section, name, id
	Former       int                   // students of earlier cohorts: their records are there to compare with
	Problems     []grading.Problem     // files and entries to look at; never a reason to stop
}

// Student is one student in all competencies.
type Student struct {
	ID      string
	Name    string // as in the latest record, as are the next four
	Family  string // family name, "" where the class list has none of its own
	Section string // with as much of the place as tells it from others of the same name
	Place   term.Place
	section SectionID
	// there is evidence of an earlier cohort
	Repeater bool
	Code     string // stands for id and name on lists that others see; "" without a key
	Sheets   int    // with a mark
	// of those, provisional: they give no evidence until the instructor has confirmed or corrected them
	Waiting   int
	Missing   int // not handed in
	Standings []Standing
}

// Present tells that a record is of the latest cohort, or of none.
func (t *Term) Present(r *evidence.Record) bool { return t.ofNow(r.Cohort) }

func (t *Term) ofNow(cohort string) bool { return cohort == "" || cohort == t.Cohort }

// HasRecord tells that a record of the term's own counts for a section of a lab.
func (t *Term) HasRecord(lab, section string) bool {
	return slices.ContainsFunc(t.Records, func(r *evidence.Record) bool {
		return r.Term == t.Term.ID && r.Lab == lab && r.Section == section
	})
}

// Empty tells that no record could be read.
func (t *Term) Empty() bool { return len(t.Records) == 0 }

// Sections lists the sections of the students, ascending.
func (t *Term) Sections() []string {
	var list []string
	for i := range t.Students { // sorted by section
		if n := len(list); n == 0 || list[n-1] != t.Students[i].Section {
			list = append(list, t.Students[i].Section)
		}
	}
	return list
}

// Section returns the students of a section, by name.
func (t *Term) Section(name string) []Student {
	from := slices.IndexFunc(t.Students, func(s Student) bool { return s.Section == name })
	if from < 0 {
		return nil
	}
	to := from
	for to < len(t.Students) && t.Students[to].Section == name {
		to++
	}
	return t.Students[from:to]
}

// Worked visits the sheets that were worked on, oldest first.
func (t *Term) Worked(visit func(*evidence.Record, *evidence.Entry)) {
	for _, r := range t.Records {
		for i := range r.Students {
			e := &r.Students[i]
			if e.Worked && (e.Status == grading.Graded || e.Status == grading.Provisional) {
				visit(r, e)
			}
		}
	}
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

// Finished tells that a sheet has a final mark for work that was done; one set without any says nothing of a lab.
func Finished(e *evidence.Entry) bool { return e.Status == grading.Graded && e.Worked }

// Marked visits the sheets with a final mark, oldest first.
func (t *Term) Marked(visit func(*evidence.Record, *evidence.Entry)) {
	for _, r := range t.Records {
		for i := range r.Students {
			if Finished(&r.Students[i]) {
				visit(r, &r.Students[i])
			}
		}
	}
}

// mapped is a line of the map of tasks that was understood.
type mapped struct {
	competency   int
	pack, repair string
}
