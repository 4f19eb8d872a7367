package strict

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Severity tells whether a file with the finding can be used.
type Severity uint8

// A warning is a likely mistake that a file may explain; an error makes the file unusable; a note is worth knowing, no
// more.
const (
	Warning Severity = iota
	Error
	Note
)

// MarshalText gives the word for it.
func (s Severity) MarshalText() ([]byte, error) {
	switch s {
	case Error:
		return []byte("error"), nil
	case Note:
		return []byte("note"), nil
	}
	return []byte("warning"), nil
}

// Finding is one thing wrong with a file. Code and Subject name a warning, so that the file can accept it, or a
// note; errors have none.
type Finding struct {
	Line     int      `json:"line"`
	Severity Severity `json:"severity"`
	Code     string   `json:"code"`    // kind of warning: "repair-unused"
	Subject  string   `json:"subject"` // id of what it is about
	What     string   `json:"what"`    // with the offending value quoted
	Do       string   `json:"do"`      // how to mend it; "" when What says so
	Because  string   `json:"because"` // why the file accepts it; "" for a warning not accepted
}

// Name is what a file writes to accept the warning: "repair-unused:replace-coil".
func (f Finding) Name() string { return f.Code + ":" + f.Subject }

// Text is the finding on one line.
func (f Finding) Text(file string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s:%d: ", file, f.Line)
	switch f.Severity {
	case Warning:
		fmt.Fprintf(&b, "warning %s: ", f.Name())
	case Note:
		fmt.Fprintf(&b, "note %s: ", f.Name())
	}
	b.WriteString(f.What)
	if f.Do != "" {
		b.WriteString("; " + f.Do)
	}
	if f.Because != "" {
		b.WriteString(" (accepted: " + f.Because + ")")
	}
	return b.String()
}

// Problems is the error of a file that cannot be used: everything wrong with it, by line.
type Problems struct {
	File string
	List []Finding
}

// Error gives one line per error.
func (p *Problems) Error() string {
	texts := make([]string, len(p.List))
	for i, f := range p.List {
		texts[i] = f.Text(p.File)
	}
	return strings.Join(texts, "\n")
}

// ByLine sorts findings by line and keeps the order of those on one line.
func ByLine(list []Finding) {
	slices.SortStableFunc(list, func(a, b Finding) int { return cmp.Compare(a.Line, b.Line) })
}

// maxErrors is how many errors a person still reads.
const maxErrors = 100

// maxMessage is the greatest number of characters of a message, which may quote something endless.
const maxMessage = 300

// Findings are what was found wrong with a file so far.
type Findings struct {
	File     string // for messages
	errors   []Finding
	warnings []Finding
	reported map[Finding]bool
}

// Fail reports an error once, however often it is met. do says how to mend it; it may be "".
func (f *Findings) Fail(line int, do, format string, args ...any) {
	one := Finding{Line: line, Severity: Error, What: clip(fmt.Sprintf(format, args...), maxMessage), Do: do}
	if !f.reported[one] {
		f.reported[one] = true
		f.errors = append(f.errors, one)
	}
}

// Warn reports a likely mistake. Code and subject are its name, by which a file can accept it.
func (f *Findings) Warn(line int, code, subject, do, format string, args ...any) {
	f.warnings = append(f.warnings,
		Finding{Line: line, Code: code, Subject: subject, What: fmt.Sprintf(format, args...), Do: do})
}

// Errors counts the errors so far.
func (f *Findings) Errors() int { return len(f.errors) }

// Err gives all errors as a *Problems, by line, or nil.
func (f *Findings) Err() error {
	if len(f.errors) == 0 {
		return nil
	}
	list := slices.Clone(f.errors)
	ByLine(list)
	if n := len(list); n > maxErrors {
		rest := Finding{Line: list[maxErrors].Line, Severity: Error, What: fmt.Sprintf("and %d more errors",
			n-maxErrors)}
		list = append(list[:maxErrors], rest)
	}
	return &Problems{File: f.File, List: list}
}

// Warnings gives the warnings by line.
func (f *Findings) Warnings() []Finding {
	ByLine(f.warnings)
	return f.warnings
}
