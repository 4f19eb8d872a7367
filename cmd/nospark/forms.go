package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"nospark/grading/submission"
	"nospark/printouts/workbook/entry"
	"nospark/scenarios/disk"
	"nospark/scenarios/lab"
)

// form is an entry form of a lab.
type form struct {
	name   string
	sheets int  // that stand on it and on no form before
	fresh  bool // written by this build
}

// writeForms writes an entry form for the sheets that stand on none. A form is never touched again, so sheets added by
// a later build get one of their own. Which sheets have one is read from the forms, so that a build that was
// interrupted can be completed.
func writeForms(l *lab.Lab, folder string) ([]form, error) {
	codes := l.SheetCodes()
	var forms []form
	next := 0 // sheets are only ever added at the end
	for n := 1; next < len(l.Sheets); n++ {
		f := form{name: "entry.xlsx"}
		if n > 1 {
			f.name = fmt.Sprintf("entry-%d.xlsx", n)
		}
		path := filepath.Join(folder, "entries", f.name)
		data, err := os.ReadFile(path)
		if errors.Is(err, fs.ErrNotExist) {
			part := *l
			part.Sheets = l.Sheets[next:]
			if data, err = entry.Form(&part); err != nil {
				return nil, err
			}
			f.sheets, f.fresh = len(part.Sheets), true
			return append(forms, f), disk.WriteNew(path, data, forInstructor)
		}
		if err != nil {
			return nil, err
		}
		rows, _ := submission.ReadWorkbook(f.name, data) // what cannot be read has no rows here; grading says why
		before := next
		for _, row := range rows {
			if at, ok := codes.Find(row.Sheet); ok {
				next = max(next, at+1)
			}
		}
		f.sheets = next - before
		forms = append(forms, f)
	}
	return forms, nil
}

// toFill says which form to fill in, and why there is more than one.
func toFill(forms []form, dir string) []string {
	last := forms[len(forms)-1]
	switch earlier := forms[:len(forms)-1]; {
	case len(earlier) == 0:
		return []string{"fill in " + filepath.Join(dir, last.name)}
	case last.fresh && len(earlier) == 1:
		return []string{"fill in " + filepath.Join(dir, last.name),
			fmt.Sprintf("        for the sheets added now; %s stays as it is, since it may be filled in already, and "+
				"has the rows of the others", earlier[0].name)}
	case last.fresh:
		return []string{"fill in " + filepath.Join(dir, last.name),
			"        for the sheets added now; the earlier forms stay as they are, since they may be filled in " +
				"already, and have the rows of the others"}
	}
	var lines []string
	for _, f := range forms {
		lines = append(lines, fmt.Sprintf("fill in %s (%s)", filepath.Join(dir, f.name), sheetsText(f.sheets)))
	}
	return append(lines, "        sheets that a later build added stand on a form of their own; grading reads all of "+
		"them")
}

func sheetsText(n int) string {
	if n == 1 {
		return "1 sheet"
	}
	return fmt.Sprintf("%d sheets", n)
}
