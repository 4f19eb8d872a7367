package evidence

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strings"

	"nospark/grading"
	"nospark/scenarios/disk"
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

// Format is the version of records that this program writes. It reads older ones and refuses newer ones by name.
//
// Format 1 knew no place, complaint, case, label of a fault and adjustment; those are empty in what is read of it.
const Format = 2

// Record is what grading one lab says about each student of one section. It names hidden faults: for instructors only.
type Record struct {
	Format  int    `json:"format"`
	Program string `json:"program"`
	Term    string `json:"term"` // id
	Lab     string `json:"lab"`
	Title   string `json:"title"`
	Date    string `json:"date"`    // of the lab, 2026-10-05
	Section string `json:"section"` // "" for students without one

	// Who teaches the section, and where and when; "" where the term does not say. From format 2 on.
	Instructor string `json:"instructor"`
	Course     string `json:"course"`
	Campus     string `json:"campus"`
	Cohort     string `json:"cohort"`

	Pack      string  `json:"pack"`
	Version   int     `json:"pack_version"`
	Reference int64   `json:"reference"` // tenths of a minute
	Students  []Entry `json:"students"`  // in the order of the lab's sheets
	Seal      string  `json:"seal"`      // keyed, over everything above
}

// Entry is what a record says about one student.
type Entry struct {
	Student   string         `json:"student"` // id
	Name      string         `json:"name"`
	Family    string         `json:"family"`  // family name, "" where the class list has none of its own
	Sheet     string         `json:"sheet"`   // code
	Vehicle   int            `json:"vehicle"` // which of the student's in this lab, from 1; 0 where each has but one
	Status    grading.Status `json:"status"`
	Why       string         `json:"why"`
	Mark      float64        `json:"mark"`      // 0..100; 0 and meaningless when blank or excused
	Set       bool           `json:"set"`       // by the instructor
	Adjusted  bool           `json:"adjusted"`  // corrected, confirmed or set by the instructor
	Parts     lab.Parts      `json:"parts"`     // of the mark
	Complaint string         `json:"complaint"` // id
	Fault     string         `json:"fault"`     // id of the hidden fault
	Label     string         `json:"fault_label"`
	Repair    string         `json:"repair"`
	Concluded string         `json:"concluded"` // id of the repair concluded, "" for none
	Right     bool           `json:"right"`
	Worked    bool           `json:"worked"` // there are steps or a conclusion
	Proven    bool           `json:"proven"` // right, and no test could have changed it
	Asked     int            `json:"asked"`  // verdicts asked on readings that count
	Agreed    int            `json:"agreed"`
	Minutes   int64          `json:"minutes"` // tenths, also below
	Best      int64          `json:"best"`
	LostSteps float64        `json:"lost_steps"`
	LostEarly float64        `json:"lost_early"`
	LostWrong float64        `json:"lost_wrong"`
	Evidence  []Item         `json:"evidence"`
}

// FromResult makes the records of a graded lab, one for each section in ascending order. The term says who teaches a
// section, and where and when.
func FromResult(l *lab.Lab, result *grading.Result, autumn term.Term) []*Record {
	of := map[string]*Record{}
	var sections []string
	for i := range result.Students {
		s := &result.Students[i]
		if s.Student == "" {
			continue
		}
		r := of[s.Section]
		if r == nil {
			place := autumn.PlaceOf(s.Section)
			r = &Record{
				Format: Format, Program: l.Program, Term: l.Term, Lab: l.Name, Title: l.Title, Date: l.Date,
				Section: s.Section, Instructor: place.Instructor, Course: place.Course, Campus: place.Campus,
				Cohort: place.Cohort,
				Pack:   l.Pack.Name, Version: l.Pack.Version, Reference: result.Reference,
			}
			of[s.Section] = r
			sections = append(sections, s.Section)
		}
		r.Students = append(r.Students, entry(l, s))
	}
	slices.Sort(sections)
	var list []*Record
	for _, s := range sections {
		list = append(list, of[s])
	}
	return list
}

// entry takes from a student's result what the term needs. It is a copy in words and ids: a record outlives the lab,
// its pack and the indexes of both.
func entry(l *lab.Lab, s *grading.StudentResult) Entry {
	sheet := &l.Sheets[s.Index]
	fault := l.Faults[l.Hypotheses[sheet.Truth].Fault]
	e := Entry{
		Student: s.Student, Name: s.Name, Family: sheet.Family, Sheet: s.Sheet, Vehicle: s.Vehicle,
		Status: s.Status, Why: s.Why, Set: s.Set,
		Adjusted:  s.Set || s.Status == grading.Graded && s.Why != "",
		Complaint: l.Complaints[sheet.Complaint].ID, Fault: fault.ID, Label: fault.Label,
		Repair: l.Repairs[fault.Repair].ID,
		Right:  s.Right, Worked: len(s.Steps) > 0 || s.Repair >= 0, Proven: Proven(s),
		Minutes: s.Minutes, Best: s.Best,
		LostSteps: rounded(s.LostSteps), LostEarly: rounded(s.LostEarly), LostWrong: rounded(s.LostWrong),
		Evidence: items(l, s),
	}
	if s.Status == grading.Incomplete { // records know of it as of any sheet without a mark
		e.Status = grading.Blank
	}
	if s.Status.HasMark() {
		e.Mark = rounded(s.Mark)
		p := s.Parts
		e.Parts = lab.Parts{
			Evidence: rounded(p.Evidence), Diagnosis: rounded(p.Diagnosis), Efficiency: rounded(p.Efficiency),
			Interpretation: rounded(p.Interpretation),
			Reasoning:      rounded(p.Reasoning), Safety: rounded(p.Safety),
		}
	}
	if s.Repair >= 0 {
		e.Concluded = l.Repairs[s.Repair].ID
	}
	for _, step := range s.Steps {
		if !counts(step) || step.Silent {
			continue
		}
		e.Asked++
		if step.Agrees {
			e.Agreed++
		}
	}
	return e
}

// longestName bounds each part of a file's name, so that three of them fit into the 255 bytes that file systems allow.
const longestName = 80

// FileName is the name under which a record is kept: LAB-SECTION-TERM.json. Dashes of the section are written %2D, so
// that two records of a term never share a name; a section too long for a file's name is cut and told apart by its
// fingerprint.
func (r *Record) FileName() string {
	section := strings.ReplaceAll(disk.EscapeName(r.Section), "-", "%2D")
	if len(section) > longestName {
		sum := sha256.Sum256([]byte(r.Section))
		section = strings.ToValidUTF8(section[:longestName-17], "") + "%" + hex.EncodeToString(sum[:8])
	}
	return disk.EscapeName(r.Lab) + "-" + section + "-" + disk.EscapeName(r.Term) + ".json"
}
