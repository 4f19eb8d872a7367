package printouts

import (
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"nospark/grading"
	"nospark/grading/competency"
	"nospark/printouts/handouts"
	"nospark/printouts/instructor"
	"nospark/printouts/page"
	"nospark/printouts/paper"
	"nospark/scenarios/disk"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// File is a file to be written.
type File struct {
	Path string // in the folder of the lab, or of the term for a summary; with slashes
	Mode fs.FileMode
	Keep bool // somebody may have edited it: it must not be written over
	Data []byte
	// Sheets of paper that the class needs of it, all copies; 0 for what is read on a screen or seldom printed.
	Sheets int
}

// Job makes the files of one kind of document that belong together. It holds nothing big until it is done.
type Job struct {
	Name string // of the file, or what the names of several have in common
	For  Reader
	Keep bool // as in its files
	// Online tells a document for a screen, a voice or a braille display from one for the printer.
	Online bool
	Make   func() ([]File, error)
}

// AtBuild are the documents that follow from a lab. Stale are names of documents of a time when the lab still
// fitted one of each.
func AtBuild(lab *lab.Lab) (jobs []Job, stale []string) {
	for _, d := range documents() {
		switch {
		case d.due != atBuild || d.large && largeSheets(lab) == 0:
		case d.per == whole:
			jobs = append(jobs, d.job("", source{lab: lab}))
		default:
			those, spares := lab, 0
			var rest source
			if d.apart {
				those, rest.lab = apart(lab)
				spares = len(rest.lab.Sheets)
			}
			parts := partsOf(those, sheetsPerDocument)
			for i, lab := range parts {
				if d.per == sheet {
					jobs = append(jobs, d.sheets(lab))
				} else {
					jobs = append(jobs, d.job(numbered(i, len(parts)), source{lab: lab}))
				}
			}
			if d.per == part && len(parts) > 1 {
				stale = append(stale, d.name(""))
			}
			if spares > 0 {
				d.prints = seldom
				jobs = append(jobs, d.job("-spares", rest))
			}
		}
	}
	return jobs, stale
}

// AtReprint are the documents of one sheet of a lab, for a copy that was lost.
func AtReprint(lab *lab.Lab, code string) ([]Job, error) {
	h, err := handout.Of(lab)
	if err != nil {
		return nil, err
	}
	at := slices.IndexFunc(h.Worksheets, func(w handout.Worksheet) bool { return w.Code == code })
	if at < 0 {
		return nil, fmt.Errorf("sheet %q: the lab has no such sheet", code)
	}
	var jobs []Job
	for _, d := range documents() {
		if d.due == reprint {
			jobs = append(jobs, d.job(code, source{handout: h, sheet: at}))
		}
	}
	return jobs, nil
}

// AtGrading are the documents that follow from the marks of a lab; stale as at [AtBuild].
func AtGrading(lab *lab.Lab, result *grading.Result) (jobs []Job, stale []string) {
	for _, d := range documents() {
		switch {
		case d.due != grade:
		case d.per == whole:
			jobs = append(jobs, d.job("", source{lab: lab, result: result}))
		default:
			parts := slices.Collect(slices.Chunk(result.Students, sheetsPerDocument))
			for i, students := range parts {
				some := *result
				some.Students = students
				if d.per == sheet {
					jobs = append(jobs, d.debriefs(lab, &some))
				} else {
					jobs = append(jobs, d.job(numbered(i, len(parts)), source{lab: lab, result: &some}))
				}
			}
			if d.per == part && len(parts) > 1 {
				stale = append(stale, d.name(""))
			}
		}
	}
	return jobs, stale
}

// AtSigning is the workbook of what may be signed on a day.
func AtSigning(term *competency.Term, today string) []Job {
	var jobs []Job
	for _, d := range documents() {
		if d.due == signature {
			jobs = append(jobs, d.job("", source{term: term, today: today}))
		}
	}
	return jobs
}

// AtSummary are the documents that sum up a term, with names or without. The first is the summary itself.
func AtSummary(term *competency.Term, names bool) []Job {
	due := codes
	if names {
		due = summary
	}
	var jobs []Job
	for _, d := range documents() {
		switch {
		case d.due != due:
		case d.per == whole:
			jobs = append(jobs, d.job("", source{term: term}))
		default:
			for _, name := range term.Sections() {
				tail := name
				if name != "" {
					tail = "-" + disk.EscapeName(name)
				}
				jobs = append(jobs, d.job(tail, source{term: term, section: name}))
			}
		}
	}
	return jobs
}

// name is the path of a document with what stands for the star.
func (d document) name(star string) string { return strings.Replace(d.path, "*", star, 1) }

// job makes one document.
func (d document) job(star string, s source) Job {
	name := d.name(star)
	return Job{Name: name, For: d.reader, Keep: d.keep, Online: d.online, Make: func() ([]File, error) {
		data, err := d.make(s)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", path.Base(name), err)
		}
		file := File{Path: name, Mode: d.mode, Keep: d.keep, Data: data}
		if d.prints != seldom {
			students, _ := apart(s.lab)
			copies := len(students.Sheets)
			if d.prints == forLarge {
				copies = largeSheets(s.lab)
			}
			file.Sheets = d.prints.sheets(page.Count(data), copies)
		}
		return []File{file}, nil
	}}
}

