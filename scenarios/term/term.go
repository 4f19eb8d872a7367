package term

import (
	"cmp"
	"encoding/base64"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"

	"nospark/scenarios/disk"
	"nospark/scenarios/lab"
	"nospark/scenarios/strict"
)

// The files of a term, by their names in its folder.
const (
	File       = "term.toml"
	KeyFile    = "term.key"
	RosterFile = "roster.csv"
	LabsFolder = "labs"
)

// SourceLimit bounds every text that people write: a plan, a term, a pack.
const SourceLimit = 4 << 20

// Term is what all labs of a term share, the content of term.toml.
type Term struct {
	ID          string // random, no secret: tells labs of different terms apart
	Program     string
	Paper       string // "letter" or "a4"
	RetainUntil string // day after which the records may be destroyed, 2006-01-02, or ""
	Place       Place  // of the sections that have no place of their own
	Sections    map[string]Place
	Rubric      lab.Rubric
	Mastery     Mastery
	Tasks       []Task
	Sources     []Source // other instructors whose gathered records count here too
	Bench       string   // address under which phones find the bench, "" where it is not the same every time
	Signers     []string // who may sign competencies; nil: anybody
}

// Source is an instructor whose gathered records count.
type Source struct {
	Name   string
	Public string // the key that nospark gather prints
}

// Place says who teaches a section, and where and when; each may be "".
type Place struct{ Instructor, Course, Campus, Cohort string }

// PlaceOf gives the place of a section: what its own block leaves out is the term's.
func (t Term) PlaceOf(section string) Place {
	own := t.Sections[section]
	return Place{
		Instructor: cmp.Or(own.Instructor, t.Place.Instructor), Course: cmp.Or(own.Course, t.Place.Course),
		Campus: cmp.Or(own.Campus, t.Place.Campus), Cohort: cmp.Or(own.Cohort, t.Place.Cohort),
	}
}

// Mastery is the rule by which counted evidence makes a student competent: Met of the last Of opportunities, the met
// ones on at least Faults different faults of at least Packs packs, from at least Labs labs, and signed by the
// instructor when Signed is set.
type Mastery struct {
	Met, Of             int
	Faults, Packs, Labs int
	Signed              bool
	Earlier             bool // evidence of an earlier cohort counts too
}

// Task maps a competency of the packs to a task of the program's own list. A competency may stand for several tasks
// and a task for several competencies.
type Task struct {
	Competency string
	Code       string // as the program writes it
	Title      string
	Priority   string
	Taught     bool
}

// DefaultRubric is used when neither term nor plan has one.
func DefaultRubric() lab.Rubric {
	return lab.Rubric{Evidence: 15, Diagnosis: 40, Efficiency: 30, Interpretation: 15}
}

// DefaultMastery is used when the term has no rule: 4 of the last 5, on at least 3 faults of 2 packs, signed. A
// number of labs alone hardly ever binds.
func DefaultMastery() Mastery {
	return Mastery{Met: 4, Of: 5, Faults: 3, Packs: 2, Labs: 1, Signed: true}
}

// Parse reads the text of term.toml; file is its name for errors. The error joins everything found wrong, in
// the order of lines.
func Parse(file, text string) (Term, error) {
	top, err := strict.Read(file, []byte(text))
	if err != nil {
		return Term{}, err
	}
	t := Term{
		ID:          top.TextLike("id", "3f9c02a1b7d4"),
		Program:     top.TextLike("program", "Automotive Technology"),
		Paper:       top.ChoiceOr("paper", papers, "letter"),
		RetainUntil: top.Date("retain_until"),
		Place:       readPlace(top),
		Sections:    readSections(top),
		Rubric:      readRubric(top, DefaultRubric()),
		Mastery:     readMastery(top),
		Tasks:       readTasks(top),
		Sources:     readSources(top),
		Bench:       top.TextOr("bench", ""),
		Signers:     texts(top, "signers"),
	}
	if t.Bench != "" && !isAddress(t.Bench) {
		top.Fail("bench", "", "bench = %q: want an address like \"http://192.168.1.20:8420\", without a path", t.Bench)
	}
	const plain = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-"
	if t.ID != "" && (len(t.ID) < 6 || len(t.ID) > 40 || strings.Trim(t.ID, plain) != "") {
		top.Fail("id", "", "id = %q: want 6 to 40 letters, digits and dashes", t.ID)
	}
	top.Finish()
	if err := top.Found.Err(); err != nil {
		return Term{}, err
	}
	return t, nil
}

// isAddress tells whether a text is the address of a bench.
func isAddress(text string) bool {
	const most = 100 // what a code on a strip holds beside sheet and word
	u, err := url.Parse(text)
	return err == nil && len(text) <= most && (u.Scheme == "http" || u.Scheme == "https") && u.Host != "" &&
		u.Scheme+"://"+u.Host == text
}

// readRubric reads [rubric]. Weights that the table leaves out are 0: a rubric is changed as a whole, so that its
// sum can be seen.
func readRubric(top *strict.Table, def lab.Rubric) lab.Rubric {
	t := top.Table("rubric")
	if t == nil {
		return def
	}
	weight := func(key string) int { return int(t.WholeOr(key, 0, 100, 0)) }
	r := lab.Rubric{
		Evidence:       weight("evidence"),
		Diagnosis:      weight("diagnosis"),
		Efficiency:     weight("efficiency"),
		Interpretation: weight("interpretation"),
		Reasoning:      weight("reasoning"),
		Safety:         weight("safety"),
	}
	t.Finish()
	if sum := r.Sum(); sum != 100 {
		top.FailAt(t.Line(""), "", "the weights of the rubric sum to %d, want 100", sum)
	}
	return r
}

