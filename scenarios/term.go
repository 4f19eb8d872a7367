package scenarios

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"nospark/scenarios/disk"
)

// The files of a term, by their names in its folder.
const (
	TermFile   = "term.toml"
	KeyFile    = "term.key"
	RosterFile = "roster.csv"
	LabsFolder = "labs"
)

// sourceLimit bounds every text that people write: a plan, a term, a pack.
const sourceLimit = 4 << 20

// Term is what all labs of a term share, the content of term.toml.
type Term struct {
	ID          string // random, no secret: tells labs of different terms apart
	Program     string
	Paper       string // "letter" or "a4"
	RetainUntil string // day after which the records may be destroyed, 2006-01-02, or ""
	Rubric      Rubric
	Mastery     Mastery
	Tasks       []Task
	RecordsOf   []string // ids of other terms whose records count here too
	Signers     []string // who may sign competencies; nil: anybody
}

// Mastery is the rule by which counted evidence makes a student competent: Met of the last Of opportunities, from at least Labs
// different labs, and signed by the instructor when Signed is set.
type Mastery struct {
	Met, Of, Labs int
	Signed        bool
}

// Task maps a competency of the packs to a task of the program's own list. A competency may stand for several tasks and a task for
// several competencies.
type Task struct {
	Competency string
	Code       string // as the program writes it
	Title      string
	Priority   string
	Taught     bool
}

// DefaultRubric is used when neither term nor plan has one.
func DefaultRubric() Rubric {
	return Rubric{Evidence: 15, Diagnosis: 40, Efficiency: 30, Interpretation: 15}
}

// DefaultMastery is used when the term has no rule: 4 of the last 5, from at least 3 labs, signed.
func DefaultMastery() Mastery { return Mastery{Met: 4, Of: 5, Labs: 3, Signed: true} }

// ParseTerm reads the text of term.toml; file is its name for errors. The error joins everything found wrong, in the order of lines.
func ParseTerm(file, text string) (Term, error) {
	s, err := readDocument(file, text)
	if err != nil {
		return Term{}, err
	}
	t := Term{
		ID:          s.need("id", "3f9c02a1b7d4"),
		Program:     s.need("program", "Automotive Technology"),
		Paper:       s.choice("paper", "letter", "letter", "a4"),
		RetainUntil: s.date("retain_until"),
		Rubric:      readRubric(s, DefaultRubric()),
		Mastery:     readMastery(s),
		Tasks:       readTasks(s),
		RecordsOf:   s.texts("records_of"),
		Signers:     s.texts("signers"),
	}
	const plain = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-"
	if t.ID != "" && (len(t.ID) < 6 || len(t.ID) > 40 || strings.Trim(t.ID, plain) != "") {
		s.fail("id", "id = %q: want 6 to 40 letters, digits and dashes", t.ID)
	}
	s.rest()
	if err := s.doc.failure(); err != nil {
		return Term{}, err
	}
	return t, nil
}

// readRubric reads [rubric]. Weights that the table leaves out are 0: a rubric is changed as a whole, so that its sum can be seen.
func readRubric(s *settings, def Rubric) Rubric {
	c := s.child("rubric")
	if c == nil {
		return def
	}
	r := Rubric{
		Evidence:       c.whole("evidence", 0, 0, 100),
		Diagnosis:      c.whole("diagnosis", 0, 0, 100),
		Efficiency:     c.whole("efficiency", 0, 0, 100),
		Interpretation: c.whole("interpretation", 0, 0, 100),
		Reasoning:      c.whole("reasoning", 0, 0, 100),
		Safety:         c.whole("safety", 0, 0, 100),
	}
	c.rest()
	if sum := r.sum(); sum != 100 {
		c.fail("", "the weights of the rubric sum to %d, want 100", sum)
	}
	return r
}

func (r Rubric) sum() int {
	return r.Evidence + r.Diagnosis + r.Efficiency + r.Interpretation + r.Reasoning + r.Safety
}

func readMastery(s *settings) Mastery {
	m := DefaultMastery()
	c := s.child("mastery")
	if c == nil {
		return m
	}
	m.Of = c.whole("of", m.Of, 1, 100)
	m.Met = c.whole("met", min(m.Met, m.Of), 1, 100)
	m.Labs = c.whole("labs", min(m.Labs, m.Of), 1, 100)
	m.Signed = c.flag("signed", m.Signed)
	c.rest()
	if m.Met > m.Of {
		c.fail("met", "met = %d of = %d: more than all cannot be met", m.Met, m.Of)
	}
	if m.Labs > m.Of {
		c.fail("labs", "labs = %d of = %d: each opportunity comes from one lab, so at most %d labs", m.Labs, m.Of, m.Of)
	}
	return m
}

func readTasks(s *settings) []Task {
	var tasks []Task
	seen := map[[2]string]bool{}
	for _, c := range s.children("task") {
		t := Task{
			Competency: c.need("competency", "voltage-drop"),
			Code:       c.need("code", "A.7"),
			Title:      c.text("title"),
			Priority:   c.text("priority"),
			Taught:     c.flag("taught", true),
		}
		c.rest()
		pair := [2]string{t.Competency, t.Code}
		if seen[pair] {
			c.fail("", "competency %q is mapped to code %q twice", t.Competency, t.Code)
		}
		seen[pair] = true
		tasks = append(tasks, t)
	}
	return tasks
}

// FindTerm gives the folder of the term that path, a plan, a lab or the folder itself, belongs to: the nearest one upwards that has a
// term.toml. A path from the working folder gives one from there, so that messages name files as the user does.
func FindTerm(path string) (string, error) {
	full, err := filepath.Abs(path)
	if err != nil {
		return "", fmt.Errorf("%s: %w", path, err)
	}
	for dir := full; ; {
		if info, err := os.Stat(filepath.Join(dir, TermFile)); err == nil && info.Mode().IsRegular() {
			return asGiven(path, full, dir), nil
		}
		parent := filepath.Dir(dir)
		if parent == dir {
			return "", fmt.Errorf("%s: no %s in its folder or above; a term is made by: nospark new DIR", path, TermFile)
		}
		dir = parent
	}
}

// asGiven writes a folder above a file the way the file's path is written, as long as it leads there: a link on the way can make .. lead
// elsewhere. full is the file's path from the root.
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

// ReadTerm reads the term.toml of the folder dir.
func ReadTerm(dir string) (Term, error) {
	path := filepath.Join(dir, TermFile)
	text, err := disk.Read(path, sourceLimit)
	if err != nil {
		return Term{}, err
	}
	return ParseTerm(path, string(text))
}
