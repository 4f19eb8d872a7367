package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"nospark/grading/competency"
	"nospark/grading/competency/lists"
	"nospark/grading/evidence"
	"nospark/scenarios/disk"
	"nospark/scenarios/lab"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
)

// studentIn is one student with everything in a term by which something can be his or hers.
type studentIn struct {
	dir    string
	term   term.Term
	key    term.Key
	ids    []string // the one asked for first, then those that aliases.csv makes the same
	names  []string // as in labs and records
	labs   []studentLab
	others map[string]bool // ids of everybody else, folded
	bare   map[string]bool // ids as a spreadsheet leaves them that are nobody else's
}

// studentLab is a lab in which the student has sheets, or of which somebody has to look at the files all the same.
type studentLab struct {
	folder string
	lab    *lab.Lab
	codes  []string // of the student's sheets
}

// findStudent looks a student up in the labs, the records and the class list of a term.
func findStudent(dir, id string) (*studentIn, error) {
	s := &studentIn{dir: dir, ids: []string{id}, bare: map[string]bool{}, others: map[string]bool{}}
	var termErr, keyErr error
	s.term, termErr = term.Read(dir)
	s.key, keyErr = term.ReadKey(filepath.Join(dir, term.KeyFile))
	if err := errors.Join(termErr, keyErr); err != nil {
		return nil, err
	}
	if err := s.addAliases(); err != nil {
		return nil, err
	}
	if err := s.readLabs(); err != nil {
		return nil, err
	}
	class, err := s.everybody()
	if err != nil {
		return nil, err
	}
	s.addSame(class)
	s.markSheets()
	var ids []string
	for _, x := range class {
		ids = append(ids, x.ID)
	}
	known := false
	otherBare := map[string]bool{}
	for _, x := range class {
		if !s.named(x.ID) {
			otherBare[roster.BareID(x.ID)] = true
			if x.ID != "" {
				s.others[roster.FoldID(x.ID)] = true
			}
			continue
		}
		known = true
		if x.Name != "" && !slices.Contains(s.names, x.Name) {
			s.names = append(s.names, x.Name)
		}
	}
	if !known {
		return nil, fmt.Errorf("no lab, record or %s of %s knows student %q%s", term.RosterFile, dir, id,
			cmp.Or(roster.AskID(id, ids), "; write the id as the class list has it"))
	}
	for _, own := range s.ids {
		if bare := roster.BareID(own); !otherBare[bare] {
			s.bare[bare] = true
		}
	}
	return s, nil
}

// addSame takes in ids that differ from the student's by leading zeros alone and have no other name: one list of the
// class had lost them. Who have sheets in one lab are two people. An id that nobody has is asked about instead.
func (s *studentIn) addSame(class []roster.Student) {
	var names []string
	for _, x := range class {
		if s.named(x.ID) {
			names = append(names, x.Name)
		}
	}
	for _, x := range class {
		_, zeros := roster.SameIDs([]string{x.ID}, s.ids)[x.ID]
		same := func(name string) bool { return roster.SameName(name, x.Name) }
		if zeros && slices.ContainsFunc(names, same) && !s.besides(x.ID) && !s.named(x.ID) {
			s.ids = append(s.ids, x.ID)
		}
	}
}

// besides tells whether an id has a sheet in a lab in which the student has one.
func (s *studentIn) besides(id string) bool {
	return slices.ContainsFunc(s.labs, func(at studentLab) bool {
		has := func(is func(string) bool) bool {
			return slices.ContainsFunc(at.lab.Sheets, func(x lab.Sheet) bool { return is(x.Student) })
		}
		return has(s.named) && has(func(other string) bool { return other == id })
	})
}

// readLabs reads the labs of the term.
func (s *studentIn) readLabs() error {
	for _, folder := range labsOf(s.dir) {
		l, err := readLab(folder)
		if err != nil {
			return err
		}
		s.labs = append(s.labs, studentLab{folder: folder, lab: l})
	}
	return nil
}

// markSheets notes which sheets of the labs are the student's.
func (s *studentIn) markSheets() {
	for i := range s.labs {
		at := &s.labs[i]
		for _, sheet := range at.lab.Sheets {
			if s.named(sheet.Student) {
				at.codes = append(at.codes, sheet.Code)
			}
		}
	}
}

