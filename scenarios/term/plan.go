package term

import (
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"nospark/scenarios/disk"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/spelling"
	"nospark/scenarios/strict"
)

// Plan is what an instructor asks of one lab, the content of a file in plans/. Ids are as written; package build checks
// them against the pack.
type Plan struct {
	Name        string // of the lab and its folder
	Title       string
	Date        string // 2006-01-02
	Pack        string // name of a built-in pack, or the path of a file from the term's folder
	Complaints  []string
	Instruments []string // allowed ones; nil: all of the pack
	Conditions  []string // allowed ones; nil: all of the pack
	Unplug      bool     // tests that take parts off are allowed
	Forbid      []string // instruments on offer that students are told not to use
	Faults      []string // may be hidden; nil: all
	Exclude     []string // may not be hidden
	Difficulty  [2]int64 // tenths of a minute of best play; zero: the fairest set
	Competency  []string // kinds of test for which the lab shall give opportunities
	Nothing     bool     // a vehicle with nothing wrong is possible, and the students know
	Proof       bool     // a repair needs its checks; false: the list is complete, for beginners
	Known       int      // most readings that are known when a sheet begins; 0: empty-handed
	Vehicles    int      // a student
	Period      int      // minutes of the lesson
	Scope       bool     // the oscilloscope is among the instruments
	Spares      int
	AnySpares   bool        // the plan does not say how many
	Roster      string      // path of the class list from the term's folder; "": roster.csv
	Class       string      // of a OneRoster folder with several classes
	Classes     []string    // several of them instead of one
	IDColumn    string      // heading of the column with the ids; "": the usual ones
	Sections    []string    // nil: all of the roster
	LargePrint  []string    // ids of students
	Seating     string      // path of a file from the term's folder; "": neighbors in the order of the roster
	Rows        int         // lines of the record table
	Paper       string      // "": the term's
	Rubric      *lab.Rubric // nil: the term's
	File        string      // for errors
	at          *strict.Position
}

// defaultRows are enough for a proof on any built-in pack and leave room for detours; two pages hold them in 12 pt.
const defaultRows = 16

// A lesson takes as many minutes.
const (
	shortestPeriod = 30
	longestPeriod  = 400
)

// mostKnown is how many readings a work order can hold.
const mostKnown = 2

// ParsePlan reads the text of a plan; file is its path for errors and gives the lab its name when the plan has
// none. The error joins everything found wrong, in the order of lines.
func ParsePlan(file, text string) (Plan, error) {
	t, err := strict.Read(file, []byte(text))
	if err != nil {
		return Plan{}, err
	}
	p := Plan{
		Name:        t.TextOr("name", strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))),
		Title:       t.TextLike("title", "Cranks, no start"),
		Date:        t.Date("date"),
		Pack:        t.TextLike("pack", "single-coil"),
		Complaints:  someTexts(t, "complaints"),
		Instruments: someTexts(t, "instruments"),
		Conditions:  someTexts(t, "conditions"),
		Unplug:      t.Flag("unplug", true),
		Forbid:      texts(t, "forbid"),
		Faults:      someTexts(t, "faults"),
		Exclude:     texts(t, "exclude"),
		Competency:  someTexts(t, "competency"),
		Nothing:     t.Flag("nothing_found", false),
		Proof:       t.Flag("proof", true),
		Known:       int(t.WholeOr("known", 0, mostKnown, mostKnown)),
		Vehicles:    int(t.WholeOr("vehicles", 1, 3, 1)),
		Period:      int(t.WholeOr("period", shortestPeriod, longestPeriod, lab.UsualPeriod)),
		Scope:       t.Flag("scope", false),
		Spares:      int(t.WholeOr("spares", 0, 500, 0)),
		AnySpares:   !t.Has("spares"),
		Roster:      t.TextOr("roster", ""),
		Class:       t.TextOr("class", ""),
		Classes:     someTexts(t, "classes"),
		IDColumn:    t.TextOr("id_column", ""),
		Sections:    someTexts(t, "sections"),
		LargePrint:  texts(t, "large_print"),
		Seating:     t.TextOr("seating", ""),
		Rows:        int(t.WholeOr("rows", 4, 20, defaultRows)),
		Paper:       t.ChoiceOr("paper", papers, ""),
		File:        file,
		at:          t.Position(),
	}
	if err := disk.CheckName(p.Name); err != nil {
		t.Fail("name", "", "%v; it becomes the name of the lab's folder", err)
	}
	if !t.Has("date") {
		t.Fail("date", `write for example date = "2026-10-05"`, "key %q is missing", "date")
	}
	p.readComplaint(t)
	if p.Class != "" && len(p.Classes) > 0 {
		t.Fail("classes", "keep one of them", "class and classes are both given")
	}
	if ends := t.MinutesRange("difficulty", 1000); ends != nil {
		p.Difficulty = [2]int64(ends)
	}
	if t.Has("rubric") {
		r := readRubric(t, lab.Rubric{})
		p.Rubric = &r
	}
	p.contradictions(t)
	t.Finish()
	if err := t.Found.Err(); err != nil {
		return Plan{}, err
	}
	return p, nil
}

