package lab

import (
	"fmt"
	"math"
	"slices"

	"nospark/scenarios/pack"
	"nospark/scenarios/pack/spec"
)

// Detail is what papers for the instructor need beyond the frozen lab: bands in words, and where parts and leads are.
// It follows from the text of the pack that the lab keeps.
type Detail struct {
	// of each test and band: "at least 0.5 and less than 11 V below the battery reading"; a phrase or name where there
	// are no limits
	Bands [][]string
	Parts map[string][]int // id of a part -> indexes into Lab.Points of the points that its pins are on
	// id of a part -> its own feed, ground and inputs: it is bad when these are good and what it puts out is not
	Needs map[string][]Need
	// of each test, indexes into Lab.Points of the points that it is about: the lead that moves, or all leads outside
	// the grid
	Leads [][]int
}

// KeptPack reads the text of the pack that the lab keeps. The error says that there is none, or that this program
// cannot read it any more.
func (l *Lab) KeptPack() (*pack.Pack, error) {
	if l.Pack.Source == "" {
		return nil, fmt.Errorf("lab %q does not keep the text of its pack", l.Name)
	}
	p, err := pack.Parse("the pack kept in lab "+l.Name, []byte(l.Pack.Source))
	if err != nil {
		return nil, fmt.Errorf("lab %q was built by a version of this program whose packs this one does not read: %w",
			l.Name, err)
	}
	return p, nil
}

// Detail works the details out. The error says that this program cannot read the pack's text any more, or that the lab
// keeps none.
func (l *Lab) Detail() (Detail, error) {
	p, err := l.KeptPack()
	if err != nil {
		return Detail{}, err
	}
	return l.DetailWith(p)
}

// DetailWith is for who has read the pack that the lab keeps.
func (l *Lab) DetailWith(p *pack.Pack) (Detail, error) {
	d := Detail{Parts: map[string][]int{}, Needs: map[string][]Need{}}
	for _, part := range p.Parts {
		var at []int
		for _, pin := range part.Pins {
			if pin < p.Points && !slices.Contains(at, pin) {
				at = append(at, pin)
			}
		}
		d.Parts[part.ID] = at
		d.Needs[part.ID] = needsOf(p, &part)
	}
	place := map[string]int{}
	for i, t := range p.Tests {
		place[t.ID] = i
	}
	for _, t := range l.Tests {
		i, known := place[t.ID]
		if !known {
			return Detail{}, fmt.Errorf("lab %q: the pack that it keeps has no test %q", l.Name, t.ID)
		}
		d.Bands = append(d.Bands, BandWords(p, i))
		d.Leads = append(d.Leads, leads(p, &p.Tests[i]))
	}
	return d, nil
}

// leads lists the test points that a test is about.
func leads(p *pack.Pack, t *pack.Test) []int {
	nodes := []int{t.Red, t.Black}
	if t.Sweep >= 0 {
		nodes = []int{t.Point(p)}
	}
	var at []int
	for _, n := range nodes {
		if n >= 0 && n < p.Points && n != p.Reference && !slices.Contains(at, n) {
			at = append(at, n)
		}
	}
	return at
}

// BandWords says of every band of a test of a pack which readings belong to it, in the words of the specifications: the
// specification of the test if that band alone were the normal one.
func BandWords(p *pack.Pack, test int) []string {
	t := p.Tests[test]
	words := make([]string, len(t.Bands))
	for i := range t.Bands {
		words[i] = t.Bands[i].Name
		if i >= len(t.Own()) || t.Instrument.Phrases != nil {
			continue
		}
		alone := t
		alone.Bands = slices.Clone(t.Bands)
		for k := range alone.Bands {
			alone.Bands[k].Normal = k == i
		}
		if len(t.Own()) > 1 || !math.IsInf(t.Bands[i].Below, 1) {
			words[i] = spec.Text(alone, p)
		}
	}
	return words
}