// everybody lists who stands in the labs, the records and the class list, as often as they do.
func (s *studentIn) everybody() ([]roster.Student, error) {
	var class []roster.Student
	for _, at := range s.labs {
		for _, sheet := range at.lab.Sheets {
			class = append(class, roster.Student{ID: sheet.Student, Name: sheet.Name})
		}
	}
	records, err := s.records()
	if err != nil {
		return nil, err
	}
	for _, r := range records {
		for _, e := range r.record.Students {
			class = append(class, roster.Student{ID: e.Student, Name: e.Name})
		}
	}
	list, err := roster.Read(filepath.Join(s.dir, term.RosterFile), roster.Options{})
	if err != nil { // another list may be named in the plans; the labs have its students
		return class, nil
	}
	return append(class, list.Students...), nil
}

// addAliases takes in the ids that are the same student.
func (s *studentIn) addAliases() error {
	path := filepath.Join(s.dir, lists.AliasesFile)
	if !isFile(path) {
		return nil
	}
	list, err := lists.ReadAliases(path)
	if err != nil {
		return err
	}
	for grown := true; grown; {
		grown = false
		for _, a := range list {
			for _, pair := range [][2]string{{a.Old, a.ID}, {a.ID, a.Old}} {
				if slices.Contains(s.ids, pair[0]) && !slices.Contains(s.ids, pair[1]) {
					s.ids, grown = append(s.ids, pair[1]), true
				}
			}
		}
	}
	return nil
}

// named tells an id of the student as it is.
func (s *studentIn) named(id string) bool {
	return id != "" && slices.ContainsFunc(s.ids, func(own string) bool { return roster.FoldID(own) == roster.FoldID(id) })
}

// is tells an id of the student, also one that has lost its zeros where that is nobody else's.
func (s *studentIn) is(id string) bool { return s.named(id) || id != "" && s.bare[roster.BareID(id)] }

// isFileOf tells a file that the student handed in, by its name, as grading does.
func (s *studentIn) isFileOf(name string) bool {
	stem := strings.TrimSuffix(name, filepath.Ext(name))
	words := strings.FieldsFunc(stem, func(r rune) bool { return strings.ContainsRune("-_ .()", r) })
	return slices.ContainsFunc(words, s.is)
}

// recordFile is a record of the term's own, or one that cannot be written again.
type recordFile struct {
	path   string
	record *evidence.Record
	own    bool // sealed under the term's key
}

// records reads the term's folder of records. One that cannot be read is an error: something of the student may stand
// in it.
func (s *studentIn) records() ([]recordFile, error) {
	paths, err := filepath.Glob(filepath.Join(escaped(s.dir), recordsFolder, "*.json"))
	if err != nil {
		return nil, err
	}
	var list []recordFile
	for _, path := range paths {
		data, err := disk.Read(path, evidence.LargestRecord)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return nil, err
		}
		r, err := evidence.Decode(path, data)
		if err != nil {
			return nil, err
		}
		list = append(list, recordFile{path, r, r.Verify(data, s.term, s.key) == lab.Sealed})
	}
	return list, nil
}

// nobodys are tables of a term in which an id is not that of a student, or that have a chain.
var nobodys = []string{lists.AwardsFile, lists.TasksFile, lists.TaskMapFile, competency.ResidueFile}

// tables lists the lists of a term that people and this program write as CSV, with the student's lines in them.
func (s *studentIn) tables() ([]string, error) {
	var list []string
	err := filepath.WalkDir(s.dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := e.Name()
		ext := strings.ToLower(filepath.Ext(name))
		if !e.IsDir() && (ext == ".csv" || ext == ".tsv") && !slices.Contains(nobodys, name) {
			list = append(list, path)
		}
		return nil
	})
	return list, err
}

// codesAt gives the codes of the student's sheets in the lab that a path lies in.
func (s *studentIn) codesAt(path string) []string {
	for _, at := range s.labs {
		if strings.HasPrefix(path, at.folder+string(os.PathSeparator)) {
			return at.codes
		}
	}
	return nil
}
