package strict

import (
	"fmt"
	"slices"
)

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
	d.warnings = append(d.warnings,
		Finding{Line: line, Code: code, Subject: subject, What: fmt.Sprintf(format, args...), Do: do})
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
