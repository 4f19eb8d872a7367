package players

import (
	"slices"

	"nospark/grading/bestplay"
)

// list plays best for the faults that it knows there are, as common as they are, and concludes as soon as they leave
// one repair: it makes no check. Where none of its pool fits any more it takes in all that the readings allow.
func (p *player) list() {
	closed := p.c.closed[p.sheet.Complaint]
	known := p.s.Rows(p.set)
	if p.c.pool != nil {
		for h := range known.All() {
			if !slices.Contains(p.c.pool, p.c.lab.Hypotheses[h].Fault) {
				known = known.Without(h)
			}
		}
	}
	for {
		if known.Empty() {
			known = p.s.Rows(p.set)
		}
		t, more := closed.Best(known)
		if !more {
			p.commonest(known)
			return
		}
		if p.full() {
			p.any()
			return
		}
		known = closed.After(known, t, p.ask(t, false))
	}
}

// told knows its fault from a neighbor. It makes the one test that would say most for it: one that this fault makes
// abnormal, if there is any, and after which it would be likeliest. What the test shows changes nothing.
func (p *player) told() {
	lab := p.c.lab
	whispered := lab.Hypotheses[p.sheet.Truth].Fault // all that it knows of the truth
	rows := slices.DeleteFunc(slices.Collect(p.s.Rows(p.set).All()),
		func(h int) bool { return lab.Hypotheses[h].Fault != whispered })
	row := slices.MaxFunc(rows, func(a, b int) int { return int(lab.Hypotheses[a].Weight - lab.Hypotheses[b].Weight) })
	best, most := -1, -1.0
	for _, t := range p.open() {
		band := lab.Hypotheses[row].Band(t)
		after := p.s.After(p.set, t, band)
		says := float64(p.s.Weight(p.s.Needing(after, lab.Faults[whispered].Repair))) / float64(p.s.Weight(after))
		if shows := lab.Tests[t].Bands[band]; !shows.Normal && !shows.Silent {
			says++ // before all that read normal
		}
		if says > most || says == most && lab.Tests[t].Minutes < lab.Tests[best].Minutes {
			best, most = t, says
		}
	}
	if best >= 0 {
		p.ask(best, false)
	}
	p.conclude(lab.Faults[whispered].Repair)
}

// chart follows best play from nothing of the lab whose chart it has, test by test, whatever its own work order says; a
// reading that is given there it takes from there. Where the chart asks for a test that this lab does not have, or does
// not know the reading, it names any repair that is still possible.
func (p *player) chart() {
	from := p.c.charts[p.sheet.Complaint]
	if from == nil {
		p.any()
		return
	}
	set := from.All()
	for !p.full() {
		there, more := from.Best(set)
		if !more {
			p.conclude(p.sameRepair(from.Repairs(set)))
			return
		}
		here := p.sameTest(there)
		if here < 0 || !p.s.Open(here) {
			break
		}
		band := p.sameBand(here, there)
		if band < 0 {
			break
		}
		set = from.After(set, there, uint8(band))
		if set.Empty() {
			break
		}
	}
	p.any()
}

// sameTest finds a test of the chart's lab in this one, -1 for none.
func (p *player) sameTest(there int) int {
	for t, test := range p.c.lab.Tests {
		if test.ID == p.c.chart.Tests[there].ID {
			return t
		}
	}
	return -1
}

// sameBand takes a reading and gives its band on the chart, -1 for none.
func (p *player) sameBand(here, there int) int {
	band, given := p.given(here)
	if !given {
		band = p.ask(here, false)
	}
	for b, on := range p.c.chart.Tests[there].Bands {
		if on.Name == p.c.lab.Tests[here].Bands[band].Name {
			return b
		}
	}
	return -1
}

// given is what the work order says of a test.
func (p *player) given(test int) (band uint8, known bool) {
	for _, k := range bestplay.Known(p.c.lab, p.sheet) {
		if k.Test == test {
			return k.Band, true
		}
	}
	return 0, false
}

// sameRepair finds the first repair of the chart's end in this lab; the end of another pack's chart leads nowhere.
func (p *player) sameRepair(ends []int) int {
	for r, repair := range p.c.lab.Repairs {
		if repair.ID == p.c.chart.Repairs[ends[0]].ID {
			return r
		}
	}
	return p.s.Repairs(p.set)[0]
}
