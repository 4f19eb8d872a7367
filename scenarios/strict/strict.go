// Package strict reads TOML files that people write: plans, terms, corrections and packs. Nothing is passed over in
// silence. Every key that nobody asked for, every value of the wrong kind and every slip in the writing becomes a
// finding with its line, and one run shows all of them.
//
// Start at Read, which gives the top table of a file. The readers of Table take keys out of it (Text, Whole, Minutes,
// Texts, Tables ...), Finish complains of the keys that are left over, and Err of the table's Document gives everything
// found as one error. The package knows nothing of what the files mean, and it is no TOML parser: BurntSushi's decoder
// reads the values, positions.go adds their lines.
package strict

import (
	"fmt"
	"slices"
	"unicode/utf8"
)

// MaxBytes is the greatest size of a file: far more than a person writes, and read in no time.
const MaxBytes = 1 << 20

// maxErrors is how many errors a person still reads.
const maxErrors = 100

// maxMessage is the greatest number of characters of a message, which may quote something endless.
const maxMessage = 300

// Document is a file that is being read, with what was found wrong so far.
type Document struct {
	File     string // for messages
	errors   []Finding
	warnings []Finding
	reported map[Finding]bool
}

// Read decodes a file and gives its top table. The error is a *Problems and says why the text is no TOML, or that there
// is too much of it.
func Read(file string, text []byte) (*Table, error) {
	d := &Document{File: file, reported: map[Finding]bool{}}
	if len(text) > MaxBytes {
		d.Fail(1, "", "the file has %d bytes, at most %d are allowed", len(text), MaxBytes)
		return nil, d.Err()
	}
	values, slip := decode(string(text))
	if slip != nil {
		d.Fail(slip.Line, slip.Do, "%s", slip.What)
		return nil, d.Err()
	}
	return &Table{Doc: d, values: values, at: locate(string(text))}, nil
}

// Fail reports an error once, however often it is met. do says how to mend it; it may be "".
func (d *Document) Fail(line int, do, format string, args ...any) {
	f := Finding{Line: line, Severity: Error, What: clip(fmt.Sprintf(format, args...), maxMessage), Do: do}
	if !d.reported[f] {
		d.reported[f] = true
		d.errors = append(d.errors, f)
	}
}

// Warn reports a likely mistake. Code and subject are its name, by which a file can accept it.
func (d *Document) Warn(line int, code, subject, do, format string, args ...any) {
	d.warnings = append(d.warnings, Finding{Line: line, Code: code, Subject: subject, What: fmt.Sprintf(format, args...), Do: do})
}

// Errors counts the errors so far.
func (d *Document) Errors() int { return len(d.errors) }

// Err gives all errors as a *Problems, by line, or nil.
func (d *Document) Err() error {
	if len(d.errors) == 0 {
		return nil
	}
	list := slices.Clone(d.errors)
	ByLine(list)
	if n := len(list); n > maxErrors {
		rest := Finding{Line: list[maxErrors].Line, Severity: Error, What: fmt.Sprintf("and %d more errors", n-maxErrors)}
		list = append(list[:maxErrors], rest)
	}
	return &Problems{File: d.File, List: list}
}

// Warnings gives the warnings by line.
func (d *Document) Warnings() []Finding {
	ByLine(d.warnings)
	return d.warnings
}

// clip shortens a text that is quoted in a message.
func clip(text string, most int) string {
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	return string([]rune(text)[:most]) + "..."
}
