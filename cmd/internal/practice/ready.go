package practice

import (
	"strconv"

	"nospark/cmd/internal/web"
	"nospark/grading"
	"nospark/grading/attempt"
	"nospark/scenarios/build"
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

// find looks a stage up by its name, "PACK STAGE".
func (g *Game) find(name string) place {
	for i, o := range g.c.Offers {
		for j, s := range o.Stages {
			if o.Pack+" "+s.ID() == name {
				return place{i, j}
			}
		}
	}
	return nowhere
}

// name is what find looks for.
func (g *Game) name(at place) string {
	o := g.c.Offers[at.offer]
	return o.Pack + " " + o.Stages[at.stage].ID()
}

// shelf gets a shelf down.
func (g *Game) shelf(offer int) (*Shelf, error) {
	if s := g.shelves[offer]; s != nil {
		return s, nil
	}
	s, err := g.c.Load(offer)
	if err == nil {
		g.shelves[offer] = s
	}
	return s, err
}

// stand sets a stage up.
func (g *Game) stand(at place) (*stand, error) {
	if s := g.stands[at]; s != nil {
		return s, nil
	}
	shelf, err := g.shelf(at.offer)
	if err != nil {
		return nil, err
	}
	stock, err := shelf.stock(at.stage)
	if err != nil {
		return nil, err
	}
	var like *build.Supply
	for other, s := range g.stands {
		if other.offer == at.offer {
			like = s.supply
		}
	}
	supply, err := stock.Open(like)
	if err != nil {
		return nil, err
	}
	s := &stand{supply: supply, memory: grading.NewMemory(func() (lab.Detail, error) {
		return stock.Lab.DetailWith(supply.Pack())
	})}
	g.stands[at] = s
	return s, nil
}

// draw gets a new vehicle.
func (g *Game) draw(at place, row int) (*turn, error) {
	k, err := term.NewKey(g.c.Random)
	if err != nil {
		return nil, err
	}
	g.number++
	return g.build(at, work{Stage: g.name(at), Seed: k[:], Number: g.number, Row: row}, nil)
}

// build makes the vehicle that a work begins with, and puts it on the bench with what was done before.
func (g *Game) build(at place, w work, done *attempt.Room) (*turn, error) {
	s, err := g.stand(at)
	if err != nil {
		return nil, err
	}
	l, err := s.supply.Draw(term.Key(w.Seed), w.Number, w.Row)
	if err != nil {
		return nil, err
	}
	l.Name, l.Title = "practice-"+strconv.Itoa(w.Number), "Practice: "+g.c.Offers[at.offer].Title
	l.Sheets[0].Student = self
	w.Code, w.Sum = l.Sheets[0].Code, sum(&l.Sheets[0])
	v := &turn{place: at, work: w, lab: l}
	v.bench, err = web.New(web.Config{Lab: l, Room: done, Journal: keeper{g}, Shell: g.shell, Alone: true,
		Pack: s.supply.Pack(), Circuit: g.shelves[at.offer].circuit(at.stage), Like: s.bench, Left: g.unkept})
	if err != nil {
		return nil, err
	}
	if s.bench == nil {
		s.bench = v.bench
	}
	return v, nil
}

// fetch puts the next vehicle on the bench: the one that is ready, where any will do.
func (g *Game) fetch(at place, level Level, row int) error {
	v := g.spares[at]
	if v == nil || row != build.Any {
		var err error
		if v, err = g.draw(at, row); err != nil {
			return err
		}
	} else {
		delete(g.spares, at)
	}
	v.Level = level
	g.now = v
	g.keepVehicle()
	return nil
}

// Prepare does a small piece of what will be wanted soon, for a page that waits for somebody who reads: the vehicle in
// hand of last time, a vehicle of the stage that is chosen, then the shelves of the others. It tells whether there is
// more to do. What fails here is told when it is asked for.
func (g *Game) Prepare(stage string) (more bool) {
	if g.before != nil {
		stage = g.before.Stage
	}
	chosen := g.find(stage)
	if chosen == nowhere && g.now != nil {
		chosen = g.now.place
	}
	if chosen != nowhere {
		if did, err := g.ready(chosen); did || err != nil {
			return err == nil
		}
		if g.before != nil {
			g.resume()
			return true
		}
		if g.spares[chosen] == nil {
			v, err := g.draw(chosen, build.Any)
			if err != nil {
				return false
			}
			g.spares[chosen] = v
			v.bench.Do(web.Request{Method: "GET", Path: "/sheet", Sheet: v.Code})
			_, err = grade(g.stands[chosen].memory, v.lab, v.bench.Attempt(v.Code))
			return err == nil
		}
	}
	for i := range g.c.Offers {
		if did, err := g.ready(place{i, 0}); did || err != nil {
			return err == nil
		}
	}
	return false
}

// ready does the next piece of setting a stage up, if there is one left.
func (g *Game) ready(at place) (did bool, err error) {
	switch {
	case g.shelves[at.offer] == nil:
		_, err = g.shelf(at.offer)
	case g.stands[at] == nil:
		_, err = g.stand(at)
	default:
		return false, nil
	}
	return true, err
}