func readMastery(top *strict.Table) Mastery {
	m := DefaultMastery()
	t := top.Table("mastery")
	if t == nil {
		return m
	}
	upTo100 := func(key string, otherwise int) int { return int(t.WholeOr(key, 1, 100, int64(otherwise))) }
	m.Of = upTo100("of", m.Of)
	m.Met = upTo100("met", min(m.Met, m.Of))
	m.Faults = upTo100("faults", min(m.Faults, m.Met))
	m.Packs = upTo100("packs", min(m.Packs, m.Met))
	m.Labs = upTo100("labs", m.Labs)
	m.Signed = t.Flag("signed", m.Signed)
	m.Earlier = t.Flag("earlier", m.Earlier)
	t.Finish()
	if m.Met > m.Of {
		t.Fail("met", "", "met = %d of = %d: more than all cannot be met", m.Met, m.Of)
	}
	for _, k := range []struct {
		key   string
		value int
	}{{"faults", m.Faults}, {"packs", m.Packs}} {
		if k.value > m.Met {
			t.Fail(k.key, "", "%s = %d met = %d: each met opportunity has one fault of one pack, so at most %d", k.key,
				k.value,
				m.Met, m.Met)
		}
	}
	if m.Labs > m.Of {
		t.Fail("labs", "", "labs = %d of = %d: each opportunity comes from one lab, so at most %d labs", m.Labs, m.Of,
			m.Of)
	}
	return m
}

// readPlace reads who teaches, and where and when, from a term or one of its sections.
func readPlace(t *strict.Table) Place {
	return Place{
		Instructor: t.TextOr("instructor", ""), Course: t.TextOr("course", ""),
		Campus: t.TextOr("campus", ""), Cohort: t.TextOr("cohort", ""),
	}
}

func readSections(top *strict.Table) map[string]Place {
	var sections map[string]Place
	for _, t := range top.Tables("section") {
		name := t.TextLike("name", "A")
		if _, twice := sections[name]; twice {
			t.Fail("name", "", "section %q is there twice", name)
		}
		if sections == nil {
			sections = map[string]Place{}
		}
		sections[name] = readPlace(t)
		t.Finish()
	}
	return sections
}

func readSources(top *strict.Table) []Source {
	var sources []Source
	for _, t := range top.Tables("source") {
		s := Source{Name: t.TextLike("name", "B. Ostrow"), Public: t.TextLike("key",
			"the key that nospark gather prints")}
		if raw, err := base64.StdEncoding.DecodeString(s.Public); s.Public != "" && (err != nil || len(raw) != 32) {
			t.Fail("key", "copy the line that nospark gather prints", "key = %q is no key of an instructor", s.Public)
		}
		t.Finish()
		sources = append(sources, s)
	}
	return sources
}

func readTasks(top *strict.Table) []Task {
	var tasks []Task
	seen := map[[2]string]bool{}
	for _, t := range top.Tables("task") {
		task := Task{
			Competency: t.TextLike("competency", "voltage-drop"),
			Code:       t.TextLike("code", "A.7"),
			Title:      t.TextOr("title", ""),
			Priority:   t.TextOr("priority", ""),
			Taught:     t.Flag("taught", true),
		}
		t.Finish()
		pair := [2]string{task.Competency, task.Code}
		if seen[pair] {
			t.Fail("", "", "competency %q is mapped to code %q twice", task.Competency, task.Code)
		}
		seen[pair] = true
		tasks = append(tasks, task)
	}
	return tasks
}

// Find gives the folder of the term that path, a plan, a lab or the folder itself, belongs to: the nearest one
// upwards that has a term.toml. A path from the working folder gives one from there, so that messages name files as
// the user does.
func Find(path string) (string, error) {
	full, err := filepath.Abs(path)
	if err != nil {
		return "", fmt.Errorf("%s: %w", path, err)
	}
	for dir := full; ; {
		if info, err := os.Stat(filepath.Join(dir, File)); err == nil && info.Mode().IsRegular() {
			return asGiven(path, full, dir), nil
		}
		parent := filepath.Dir(dir)
		if parent == dir {
			return "", fmt.Errorf("%s: no %s in its folder or above; a term is made by: nospark new DIR", path, File)
		}
		dir = parent
	}
}

// asGiven writes a folder above a file the way the file's path is written, as long as it leads there: a link on the
// way can make .. lead elsewhere. full is the file's path from the root.
func asGiven(path, full, dir string) string {
	up, err := filepath.Rel(full, dir)
	if err != nil || filepath.IsAbs(path) {
		return dir
	}
	short := filepath.Join(path, up)
	want, err := os.Stat(dir)
	if err != nil {
		return dir
	}
	if got, err := os.Stat(short); err != nil || !os.SameFile(got, want) {
		return dir
	}
	return short
}

// Read reads the term.toml of the folder dir.
func Read(dir string) (Term, error) {
	path := filepath.Join(dir, File)
	text, err := disk.Read(path, SourceLimit)
	if err != nil {
		return Term{}, err
	}
	return Parse(path, string(text))
}