// largeSheets counts the worksheets of a lab that are in large print.
func largeSheets(l *lab.Lab) int {
	n := 0
	for _, s := range l.Sheets {
		if s.LargePrint {
			n++
		}
	}
	return n
}

// sheets counts the sheets of paper of a document of some pages, for a number of worksheets that it serves.
func (p printing) sheets(pages, students int) int {
	switch p {
	case oneSided:
		return pages
	case forTwo:
		return (pages + 1) / 2 * ((students + 1) / 2)
	case forLarge:
		return (pages + 1) / 2 * students
	}
	return (pages + 1) / 2
}

// sheets makes a document for each sheet of a part.
func (d document) sheets(lab *lab.Lab) Job {
	return d.each(func(file func(code string, s source) error) error {
		h, err := handout.Of(lab)
		if err != nil {
			return err
		}
		for i, w := range h.Worksheets {
			if err := file(w.Code, source{handout: h, sheet: i}); err != nil {
				return err
			}
		}
		return nil
	})
}

// debriefs makes a document for each student of a result.
func (d document) debriefs(lab *lab.Lab, result *grading.Result) Job {
	return d.each(func(file func(code string, s source) error) error {
		for i, s := range result.Students {
			if err := file(s.Sheet, source{lab: lab, result: result, sheet: i}); err != nil {
				return err
			}
		}
		return nil
	})
}

// each makes a file for whatever the walk calls it with.
func (d document) each(walk func(file func(code string, s source) error) error) Job {
	return Job{Name: d.path, For: d.reader, Online: d.online, Make: func() (files []File, err error) {
		err = walk(func(code string, s source) error {
			data, err := d.make(s)
			files = append(files, File{Path: d.name(code), Mode: d.mode, Data: data})
			return err
		})
		return files, err
	}}
}

// Claims are the strips with which students claim their sheets on telephones; squares is nil for no pictures.
func Claims(l *lab.Lab, word func(sheet string) string, squares func(code, word string) [][]bool) (File, error) {
	h, err := handout.Of(l)
	if err != nil {
		return File{}, err
	}
	data, err := paper.PDF(instructor.Claims(h, word, squares))
	return File{Path: "instructor/claims.pdf", Mode: forInstructor, Data: data}, err
}

// SoFar is the document of what telephones have recorded, for students who go on on paper.
func SoFar(h handout.Handout, records []handouts.SoFar) (File, error) {
	data, err := paper.PDF(handouts.SoFarDocument(h, records))
	return File{Path: "handouts/so-far.pdf", Mode: forInstructor, Data: data}, err
}
