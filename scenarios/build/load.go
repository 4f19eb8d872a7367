package build

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"nospark/scenarios/disk"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
)

// Load reads all that building the plan at path needs: the term above it, its key, the class list, the pack, the seats,
// and the lab as built before. It returns the folder of the term as well, and remarks on the class list that stop
// nothing.
func Load(path string) (in Input, dir string, remarks []roster.Remark, err error) {
	dir, err = term.Find(path)
	if err != nil {
		return in, "", nil, err
	}
	text, err := disk.Read(path, term.SourceLimit)
	if err != nil {
		return in, dir, nil, err
	}
	// Errors of independent files are told together, so that one run shows all there is to mend.
	var termErr, planErr, keyErr error
	in.Term, termErr = term.Read(dir)
	in.Plan, planErr = term.ParsePlan(path, string(text))
	in.Key, keyErr = term.ReadKey(filepath.Join(dir, term.KeyFile))
	if err := errors.Join(termErr, planErr, keyErr); err != nil {
		return in, dir, nil, err
	}
	list, rosterErr := readRoster(dir, &in.Plan)
	in.Students = list.Students
	var packErr, seatErr, labErr error
	in.PackFile, in.Pack, packErr = readPack(dir, &in.Plan)
	in.Seating, seatErr = readSeating(dir, &in.Plan)
	in.Previous, labErr = readPrevious(filepath.Join(dir, term.LabsFolder, in.Plan.Name))
	if in.Plan.AnySpares {
		in.Plan.Spares = usualSpares(&in)
	}
	return in, dir, list.Remarks, errors.Join(rosterErr, packErr, seatErr, labErr)
}

// The spares of a lab whose plan says nothing of them: one for every so many students, rounded up, and at least so
// many.
const (
	studentsPerSpare = 10
	leastSpares      = 2
)

// usualSpares are for latecomers. A lab that was built already keeps those that it has.
func usualSpares(in *Input) int {
	if old := in.Previous; old != nil {
		n := 0
		for _, s := range old.Sheets {
			if s.Student == "" {
				n++
			}
		}
		return n / max(1, old.Vehicles)
	}
	n := 0
	for _, s := range in.Students {
		if in.Plan.Sections == nil || slices.Contains(in.Plan.Sections, s.Section) {
			n++
		}
	}
	return max(leastSpares, (n+studentsPerSpare-1)/studentsPerSpare)
}

// readRoster reads the plan's class list, roster.csv when it names none. A term without any can still build spares.
func readRoster(dir string, plan *term.Plan) (roster.Roster, error) {
	options := roster.Options{Class: plan.Class, Classes: plan.Classes, IDColumn: plan.IDColumn, Date: plan.Date}
	if plan.Roster != "" {
		list, err := roster.Read(below(dir, plan.Roster), options)
		if errors.Is(err, fs.ErrNotExist) {
			err = fmt.Errorf("%s: roster = %q: there is no such file in %s", plan.Place("roster"), plan.Roster, dir)
		}
		return list, err
	}
	path := filepath.Join(dir, term.RosterFile)
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		if plan.Spares > 0 && plan.Sections == nil {
			return roster.Roster{}, nil
		}
		return roster.Roster{}, fmt.Errorf("%s: the class list is missing; write one with the columns id,name,section",
			path)
	}
	return roster.Read(path, options)
}

// readPack gives the text of the plan's pack: a file when the plan writes one with its ending, else a built-in pack.
func readPack(dir string, plan *term.Plan) (file, text string, err error) {
	// an own file may not hide a built-in pack of the same name, nor the other way round
	if !strings.HasSuffix(plan.Pack, ".toml") {
		data, err := pack.Source(plan.Pack)
		if err != nil {
			return "", "", fmt.Errorf("%s: pack = %q: %w; a pack of your own is written with its path, for example "+
				"\"packs/mine.toml\"",
				plan.Place("pack"), plan.Pack, err)
		}
		return "pack " + plan.Pack, string(data), nil
	}
	path := below(dir, plan.Pack)
	data, err := disk.Read(path, term.SourceLimit)
	if err != nil {
		return "", "", fmt.Errorf("%s: pack = %q: %w", plan.Place("pack"), plan.Pack, err)
	}
	return path, string(data), nil
}

func readSeating(dir string, plan *term.Plan) (term.Seating, error) {
	if plan.Seating == "" {
		return nil, nil
	}
	path := below(dir, plan.Seating)
	data, err := disk.Read(path, term.SourceLimit)
	if err != nil {
		return nil, fmt.Errorf("%s: seating = %q: %w", plan.Place("seating"), plan.Seating, err)
	}
	return term.ParseSeating(path, string(data))
}

// readPrevious reads the lab in its folder, nil when there is none yet.
func readPrevious(l string) (*lab.Lab, error) {
	path := filepath.Join(l, lab.File)
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return lab.Read(path)
}

// below is the place of a file that a plan names: from the term's folder unless the path is a full one.
func below(dir, path string) string {
	path = filepath.FromSlash(path)
	if filepath.IsAbs(path) {
		return path
	}
	return filepath.Join(dir, path)
}
