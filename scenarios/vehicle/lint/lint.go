// Package lint finds what is wrong with a pack that only simulation shows, and sums up what a pack amounts to. Start at
// Check.
package lint

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"nospark/scenarios/pack"
	"nospark/scenarios/strict"
	"nospark/scenarios/vehicle"
	"nospark/scenarios/vehicle/meter"
)

// Effort is how much drawing a lint does.
type Effort struct {
	Healthy int // healthy vehicles drawn within their tolerances; 0: 400
	Draws   int // vehicles drawn per fault; 0: 200

	Progress func(done, total int) // told after each fault, from one goroutine; nil: not told
}

// Check looks for what is wrong with a pack that only simulation shows. It may take some seconds, most of it for the
// drawn vehicles. Give its findings to pack.Settle together with those of pack.Check. What it finds, by code; all are
// warnings but the first:
//
//	(error)         the circuit of the healthy vehicle or of a fault contradicts itself
//	floats          no part of the healthy vehicle joins a node with the reference, in any condition
//	shorted         the healthy vehicle draws far too much current, or one of its fuses blows
//	unhealthy       the healthy vehicle has a complaint or reads outside a normal band
//	not-performable a test shows nothing in its condition even on the healthy vehicle
//	fault-silent    no test changes its band over all severities of a fault
//	no-complaint    a fault gives no complaint at some severities
//	complaint-never no fault gives a complaint
//	ambiguous       faults with different repairs that no test and no complaint tells apart
//	test-blind      a test, or a test of a sweep, shows one band whatever is wrong
//	edge            a healthy vehicle within its tolerances can read outside the normal bands
//	refused         more than a fifth of the vehicles drawn with a fault fit none of its rows
//
// What is drawn comes from a fixed sequence, so the same pack gives the same findings.
func Check(p *pack.Pack, e Effort) []strict.Finding {
	l := &linter{p: p, healthy: vehicle.Healthy(p)}
	l.circuit()
	m, err := vehicle.NewMatrix(p)
	if err != nil {
		l.list = append(l.list, strict.Finding{Line: 1, Severity: strict.Error, What: "the circuit cannot be solved: " +
			err.Error(),
			Do: "look for a source without resistance across a short"})
		return l.list
	}
	l.readings()
	l.faults(m)
	l.complaints(m)
	l.ambiguities(m)
	l.blind(m)
	l.edges(orDefault(e.Healthy, 400))
	l.refusals(m, orDefault(e.Draws, 200), e.Progress)
	return l.list
}

func orDefault(n, otherwise int) int {
	if n == 0 {
		return otherwise
	}
	return n
}

type linter struct {
	p       *pack.Pack
	healthy *vehicle.Vehicle
	list    []strict.Finding
}

func (l *linter) warn(line int, code, subject, do, format string, args ...any) {
	l.list = append(l.list, strict.Finding{Line: line, Code: code, Subject: subject, What: fmt.Sprintf(format, args...),
		Do: do})
}

// restAmps is more than a parked vehicle with its key on can draw without something being wrong. Common practice, no
// source.
const restAmps = 60

// circuit looks at the healthy vehicle's circuit in every condition.
func (l *linter) circuit() {
	floats := make([]int, len(l.p.Nodes)) // in how many conditions
	for i, c := range l.p.Conditions {
		for _, id := range l.healthy.Floating(i) {
			if n := slices.IndexFunc(l.p.Nodes, func(n pack.Node) bool { return n.ID == id }); n >= 0 {
				floats[n]++
			}
		}
		if !c.Cranking() {
			l.shorted(i)
		}
	}
	for i, n := range l.p.Nodes {
		if floats[i] == len(l.p.Conditions) && !l.highTension(i) {
			l.warn(n.Line, "floats", n.ID, "connect it",
				"%q floats: whatever the condition, no part of the healthy vehicle joins it with the reference", n.ID)
		}
	}
	for i, blown := range l.healthy.Blown() {
		if blown {
			l.warn(l.p.Parts[i].Line, "shorted", l.p.Parts[i].ID, "raise rating_amps, or look for what draws so much",
				"fuse %q blows in the healthy vehicle", l.p.Parts[i].ID)
		}
	}
}

// shorted names what the current of a battery that gives too much goes through.
func (l *linter) shorted(condition int) {
	currents := l.healthy.Currents(condition)
	for b := range currents {
		amps := math.Abs(currents[b])
		if l.p.Parts[b].Kind.Behaves() != "battery" || amps < restAmps {
			continue
		}
		var way []string
		for k := range l.p.Parts {
			if math.Abs(currents[k]) > amps/2 && k != b {
				way = append(way, strconv.Quote(l.p.Parts[k].ID))
			}
		}
		l.warn(l.p.Parts[b].Line, "shorted", l.p.Parts[b].ID+"."+l.p.Conditions[condition].ID,
			"give one of them more resistance",
			"condition %q: the healthy vehicle draws %.0f A from %q, through %s", l.p.Conditions[condition].ID, amps,
			l.p.Parts[b].ID, strings.Join(way, ", "))
	}
}

// highTension tells whether a node carries high tension: across gaps there is no path for direct current, and none is
// missed.
func (l *linter) highTension(node int) bool {
	for _, part := range l.p.Parts {
		for i, pin := range part.Pins {
			if pin == node && part.Kind.HighTension(i) {
				return true
			}
		}
	}
	return false
}

