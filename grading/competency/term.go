package competency

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"nospark/grading"
	"nospark/scenarios"
	"nospark/scenarios/disk"
)

// Options say what a term's records are read with.
type Options struct {
	Term     scenarios.Term // its rule of mastery and tasks; its records are those whose seals can be checked
	Key      *scenarios.Key // nil: seals are not checked, and students have no codes
	SignOffs []SignOff
}

// Term is what all records of a folder say together: several labs, sections and instructors.
type Term struct {
	Options
	Records      []*Record         // that count, by date, lab, section
	Competencies []Competency      // of the table, then the others by id
	Students     []Student         // by section, name, id
	Problems     []grading.Problem // files and entries to look at; never a reason to stop
}

// Student is one student in all competencies.
type Student struct {
	ID        string
	Name      string // as in the latest record
	Section   string // as in the latest record
	Code      string // stands for id and name on lists that others see; "" without a key
	Sheets    int    // with a mark
	Waiting   int    // of those, provisional: they give no evidence until the instructor has confirmed or corrected them
	Missing   int    // not handed in
	Standings []Standing
}

// recordLimit bounds a record: a section of two thousand has some 3 MB.
const recordLimit = 64 << 20

// Read gathers the records of the folder dir. A file that is no record, newer than this program, changed or there twice becomes a
// problem and never stops the rest. The error is for the folder itself.
func Read(dir string, o Options) (*Term, error) {
	files, err := os.ReadDir(dir) // sorted by name
	if err != nil {
		return nil, fmt.Errorf("%s: the records cannot be read: %w", dir, err)
	}
	g := newGathering(o)
	for _, f := range files {
		name := f.Name()
		if f.IsDir() || strings.HasPrefix(name, ".") || !strings.EqualFold(filepath.Ext(name), ".json") {
			continue
		}
		data, err := disk.Read(filepath.Join(dir, name), recordLimit)
		if err != nil {
			g.problem(name, "look at the file; it is left out", "%s", withoutPlace(err, dir))
			continue
		}
		g.add(name, data)
	}
	return g.term(), nil
}

// withoutPlace takes the folder out of a message about one of its files.
func withoutPlace(err error, dir string) string {
	return strings.ReplaceAll(err.Error(), dir+string(filepath.Separator), "")
}

// File is a record's file in memory.
type File struct {
	Name string
	Data []byte
}

// Gather is Read for files in memory, in the order of their names.
func Gather(files []File, o Options) *Term {
	files = slices.Clone(files)
	slices.SortStableFunc(files, func(a, b File) int { return cmp.Compare(a.Name, b.Name) })
	g := newGathering(o)
	for _, f := range files {
		g.add(f.Name, f.Data)
	}
	return g.term()
}

// gathering is a term in the making.
type gathering struct {
	t     Term
	texts map[string]string    // one copy of each text that comes again and again
	files map[*Record]string   // where a record was read from
	taken map[[3]string]string // file by term, lab and section
}

func newGathering(o Options) *gathering {
	return &gathering{t: Term{Options: o}, texts: map[string]string{}, files: map[*Record]string{}, taken: map[[3]string]string{}}
}

func (g *gathering) problem(place, do, format string, args ...any) {
	g.t.Problems = append(g.t.Problems, grading.Problem{Place: place, What: fmt.Sprintf(format, args...), Do: do})
}

// add takes one file.
func (g *gathering) add(name string, data []byte) {
	r, err := Decode(name, data)
	if err != nil {
		g.problem(name, "the record is left out until that is done", "%s", strings.TrimPrefix(err.Error(), name+": "))
		return
	}
	if g.t.Key != nil {
		switch sealing := r.Verify(data, g.t.Term, *g.t.Key); sealing {
		case scenarios.Changed:
			g.problem(name, "grade the lab again to write it anew; it is left out until then", "%s", SealingWords(sealing))
			return
		case scenarios.NotCheckable:
			g.problem(name, "nothing, if you know where it comes from; it counts", "the seal is %s (%s)", SealingWords(sealing), r.Term)
		}
	}
	key := [3]string{r.Term, r.Lab, r.Section}
	if first, twice := g.taken[key]; twice {
		g.problem(name, "keep one of the two; the other file counts", "speaks of lab %s, section %q of the same term as %s", r.Lab, r.Section, first)
		return
	}
	g.taken[key], g.files[r] = name, name
	g.share(r)
	g.t.Records = append(g.t.Records, r)
}

