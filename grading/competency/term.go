package competency

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"nospark/grading"
	"nospark/scenarios/disk"
	"nospark/scenarios/term"
)

// Options say what a term's records are read with.
type Options struct {
	Term     term.Term // its rule of mastery and tasks; its records are those whose seals can be checked
	Key      *term.Key // nil: seals are not checked, and students have no codes
	SignOffs []SignOff
	Today    string // 2006-01-02, to know a signature of the future; "": no day is
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
		name = disk.ShowName(name) // from here on it stands in messages only
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
