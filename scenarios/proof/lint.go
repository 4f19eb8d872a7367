package proof

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"nospark/scenarios/pack"
	"nospark/scenarios/strict"
	"nospark/scenarios/vehicle"
)

// Longer proofs than these leave no time for anything else in a lab of fifty minutes. Common practice, no source.
const (
	mostMinutes = 140 // tenths
	mostSteps   = 10
)

// Lint looks for what a pack's tests cannot prove. Give its findings to pack.Settle together with those of the other
// checks. What it finds, by code; the first two are notes, the others warnings:
//
//	check-untested  no test makes a check, so it is never owed
//	check-dropped   the pack takes checks of a repair away
//	sold-untested   a repair can be concluded without an abnormal reading on the part
//	proof-long      best play from the complaint to a fault takes more than 14 minutes or 10 steps
//	undrawn         best play to a fault takes tests that show another band because of a pull-up that no diagram draws
//	proof-large     a complaint has more suspects and checks than can be solved
//
// A pack whose circuit cannot be solved has other findings; this one then has none.
func Lint(p *pack.Pack) []strict.Finding {
	m, err := vehicle.NewMatrix(p)
	if err != nil {
		return nil
	}
	l := &linter{f: newFinder(p), m: m, checks: Of(p, m)}
	l.untested()
	l.dropped()
	l.sold()
	l.long()
	l.undrawn()
	return l.list
}

type linter struct {
	f      *finder
	m      *vehicle.Matrix
	checks [][]Check
	list   []strict.Finding
	ways   []way // best play to every row that gives a complaint
}

func (l *linter) say(severity strict.Severity, line int, code, subject, do, format string, args ...any) {
	l.list = append(l.list, strict.Finding{Line: line, Severity: severity, Code: code, Subject: subject, Do: do,
		What: fmt.Sprintf(format, args...)})
}

// untested lists the checks that no test makes, each once.
func (l *linter) untested() {
	type key struct {
		what        string
		part, point int
	}
	var order []key
	faults := map[key][]string{}
	for i, row := range l.m.Rows {
		for _, c := range l.checks[i] {
			if len(c.Tests) > 0 {
				continue
			}
			k := key{c.What, c.Part, c.Point}
			if faults[k] == nil {
				order = append(order, k)
			}
			if id := strconv.Quote(l.id(row.Fault)); !slices.Contains(faults[k], id) {
				faults[k] = append(faults[k], id)
			}
		}
	}
	for _, k := range order {
		line, subject, of := 1, k.what, ""
		if k.part >= 0 {
			part := l.f.p.Parts[k.part]
			line, subject, of = part.Line, part.ID+"."+k.what, fmt.Sprintf(" of %q", part.ID)
		}
		where := ""
		if k.point >= 0 {
			where = fmt.Sprintf(" at point %q", l.f.p.Nodes[k.point].ID)
		}
		l.say(strict.Note, line, "check-untested", strings.ReplaceAll(subject, " ", "-"),
			"add a test, or name one in the proof of the repair",
			"no test proves the %s%s%s: %s", k.what, of, where, strings.Join(faults[k], ", "))
	}
}

func (l *linter) id(fault int) string {
	if fault < 0 {
		return "nothing-wrong"
	}
	return l.f.p.Faults[fault].ID
}

func (l *linter) dropped() {
	for _, r := range l.f.p.Repairs {
		for _, p := range r.Proof {
			if p.Because != "" {
				l.say(strict.Note, p.Line, "check-dropped", r.ID, "",
					"repair %q is proven without its %s: %s", r.ID, p.What, p.Because)
			}
		}
	}
}

// sold names the faults that may be concluded without an abnormal reading on their part: where no such reading is owed,
// or none can be made.
func (l *linter) sold() {
	told := -1
	for i, row := range l.m.Rows {
		if row.Fault < 0 || row.Complaint < 0 || row.Fault == told {
			continue
		}
		for _, part := range partsOf(l.f.p.Faults[row.Fault]) {
			shown := slices.ContainsFunc(l.checks[i], func(c Check) bool {
				return (c.Part == part || l.f.alike(c.Part, part)) && ofTheFault(c.What) && len(c.Tests) > 0
			})
			if shown || l.f.announced(&l.f.p.Complaints[row.Complaint], part) {
				continue
			}
			f := l.f.p.Faults[row.Fault]
			told = row.Fault
			l.say(strict.Warning, f.Line, "sold-untested", f.ID, "add a test of the part that reads abnormal then",
				"fault %q can be concluded without an abnormal reading on %q", f.ID, l.f.p.Parts[part].ID)
			break
		}
	}
}

// long names the faults to which best play takes too long, each with its longest way.
func (l *linter) long() {
	p := l.f.p
	for c, complaint := range p.Complaints {
		ways, err := plays(p, l.m, l.checks, c)
		if err != nil {
			l.say(strict.Warning, complaint.Line, "proof-large", complaint.ID, "", "%v", err)
			continue
		}
		l.ways = append(l.ways, ways...)
		longest := map[int]way{}
		var order []int
		for _, w := range ways {
			fault := l.m.Rows[w.row].Fault
			if w.minutes <= mostMinutes && len(w.taken) <= mostSteps || fault < 0 {
				continue
			}
			if _, known := longest[fault]; !known {
				order = append(order, fault)
			}
			if w.minutes > longest[fault].minutes {
				longest[fault] = w
			}
		}
		for _, fault := range order {
			f, w := p.Faults[fault], longest[fault]
			l.say(strict.Warning, f.Line, "proof-long", f.ID+"."+complaint.ID, "add cheaper tests",
				"complaint %q: best play proves fault %q in %d.%d minutes and %d steps",
				complaint.ID, f.ID, w.minutes/10, w.minutes%10, len(w.taken))
		}
	}
}
