package pack

import (
	"fmt"
	"unicode/utf8"

	"nospark/scenarios/disk"
	"nospark/scenarios/lines"
)

// Greatest sizes. Repair codes have two digits and line numbers three, so that more repairs or tests could not be told apart on paper.
const (
	MaxBytes      = 1 << 20
	MaxNodes      = 200
	MaxConditions = 16
	MaxParts      = 300
	MaxTests      = 900
	MaxBands      = 12
	MaxFaults     = 200
	MaxRepairs    = 90
)

// maxErrors is how many errors a person still reads.
const maxErrors = 100

// Parse reads a pack. file stands in messages only. The error is a *Problems with every error of the pack, one line each, by line.
func Parse(file string, data []byte) (*Pack, error) {
	p, _, err := Check(file, data)
	return p, err
}

// Check reads a pack and also gives the warnings that need no simulation, by line. With an error there is no pack.
func Check(file string, data []byte) (*Pack, []Finding, error) {
	r := &reader{pack: &Pack{}, reported: map[Finding]bool{}}
	if top := r.decode(data); top != nil {
		r.read(top)
	}
	if len(r.errors) == 0 {
		r.lint()
	}
	byLine(r.errors)
	byLine(r.warnings)
	if n := len(r.errors); n > 0 {
		if n > maxErrors {
			last := r.errors[maxErrors]
			r.errors = append(r.errors[:maxErrors], Finding{Line: last.Line, Severity: Error, What: fmt.Sprintf("and %d more errors", n-maxErrors)})
		}
		return nil, r.warnings, &Problems{File: file, List: r.errors}
	}
	return r.pack, r.warnings, nil
}

// reader holds what is read so far. The names give the ids of what the file declares, in the order of the pack's slices.
type reader struct {
	pack     *Pack
	errors   []Finding
	warnings []Finding
	reported map[Finding]bool

	nodes, conditions, parts, faults, repairs, complaints, sweeps, tests names

	swept    []*table // the tables of the sweeps
	proofs   []awaited
	specs    []spec
	listed   [][]int         // per sweep: the points it names one by one
	declared map[string]bool // "part.parameter" given in the file
	full     bool            // the limit of tests was reached and reported
}

// fail reports an error once, however often it is met: a sweep meets its mistakes at every point.
func (r *reader) fail(line int, do, format string, args ...any) {
	f := Finding{Line: line, Severity: Error, What: clip(fmt.Sprintf(format, args...)), Do: do}
	if !r.reported[f] {
		r.reported[f] = true
		r.errors = append(r.errors, f)
	}
}

// clip shortens a message that quotes something endless.
func clip(s string) string {
	const most = 300
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "..."
}

func (r *reader) warn(line int, code, subject, do, format string, args ...any) {
	r.warnings = append(r.warnings, Finding{Line: line, Code: code, Subject: subject, What: fmt.Sprintf(format, args...), Do: do})
}

// decode gives the top table, or nil when the text is no TOML.
func (r *reader) decode(data []byte) *table {
	if len(data) > MaxBytes {
		r.fail(1, "", "the file has %d bytes, at most %d are allowed", len(data), MaxBytes)
		return nil
	}
	values, slip := lines.Decode(string(data))
	if slip != nil {
		r.fail(slip.Line, slip.Do, "%s", slip.What)
		return nil
	}
	return &table{r: r, who: "pack", values: values, place: lines.Of(string(data))}
}

// read goes through the tables so that each only refers to what was read before it.
func (r *reader) read(top *table) {
	p := r.pack
	r.nodes.what, r.conditions.what, r.parts.what, r.faults.what = "point", "condition", "part", "fault"
	r.repairs.what, r.complaints.what, r.sweeps.what, r.tests.what = "repair", "complaint", "sweep", "test"

	p.Name = top.text("name")
	if err := disk.CheckName(p.Name); p.Name != "" && (err != nil || !safe(p.Name)) {
		top.fail("name", "use letters, digits, '-' and '_', at most 40, a letter or digit first", "name = %q cannot be part of a file's name", p.Name)
	}
	p.Title = top.text("title")
	p.Version = int(top.whole("version", 1, 1e6))
	r.readVehicle(top)
	r.readNodes(top)
	r.readConditions(top)
	r.readParts(top)
	r.readRepairs(top)
	r.readFaults(top)
	r.readNothing(top)
	r.readComplaints(top)
	r.readSpecs(top)
	r.readSweeps()
	r.readTests(top)
	r.readProofs()
	r.readAccepts(top)
	top.finish()
	if len(r.errors) == 0 {
		r.touched()
	}
}

// list reads an array of tables within its limits. least is 1 where a pack makes no sense without any.
func (r *reader) list(top *table, key string, least, most int) []*table {
	list := top.tables(key)
	for _, t := range list {
		t.who = key
	}
	switch {
	case len(list) < least && !top.has(key):
		top.fail(key, fmt.Sprintf("add one [[%s]]", key), "there is no %s", key)
	case len(list) > most:
		r.fail(list[most].place.Line, "", "%s: there are %d, at most %d are allowed", key, len(list), most)
		return list[:most]
	}
	return list
}

func (r *reader) readVehicle(top *table) {
	for _, t := range r.list(top, "vehicle", 0, 30) {
		r.pack.Vehicle = append(r.pack.Vehicle, Fact{Name: t.text("name"), Value: t.text("value")})
		t.finish()
	}
}

func (r *reader) readAccepts(top *table) {
	seen := map[string]int{}
	for _, t := range r.list(top, "accept", 0, 500) {
		a := Accept{Warning: t.text("warning"), Because: t.text("because"), Line: t.place.Line}
		if first, again := seen[a.Warning]; again {
			t.fail("warning", "", "warning %q is accepted in line %d already", a.Warning, first)
		}
		seen[a.Warning] = a.Line
		r.pack.Accepts = append(r.pack.Accepts, a)
		t.finish()
	}
}
