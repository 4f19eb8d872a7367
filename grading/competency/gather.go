package competency

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"nospark/grading"
	"nospark/grading/competency/lists"
	"nospark/grading/evidence"
	"nospark/scenarios/lab"
)

// gathering is a term in the making. Files are added one after the other; term then works out what follows from all of
// them together.
type gathering struct {
	t       Term
	texts   map[string]string           // one copy of each text that comes again and again
	files   map[*evidence.Record]string // where a record was read from
	taken   map[[3]string]string        // file by term, lab and section
	foreign map[string][]string         // files by term, of terms whose key is not here
	// awards of other terms, from files that their instructors signed
	gathered []lists.Award
}

func newGathering(o Options) *gathering {
	return &gathering{t: Term{Options: o}, texts: map[string]string{}, files: map[*evidence.Record]string{},
		taken: map[[3]string]string{}, foreign: map[string][]string{}}
}

// problem notes something to look at: place is a file or a line of one, do what a person can do about it.
func (g *gathering) problem(place, do, format string, args ...any) {
	g.t.Problems = append(g.t.Problems, grading.Problem{Place: place, What: fmt.Sprintf(format, args...), Do: do})
}

// add takes one file: a record whose seal is that of this term, or what another instructor has gathered and signed.
func (g *gathering) add(name string, data []byte) {
	if strings.HasSuffix(name, GatheredEnd) {
		g.addGathered(name, data)
		return
	}
	r, err := evidence.Decode(name, data)
	if err != nil {
		g.problem(name, "the record is left out until that is done", "%s", strings.TrimPrefix(err.Error(), name+": "))
		return
	}
	if g.t.Key != nil {
		switch sealing := r.Verify(data, g.t.Term, *g.t.Key); sealing {
		case lab.Changed:
			g.problem(name, "grade the lab again to write it anew; it is left out until then", "%s",
				evidence.SealingWords(sealing))
			return
		case lab.NotCheckable:
			g.foreign[r.Term] = append(g.foreign[r.Term], name)
			return
		}
	}
	g.take(name, r)
}

// take adds a record that can be trusted. Of two that speak of the same section of a lab the first counts.
func (g *gathering) take(name string, r *evidence.Record) {
	key := [3]string{r.Term, r.Lab, r.Section}
	if first, twice := g.taken[key]; twice {
		g.problem(name, "keep one of the two; the other file counts", "speaks of lab %s, section %q of the same term "+
			"as %s", r.Lab, r.Section, first)
		return
	}
	g.taken[key], g.files[r] = name, name
	g.share(r)
	g.t.Records = append(g.t.Records, r)
}

// tellForeign tells once of the records of each other term: their seals cannot be checked here.
func (g *gathering) tellForeign() {
	for _, id := range slices.Sorted(maps.Keys(g.foreign)) {
		first, records := g.foreign[id][0], fmt.Sprintf("and %d others are", len(g.foreign[id])-1)
		switch len(g.foreign[id]) {
		case 1:
			records = "is"
		case 2:
			records = "and 1 other are"
		}
		g.problem(first, "to count them, have their instructor gather them (nospark gather) and list the key in "+
			"term.toml",
			"%s of term %s: anybody could have written them, so they are left out", records, id)
	}
}

// share lets equal texts of all records be one, which is most of what a large term would need memory for.
func (g *gathering) share(r *evidence.Record) {
	one := func(text *string) {
		if known, ok := g.texts[*text]; ok {
			*text = known
			return
		}
		g.texts[*text] = *text
	}
	for i := range r.Students {
		e := &r.Students[i]
		for _, text := range []*string{&e.Student, &e.Name, &e.Fault, &e.Label, &e.Complaint, &e.Repair, &e.Concluded,
			&e.Why} {
			one(text)
		}
		for k := range e.Evidence {
			x := &e.Evidence[k]
			one(&x.Competency)
			one(&x.Test)
			one(&x.Why)
		}
	}
}

// addGathered takes a file of gathered records: all of it, or nothing.
func (g *gathering) addGathered(name string, data []byte) {
	p, who, err := openGathered(data, g.t.Term.Sources)
	if err != nil {
		g.problem(name, "ask the instructor to gather again, and compare the key that nospark gather prints; it is "+
			"left out", "%s", err)
		return
	}
	students := map[string]bool{} // of the records that count
	for i, raw := range p.Records {
		place := fmt.Sprintf("%s, record %d", name, i+1)
		r, err := evidence.Decode(place, raw)
		switch {
		case err != nil:
			g.problem(place, "ask "+who+" to gather again; the record is left out", "%s", err)
		case r.Term != p.Term || r.Term == g.t.Term.ID:
			g.problem(place, "it is left out", "is of term %s, and %s gathered term %s", r.Term, who, p.Term)
		default:
			for i := range r.Students {
				students[r.Students[i].Student] = true
			}
			g.take(place, r)
		}
	}
	for _, a := range p.Awards {
		a.Place = name
		if !students[a.Student] { // nobody awards to, or takes from, the students of others
			g.problem(name, "it is left out", "has an award for a student of whom it has no record that counts")
			continue
		}
		g.gathered = append(g.gathered, a)
	}
}
