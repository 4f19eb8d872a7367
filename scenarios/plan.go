package scenarios

import (
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"nospark/scenarios/disk"
	"nospark/scenarios/lines"
	"nospark/scenarios/pack"
	"nospark/scenarios/spelling"
)

// Plan is what an instructor asks of one lab, the content of a file in plans/. Ids are as written; Build checks them against the pack.
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
	Nothing     bool     // a vehicle with nothing wrong is possible, and the students know
	Scope       bool     // oscilloscope pictures for two lines
	Spares      int
	Roster      string   // path of the class list from the term's folder; "": roster.csv
	Class       string   // of a OneRoster folder with several classes
	IDColumn    string   // heading of the column with the ids; "": the usual ones
	Sections    []string // nil: all of the roster
	LargePrint  []string // ids of students
	Seating     string   // path of a file from the term's folder; "": neighbours in the order of the roster
	Rows        int      // lines of the record table
	Paper       string   // "": the term's
	Rubric      *Rubric  // nil: the term's
	File        string   // for errors
	at          *lines.Place
}

// defaultRows are enough for best play of any built-in pack and leave room for detours; two pages hold them in 12 pt.
const defaultRows = 12

// ParsePlan reads the text of a plan; file is its path for errors and gives the lab its name when the plan has none. The error joins
// everything found wrong, in the order of lines.
func ParsePlan(file, text string) (Plan, error) {
	s, err := readDocument(file, text)
	if err != nil {
		return Plan{}, err
	}
	stem := strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))
	p := Plan{
		Name:        s.text("name"),
		Title:       s.need("title", "Cranks, no start"),
		Pack:        s.need("pack", "single-coil"),
		Complaints:  s.texts("complaints"),
		Instruments: s.texts("instruments"),
		Conditions:  s.texts("conditions"),
		Unplug:      s.flag("unplug", true),
		Forbid:      s.texts("forbid"),
		Faults:      s.texts("faults"),
		Exclude:     s.texts("exclude"),
		Nothing:     s.flag("nothing_found", false),
		Scope:       s.flag("scope", false),
		Spares:      s.whole("spares", 0, 0, 500),
		Roster:      s.text("roster"),
		Class:       s.text("class"),
		IDColumn:    s.text("id_column"),
		Sections:    s.texts("sections"),
		LargePrint:  s.texts("large_print"),
		Seating:     s.text("seating"),
		Rows:        s.whole("rows", defaultRows, 4, 20),
		Paper:       s.choice("paper", "", "letter", "a4"),
		File:        file,
		at:          s.place,
	}
	if !s.has("name") {
		p.Name = stem
	}
	if err := disk.CheckName(p.Name); err != nil {
		s.fail("name", "%v; it becomes the name of the lab's folder", err)
	}
	if !s.has("date") {
		s.fail("", `date is missing; write for example date = "2026-10-05"`)
	}
	p.Date = s.date("date")
	p.readComplaint(s)
	p.readDifficulty(s)
	if s.has("rubric") {
		r := readRubric(s, Rubric{})
		p.Rubric = &r
	}
	p.contradictions(s)
	s.rest()
	if err := s.doc.failure(); err != nil {
		return Plan{}, err
	}
	return p, nil
}

// readComplaint takes the short form for one complaint.
func (p *Plan) readComplaint(s *settings) {
	one := s.text("complaint")
	if one == "" {
		return
	}
	if s.has("complaints") {
		s.fail("complaint", "complaint and complaints are both given: keep one of them")
	}
	p.Complaints = []string{one}
}

func (p *Plan) readDifficulty(s *settings) {
	v, ok := s.take("difficulty")
	if !ok {
		return
	}
	list, ok := v.([]any)
	if !ok || len(list) != 2 {
		s.fail("difficulty", "difficulty = %s: want minutes of best play from and to, for example [6, 12]", show(v))
		return
	}
	for i := range list {
		tenths, ok := s.minutes("difficulty", list[i])
		if !ok {
			return
		}
		p.Difficulty[i] = tenths
	}
	if p.Difficulty[1] == 0 || p.Difficulty[0] > p.Difficulty[1] {
		s.fail("difficulty", "difficulty = %s: want the lower number first, and the higher above 0", show(v))
	}
}

// contradictions finds settings that exclude each other, which no pack could satisfy.
func (p *Plan) contradictions(s *settings) {
	for _, key := range []string{"complaints", "instruments", "conditions", "faults", "sections"} {
		if list, ok := s.values[key].([]any); ok && len(list) == 0 {
			s.fail(key, "%s is an empty list, which leaves nothing; remove the line to allow all", key)
		}
	}
	if len(p.Faults) > 0 && len(p.Exclude) > 0 {
		s.fail("exclude", "faults and exclude are both given: faults alone says what may be hidden")
	}
	for _, id := range p.Instruments {
		if pack.InstrumentByID(id) == nil {
			s.fail("instruments", "instruments names %q, which is no instrument; %s", id, spelling.Suggest(id, instrumentIDs()))
		}
	}
	for _, id := range p.Forbid {
		switch {
		case pack.InstrumentByID(id) == nil:
			s.fail("forbid", "forbid names %q, which is no instrument; %s", id, spelling.Suggest(id, instrumentIDs()))
		case p.Instruments != nil && !slices.Contains(p.Instruments, id):
			s.fail("forbid", "forbid names %q, which instruments does not offer in the first place", id)
		}
	}
	if p.Nothing && slices.Contains(p.Exclude, NothingWrong) {
		s.fail("exclude", "exclude names %q and nothing_found = true: keep one of them", NothingWrong)
	}
	if !p.Nothing && slices.Contains(p.Faults, NothingWrong) {
		s.fail("faults", "faults names %q, which needs nothing_found = true", NothingWrong)
	}
}

func instrumentIDs() []string {
	ids := make([]string, len(pack.Instruments))
	for i, in := range pack.Instruments {
		ids[i] = in.ID
	}
	return ids
}

// place is the file and line of a key, for errors that only the pack or the roster shows.
func (p *Plan) place(key string) string {
	if !p.has(key) {
		return p.File
	}
	return p.File + ":" + strconv.Itoa(p.at.Key(key).Line)
}

func (p *Plan) has(key string) bool { return p.at != nil && p.at.Keys[key] != nil }
