package main

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"nospark/printouts"
	"nospark/scenarios/build"
	"nospark/scenarios/term"
)

// paperCount adds up the sheets of paper that a lab needs, while its documents are made by several hands.
type paperCount struct {
	mu   sync.Mutex
	used build.Paper
}

// watch lets a job tell what it has made.
func (c *paperCount) watch(job printouts.Job) printouts.Job {
	made := job.Make
	job.Make = func() ([]printouts.File, error) {
		files, err := made()
		for _, f := range files {
			c.add(f)
		}
		return files, err
	}
	return job
}

func (c *paperCount) add(f printouts.File) {
	c.mu.Lock()
	defer c.mu.Unlock()
	switch name := filepath.Base(f.Path); {
	case f.Path == printouts.Booklet || f.Path == printouts.LargeBooklet:
		c.used.Booklets += f.Sheets
	case strings.HasPrefix(name, "worksheets"):
		c.used.Worksheets += f.Sheets
	case strings.HasPrefix(name, "readings"):
		c.used.Readings += f.Sheets
	default:
		c.used.Instructor += f.Sheets
	}
	c.used.Sheets += f.Sheets
}

// bookletPrinted tells whether the booklet of a lab has been printed already, and with which lab of the term: one that
// has it on paper, and says the same word for word. The booklet of this very lab is printed again.
func bookletPrinted(documents []printouts.Job, folder string) (string, error) {
	if _, err := os.Stat(filepath.Join(folder, filepath.FromSlash(printouts.Booklet))); err == nil {
		return "", nil
	}
	at := slices.IndexFunc(documents, func(d printouts.Job) bool { return d.Name == bookletText })
	files, err := documents[at].Make()
	if err != nil {
		return "", err
	}
	labs := filepath.Dir(folder)
	if filepath.Base(labs) != term.LabsFolder {
		return "", nil
	}
	// the pattern is sound
	others, _ := filepath.Glob(filepath.Join(escaped(labs), "*", filepath.FromSlash(printouts.Booklet)))
	for _, path := range others {
		other := filepath.Dir(filepath.Dir(path))
		text, err := os.ReadFile(filepath.Join(other, filepath.FromSlash(bookletText)))
		if err == nil && bytes.Equal(text, files[0].Data) {
			return filepath.Base(other), nil
		}
	}
	return "", nil
}

// served tells whether a document is a booklet that has been printed with another lab already.
func served(document, folder, other string) bool {
	switch document {
	case printouts.Booklet:
		return true
	case printouts.LargeBooklet: // that lab may have had no need of one
		_, err := os.Stat(filepath.Join(filepath.Dir(folder), other, filepath.FromSlash(document)))
		return err == nil
	}
	return false
}

// bookletText is the plain text of the booklet, by which two of them are compared.
const bookletText = "handouts/text/booklet.txt"