// papers are the sizes of paper.
var papers = []string{"letter", "a4"}

func texts(t *strict.Table, key string) []string {
	list, _ := t.Texts(key)
	return list
}

// someTexts reads a list that says what is allowed. An empty one would leave nothing.
func someTexts(t *strict.Table, key string) []string {
	list := texts(t, key)
	if list != nil && len(list) == 0 {
		t.Fail(key, "remove the line to allow all", "%s is an empty list, which leaves nothing", key)
	}
	return list
}

// readComplaint takes the short form for one complaint.
func (p *Plan) readComplaint(t *strict.Table) {
	one := t.TextOr("complaint", "")
	if one == "" {
		return
	}
	if t.Has("complaints") {
		t.Fail("complaint", "keep one of them", "complaint and complaints are both given")
	}
	p.Complaints = []string{one}
}

// contradictions finds settings that exclude each other, which no pack could satisfy.
func (p *Plan) contradictions(t *strict.Table) {
	if len(p.Faults) > 0 && len(p.Exclude) > 0 {
		t.Fail("exclude", "", "faults and exclude are both given: faults alone says what may be hidden")
	}
	for key, list := range map[string][]string{"instruments": p.Instruments, "forbid": p.Forbid} {
		for _, id := range list {
			if cards.InstrumentByID(id) == nil {
				t.Fail(key, instrumentHint(id), "%s names %q, which is no instrument", key, id)
			}
		}
	}
	for _, id := range p.Forbid {
		if p.Instruments != nil && cards.InstrumentByID(id) != nil && !slices.Contains(p.Instruments, id) {
			t.Fail("forbid", "", "forbid names %q, which instruments does not offer in the first place", id)
		}
	}
	noScope := func(key string, list []string) {
		if !p.Scope && slices.ContainsFunc(list, cards.IsScope) {
			t.Fail(key, "write scope = true", "%s names an oscilloscope, which this lab does not have", key)
		}
	}
	noScope("instruments", p.Instruments)
	noScope("forbid", p.Forbid)
	if p.Nothing && slices.Contains(p.Exclude, lab.NothingWrong) {
		t.Fail("exclude", "keep one of them", "exclude names %q and nothing_found = true", lab.NothingWrong)
	}
	if !p.Nothing && slices.Contains(p.Faults, lab.NothingWrong) {
		t.Fail("faults", "", "faults names %q, which needs nothing_found = true", lab.NothingWrong)
	}
}

// instrumentHint says which instrument was meant, or which there are. The oscilloscope is no instrument of that list.
func instrumentHint(id string) string {
	if near := spelling.Nearest(id, []string{"scope", "oscilloscope"}); near != "" {
		return "for the oscilloscope write scope = true"
	}
	if near := spelling.Nearest(id, cards.InstrumentIDs()); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	meters := slices.DeleteFunc(cards.InstrumentIDs(), cards.IsScope)
	return "known: " + strings.Join(meters, ", ") + "; for the oscilloscope write scope = true"
}

// Place is the file and line of a key, for errors that only the pack or the roster shows.
func (p *Plan) Place(key string) string {
	if !p.Has(key) {
		return p.File
	}
	return p.File + ":" + strconv.Itoa(p.at.Key(key).Line)
}

func (p *Plan) Has(key string) bool { return p.at != nil && p.at.Keys[key] != nil }
