package roster

import "fmt"

// Student is one line of a class list.
type Student struct {
	ID         string // passes disk.CheckName; differs from all others even without regard to case
	Name       string // NFC, single spaces; may be empty; may look like a formula, so neutralize it in CSV
	Family     string // the family name where the list has one of its own, as Name; lists are sorted by it
	Section    string // as Name
	LargePrint bool
	SourcedID  string // the user's OneRoster sourcedId, "" from other sources
}

// Remark is something that a person should know and that stops nothing.
type Remark struct {
	File string
	Line int // from 1; 0 means the file as a whole
	Text string
}

func (r Remark) String() string {
	if r.Line == 0 {
		return r.File + ": " + r.Text
	}
	return fmt.Sprintf("%s:%d: %s", r.File, r.Line, r.Text)
}

// Roster is a class list in the order of its file.
type Roster struct {
	Students []Student
	Remarks  []Remark
	Source   string // the path and what it was taken for, for people to read
	Class    Class  // of a OneRoster package, the first of several; else zero
}

// Class is what a OneRoster package says about the chosen class. Marks that go
// back to that system have to name it, its school and a term.
type Class struct {
	SourcedID, Title, Code string
	SchoolSourcedID        string
	TermSourcedIDs         []string
}