// readings looks at the healthy vehicle's readings.
func (l *linter) readings() {
	bands, complaint, _ := l.healthy.Bands()
	if complaint >= 0 {
		c := l.p.Complaints[complaint]
		l.warn(c.Line, "unhealthy", c.ID, "", "the healthy vehicle has the complaint %q", c.ID)
	}
	for i := range l.p.Tests {
		t := &l.p.Tests[i]
		switch band := t.Bands[bands[i]]; {
		case band.Name == pack.NotRunning || band.Name == pack.Live || band.Name == pack.NoLink:
			l.warn(t.Line, "not-performable", t.ID, "choose another condition, or unplug other parts",
				"test %q cannot be done on the healthy vehicle: it shows %q", t.ID, band.Name)
		case !band.Normal:
			l.warn(t.Line, "unhealthy", t.ID, "", "test %q reads %s on the healthy vehicle, band %q", t.ID,
				meter.Show(t.Instrument, l.healthy.Read(i), meter.Error{}).Text, band.Name)
		}
	}
}

// faults looks for faults that change nothing, and for severities that nobody would complain about.
func (l *linter) faults(m *vehicle.Matrix) {
	bands, _, _ := l.healthy.Bands()
	for i, f := range l.p.Faults {
		changed, quiet, all := false, int64(0), int64(0)
		for _, r := range m.Rows {
			if r.Fault != i {
				continue
			}
			changed = changed || !slices.Equal(r.Bands, bands)
			all += r.Weight
			if r.Complaint < 0 {
				quiet += r.Weight
			}
		}
		if !changed {
			l.warn(f.Line, "fault-silent", f.ID, "widen its range, or add a test that sees it",
				"fault %q: no test of the pack changes its band", f.ID)
		}
		if quiet > 0 {
			l.warn(f.Line, "no-complaint", f.ID, "move its range, or add a complaint that fits",
				"fault %q gives no complaint in %d %% of its range",
				f.ID, (100*quiet+all/2)/all)
		}
	}
}

func (l *linter) complaints(m *vehicle.Matrix) {
	for i, c := range l.p.Complaints {
		if !slices.ContainsFunc(m.Rows, func(r vehicle.Row) bool { return r.Complaint == i }) {
			l.warn(c.Line, "complaint-never", c.ID, "take it out, or add a fault that gives it",
				"complaint %q: no fault gives it", c.ID)
		}
	}
}

// ambiguities names the groups of faults that have equal rows but different repairs. A student can only guess between
// them.
func (l *linter) ambiguities(m *vehicle.Matrix) {
	type key struct {
		complaint int
		bands     string
	}
	var order []key
	groups := map[key][]int{}
	for _, r := range m.Rows {
		if r.Fault < 0 {
			continue // equal to a fault only where that is silent
		}
		k := key{r.Complaint, string(r.Bands)}
		if groups[k] == nil {
			order = append(order, k)
		}
		groups[k] = append(groups[k], r.Fault)
	}
	told := map[string]bool{}
	for _, k := range order {
		faults := groups[k]
		one := l.p.Faults[faults[0]].Repair
		if !slices.ContainsFunc(faults, func(f int) bool { return l.p.Faults[f].Repair != one }) {
			continue
		}
		ids, texts := make([]string, len(faults)), make([]string, len(faults))
		for i, f := range faults {
			ids[i] = l.p.Faults[f].ID
			texts[i] = fmt.Sprintf("%q (repair %q)", ids[i], l.p.Repairs[l.p.Faults[f].Repair].ID)
		}
		if subject := strings.Join(ids, "+"); !told[subject] {
			told[subject] = true
			l.warn(l.p.Faults[faults[0]].Line, "ambiguous", subject,
				"add a test that tells them apart, or give them one repair",
				"no test tells apart the faults %s", strings.Join(texts, ", "))
		}
	}
}

// blind names tests that tell nothing. Those of a sweep are named together: a column with a few idle cells is how a
// grid should be.
func (l *linter) blind(m *vehicle.Matrix) {
	idle := make([][]string, len(l.p.Sweeps))
	all := make([]int, len(l.p.Sweeps))
	for i := range l.p.Tests {
		t := &l.p.Tests[i]
		same := !slices.ContainsFunc(m.Rows, func(r vehicle.Row) bool { return r.Bands[i] != m.Rows[0].Bands[i] })
		if t.Sweep >= 0 {
			all[t.Sweep]++
			if same {
				idle[t.Sweep] = append(idle[t.Sweep], t.ID)
			}
			continue
		}
		if same && len(m.Rows) > 0 {
			l.warn(t.Line, "test-blind", t.ID, "take it out, or add a fault that it sees",
				"test %q reads %q whatever is wrong",
				t.ID, t.Bands[m.Rows[0].Bands[i]].Name)
		}
	}
	for s, ids := range idle {
		if len(ids) > 0 {
			l.warn(l.p.Sweeps[s].Line, "test-blind", l.p.Sweeps[s].ID, "",
				"sweep %q: %d of its %d tests read the same whatever is wrong: %s",
				l.p.Sweeps[s].ID, len(ids), all[s], strings.Join(ids, ", "))
		}
	}
}
