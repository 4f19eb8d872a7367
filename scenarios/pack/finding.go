package pack

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Severity tells whether a pack with the finding can be used.
type Severity uint8

// A warning is a likely mistake that a pack may explain; an error makes the pack unusable; a note is worth knowing, no more.
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

// Finding is one thing wrong with a pack. Code and Subject name a warning for [[accept]], or a note; errors have none.
type Finding struct {
	Line     int      `json:"line"`
	Severity Severity `json:"severity"`
	Code     string   `json:"code"`    // kind of warning: "repair-unused"
	Subject  string   `json:"subject"` // id of what it is about
	What     string   `json:"what"`    // with the offending value quoted
	Do       string   `json:"do"`      // how to mend it; "" when What says so
	Because  string   `json:"because"` // why the pack accepts it; "" for a warning not accepted
}

// Name is what a pack writes to accept the warning: "repair-unused:replace-coil".
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

// Problems is the error of Parse and Check: every error of a pack by line.
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

// byLine sorts findings by line and keeps the order of those on one line.
func byLine(list []Finding) {
	slices.SortStableFunc(list, func(a, b Finding) int { return cmp.Compare(a.Line, b.Line) })
}

// Accept is a pack's answer to a warning: it is meant so.
type Accept struct {
	Warning string // Finding.Name
	Because string
	Line    int
}

// Settle marks the warnings that the pack accepts and adds one for each acceptance that nothing needs any more. Give it the warnings of
// all checks together. A pack is clean when no finding is left without Because.
func (p *Pack) Settle(findings []Finding) []Finding {
	settled := slices.Clone(findings)
	for _, a := range p.Accepts {
		found := false
		for i := range settled {
			if f := &settled[i]; f.Severity == Warning && f.Name() == a.Warning {
				f.Because = a.Because
				found = true
			}
		}
		if !found {
			settled = append(settled, Finding{Line: a.Line, Code: "accept-unused", Subject: a.Warning,
				What: fmt.Sprintf("the accepted warning %q does not occur", a.Warning), Do: "take the [[accept]] out"})
		}
	}
	byLine(settled)
	return settled
}
