package strict

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Severity tells whether a file with the finding can be used.
type Severity uint8

// A warning is a likely mistake that a file may explain; an error makes the file unusable.
const (
	Warning Severity = iota
	Error
)

// MarshalText gives the word for it.
func (s Severity) MarshalText() ([]byte, error) {
	if s == Error {
		return []byte("error"), nil
	}
	return []byte("warning"), nil
}

// Finding is one thing wrong with a file. Code and Subject name a warning, so that the file can accept it; errors have
// none.
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
	if f.Severity == Warning {
		fmt.Fprintf(&b, "warning %s: ", f.Name())
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