// share lets equal texts of all records be one, which is most of what a large term would need memory for.
func (g *gathering) share(r *Record) {
	one := func(text *string) {
		if known, ok := g.texts[*text]; ok {
			*text = known
			return
		}
		g.texts[*text] = *text
	}
	for i := range r.Students {
		e := &r.Students[i]
		for _, text := range []*string{&e.Student, &e.Name, &e.Fault, &e.Repair, &e.Concluded, &e.Why} {
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

// before orders records by time.
func before(a, b *Record) int {
	return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.Lab, b.Lab), cmp.Compare(a.Term, b.Term), cmp.Compare(a.Section, b.Section))
}

// term works out the standings.
func (g *gathering) term() *Term {
	t := &g.t
	slices.SortStableFunc(t.Records, before)
	t.Competencies = g.competencies()
	place := map[string]int{} // of a competency
	for i, c := range t.Competencies {
		place[c.ID] = i
	}
	g.once()
	at := map[string]int{} // of a student
	names := map[string]nameSeen{}
	for _, r := range t.Records {
		for i := range r.Students {
			e := &r.Students[i]
			g.sameName(names, r, e)
			k, known := at[e.Student]
			if !known {
				k = len(t.Students)
				at[e.Student] = k
				t.Students = append(t.Students, Student{ID: e.Student, Standings: make([]Standing, len(t.Competencies))})
			}
			t.Students[k].take(r, e, place)
		}
	}
	g.sign(at, place)
	for i := range t.Students {
		for k := range t.Students[i].Standings {
			t.Students[i].Standings[k].judge(t.Term.Mastery)
		}
	}
	slices.SortStableFunc(t.Students, func(a, b Student) int {
		return cmp.Or(cmp.Compare(a.Section, b.Section), cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID))
	})
	if t.Key != nil {
		t.nameCodes(*t.Key)
	}
	return t
}

// once leaves every student in a lab once: somebody who stands in two sections of it counts in the first.
func (g *gathering) once() {
	seen := map[[3]string]string{} // file by term, lab and student
	for _, r := range g.t.Records {
		r.Students = slices.DeleteFunc(r.Students, func(e Entry) bool {
			key := [3]string{r.Term, r.Lab, e.Student}
			first, twice := seen[key]
			if twice {
				g.problem(g.files[r], "keep one of the two; the other counts", "student %s is in lab %s twice, also in %s", e.Student, r.Lab, first)
				return true
			}
			seen[key] = g.files[r]
			return false
		})
	}
}

// competencies lists those of the table and, by id, all others that some record has evidence of.
func (g *gathering) competencies() []Competency {
	list := Table()
	known := map[string]bool{}
	for _, c := range list {
		known[c.ID] = true
	}
	var others []string
	for _, r := range g.t.Records {
		for i := range r.Students {
			for _, x := range r.Students[i].Evidence {
				if !known[x.Competency] {
					known[x.Competency] = true
					others = append(others, x.Competency)
				}
			}
		}
	}
	slices.Sort(others)
	for _, id := range others {
		list = append(list, own(id))
	}
	return list
}

// take adds what a record says about a student.
func (s *Student) take(r *Record, e *Entry, place map[string]int) {
	s.Section = r.Section
	if e.Name != "" {
		s.Name = e.Name
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
		c := place[e.Evidence[k].Competency]
		s.Standings[c].Opportunities = append(s.Standings[c].Opportunities, Opportunity{Record: r, Entry: e, Evidence: &e.Evidence[k]})
	}
}

// nameSeen is a student's name and where it stands.
type nameSeen struct {
	name, file string
	told       bool
}

// sameName reports an id under which two names go.
func (g *gathering) sameName(names map[string]nameSeen, r *Record, e *Entry) {
	if e.Name == "" {
		return
	}
	first, known := names[e.Student]
	switch {
	case !known:
		names[e.Student] = nameSeen{name: e.Name, file: g.files[r]}
	case first.told || strings.EqualFold(strings.Join(strings.Fields(first.name), " "), strings.Join(strings.Fields(e.Name), " ")):
	default:
		g.problem(g.files[r], "nothing if it is one person; if there are two, give one of them another id and grade again",
			"id %s is %q here and %q in %s; counted as one student", e.Student, e.Name, first.name, first.file)
		first.told = true
		names[e.Student] = first
	}
}

// sign gives the signatures to whom they are for; of several for the same the latest counts.
func (g *gathering) sign(at, place map[string]int) {
	bare := map[string]int{} // students by their id as a spreadsheet leaves it; -1 for several
	for id, k := range at {
		key := bareID(id)
		if _, twice := bare[key]; twice {
			k = -1
		}
		bare[key] = k
	}
	for i := range g.t.SignOffs {
		s := &g.t.SignOffs[i]
		k, known := at[s.Student]
		if !known {
			k, known = bare[bareID(s.Student)]
		}
		switch {
		case !known:
			g.problem(s.Place, "correct the id, or leave it: it counts for nobody", "no record speaks of student %q", s.Student)
			continue
		case k < 0:
			g.problem(s.Place, "write the id as the class list has it; it counts for nobody", "id %q fits several students", s.Student)
			continue
		}
		c, known := place[s.Competency]
		if !known {
			g.problem(s.Place, "correct the id of the competency; the sheet Rules lists them", "there is no competency %q", s.Competency)
			continue
		}
		own := &g.t.Students[k].Standings[c]
		if own.Signed == nil || own.Signed.Date <= s.Date {
			own.Signed = s
		}
	}
}

// bareID is an id without what spreadsheets lose: case and leading zeros.
func bareID(id string) string {
	id = strings.ToUpper(strings.TrimSpace(id))
	if strings.Trim(id, "0123456789") != "" {
		return id
	}
	return strings.TrimLeft(id, "0")
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
