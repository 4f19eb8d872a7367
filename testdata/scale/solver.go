package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"nospark/scenarios/build"
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/term"
)

// Bounds of the plain program, which would not end on most packs.
const (
	mostStates = 2_000_000
	mostTime   = 60 * time.Second
)

var errTooLarge = errors.New("too large")

// plain is the textbook: the value of a set is the least over all tests of their minutes and the values of what they
// leave. Every set that any order of tests can reach is solved once. It merges hypotheses that no test tells apart and
// tests that split alike, as the solver does, and uses no bound.
type plain struct {
	p      isolation.Problem
	tests  []int
	memo   map[isolation.Set]int64
	states int
	until  time.Time
}

func (d *plain) value(set isolation.Set) (int64, error) {
	if v, known := d.memo[set]; known {
		return v, nil
	}
	if d.states++; d.states > mostStates || d.states%1024 == 0 && time.Now().After(d.until) {
		return 0, errTooLarge
	}
	label, single, weight := -1, true, int64(0)
	for h := range set.All() {
		weight += d.p.Weight[h]
		if label >= 0 && d.p.Repair[h] != label {
			single = false
		}
		label = d.p.Repair[h]
	}
	best := int64(math.MaxInt64)
	if single {
		best = 0
	}
	for _, t := range d.tests {
		if single {
			break
		}
		var parts [256]isolation.Set
		bands := map[uint8]bool{}
		for h := range set.All() {
			b := d.p.Band[t][h]
			parts[b] = parts[b].With(h)
			bands[b] = true
		}
		if len(bands) < 2 {
			continue
		}
		sum := weight * d.p.Minutes[t]
		for b := range bands {
			v, err := d.value(parts[b])
			if err != nil {
				return 0, err
			}
			sum += v
		}
		best = min(best, sum)
	}
	if best == math.MaxInt64 {
		best = 0 // nothing separates these
	}
	d.memo[set] = best
	return best, nil
}

// distinct keeps of the tests that split a set alike the cheapest.
func distinct(p isolation.Problem, set isolation.Set) []int {
	best := map[string]int{}
	var order []string
	for t := range p.Band {
		name := map[uint8]byte{}
		var key []byte
		for h := range set.All() {
			b := p.Band[t][h]
			if _, known := name[b]; !known {
				name[b] = byte(len(name))
			}
			key = append(key, name[b])
		}
		if len(name) < 2 {
			continue
		}
		old, known := best[string(key)]
		if !known {
			order = append(order, string(key))
		}
		if !known || p.Minutes[t] < p.Minutes[old] {
			best[string(key)] = t
		}
	}
	var list []int
	for _, key := range order {
		list = append(list, best[key])
	}
	return list
}

// merged gives one hypothesis for all that no test tells apart when their repair is the same.
func merged(p isolation.Problem, set isolation.Set) (isolation.Problem, isolation.Set) {
	first := map[string]int{}
	p.Weight = append([]int64{}, p.Weight...)
	var kept isolation.Set
	for h := range set.All() {
		key := []byte{byte(p.Repair[h]), byte(p.Repair[h] >> 8)}
		for t := range p.Band {
			key = append(key, p.Band[t][h])
		}
		if at, known := first[string(key)]; known {
			p.Weight[at] += p.Weight[h]
			continue
		}
		first[string(key)] = h
		kept = kept.With(h)
	}
	return p, kept
}

// solvers compares exact best play with the plain program on every complaint of the built-in packs.
func solvers(string) error {
	for _, name := range pack.Builtin() {
		p, err := pack.Load(name)
		if err != nil {
			return err
		}
		for c, complaint := range p.Complaints {
			lab, err := labOf(name, complaint.ID)
			if err != nil {
				continue // this complaint needs no testing
			}
			if err := compare(fmt.Sprintf("%s, %s", name, complaint.ID), lab.Problem(), lab.Suspects(c)); err != nil {
				return err
			}
		}
	}
	return nil
}

func labOf(name, complaint string) (*lab.Lab, error) {
	plan, err := term.ParsePlan("scale.toml", fmt.Sprintf("title = \"Scale\"\ndate = 2026-09-07\npack = "+
		"%q\ncomplaint = %q\nspares = 1\n", name, complaint))
	if err != nil {
		return nil, err
	}
	source, err := pack.Source(name)
	if err != nil {
		return nil, err
	}
	lab, _, err := build.Lab(context.Background(), build.Input{Term: term.Term{ID: "scale", Paper: "letter",
		Rubric:  term.DefaultRubric(),
		Mastery: term.DefaultMastery()}, Plan: plan, PackFile: name, Pack: string(source)})
	return lab, err
}

func compare(what string, p isolation.Problem, set isolation.Set) error {
	var value isolation.Bracket
	ours, err := worked(func() error {
		s, err := isolation.New(p, isolation.Limits{})
		if err != nil {
			return err
		}
		value = s.Value(set)
		return nil
	})
	if err != nil {
		return err
	}
	small, kept := merged(p, set)
	d := &plain{p: small, tests: distinct(small, kept), memo: map[isolation.Set]int64{},
		until: time.Now().Add(mostTime)}
	var theirs int64
	took, err := worked(func() (err error) {
		theirs, err = d.value(kept)
		return err
	})
	what = fmt.Sprintf("%s: %d suspects, %d tests", what, kept.Len(), len(d.tests))
	nodes, err2 := nodesOf(p, set)
	if err2 != nil {
		return err2
	}
	if errors.Is(err, errTooLarge) {
		fmt.Printf("  %-58s %12v %8d states   plain: given up after %d states\n", what, short(ours), nodes, d.states)
		return nil
	}
	if theirs != value.Low || !value.Proven() {
		return fmt.Errorf("%s: plain program gives %d, the solver %+v", what, theirs, value)
	}
	fmt.Printf("  %-58s %12v %8d states   plain %12v %9d states   ratio %8.1f\n", what, short(ours), nodes, short(took),
		d.states, float64(took)/float64(ours))
	return nil
}

// nodesOf finds how many states the solver compares tests in: the least limit with which it still proves its answer.
func nodesOf(p isolation.Problem, set isolation.Set) (int64, error) {
	proves := func(limit int64) (bool, error) {
		s, err := isolation.New(p, isolation.Limits{Nodes: limit})
		if err != nil {
			return false, err
		}
		return s.Value(set).Proven(), nil
	}
	low, high := int64(0), int64(1)
	for {
		ok, err := proves(high)
		if err != nil {
			return 0, err
		}
		if ok {
			break
		}
		low, high = high, high*2
	}
	for high-low > 1 {
		middle := (low + high) / 2
		ok, err := proves(middle)
		if err != nil {
			return 0, err
		}
		if ok {
			high = middle
		} else {
			low = middle
		}
	}
	return high, nil
}
