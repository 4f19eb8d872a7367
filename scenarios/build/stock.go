package build

import (
	"context"
	"fmt"
	"slices"
	"strconv"

	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/term"
	"nospark/scenarios/vehicle"
)

// Stock is a lab without sheets and where its rows come from: what was solved and simulated once, so that any number of
// new vehicles can be drawn later, in no time and on any machine. It holds nothing of a class or of a term's key.
type Stock struct {
	Lab  *lab.Lab `json:"lab"`
	Rows []Origin `json:"rows"` // of each hypothesis of the lab
}

// Origin is where a hypothesis comes from.
type Origin struct {
	Fault      int       `json:"fault"` // of the pack, -1 for the vehicle with nothing wrong
	Severities []float64 `json:"severities"`
}

// NewStock makes the stock for a plan. The roster, the seats and what students have had before do not matter; the key
// only draws the codes of repairs, so it may be a published one.
func NewStock(ctx context.Context, in Input) (*Stock, error) {
	p, err := pack.Parse(in.PackFile, []byte(in.Pack))
	if err != nil {
		return nil, err
	}
	req, err := resolve(&in.Plan, p)
	if err != nil {
		return nil, err
	}
	const class = 24 // sheets: cases are chosen as for a class
	b, _, err := settled(ctx, &in, p, req, class)
	if err != nil {
		return nil, err
	}
	stock := &Stock{Lab: b.lab}
	for _, s := range b.sources {
		stock.Rows = append(stock.Rows, Origin{Fault: s.fault, Severities: s.severities})
	}
	return stock, nil
}

// Supply draws vehicles from a stock. It is not safe for use by several goroutines at once.
type Supply struct {
	lab    *lab.Lab
	drawer *drawer
	sets   []isolation.Set // of each case of the lab its rows
}

// Open makes a stock ready. A supply of another stock of the same pack saves reading the pack again; nil where there is
// none. The error is a stock of another version of the program.
func (s *Stock) Open(like *Supply) (*Supply, error) {
	var p *pack.Pack
	var healthy *vehicle.Vehicle
	if like != nil && like.lab.Pack.Source == s.Lab.Pack.Source {
		p, healthy = like.drawer.p, like.drawer.healthy
	} else {
		var err error
		if p, err = pack.Parse("pack "+s.Lab.Pack.Name, []byte(s.Lab.Pack.Source)); err != nil {
			return nil, err
		}
		healthy = vehicle.Healthy(p)
	}
	if len(s.Rows) != len(s.Lab.Hypotheses) || len(s.Lab.Cases) == 0 {
		return nil, fmt.Errorf("stock of pack %q: %d rows for %d suspects, %d cases", p.Name, len(s.Rows),
			len(s.Lab.Hypotheses), len(s.Lab.Cases))
	}
	place := map[string]int{}
	for i, t := range p.Tests {
		place[t.ID] = i
	}
	tests := make([]int, len(s.Lab.Tests))
	for i, t := range s.Lab.Tests {
		at, known := place[t.ID]
		if !known {
			return nil, fmt.Errorf("stock of pack %q: test %q is not in the pack", p.Name, t.ID)
		}
		tests[i] = at
	}
	sources := make([]source, len(s.Rows))
	for i, r := range s.Rows {
		if r.Fault < -1 || r.Fault >= len(p.Faults) || r.Fault >= 0 && len(r.Severities) == 0 {
			return nil, fmt.Errorf("stock of pack %q: row %d comes from nowhere", p.Name, i)
		}
		sources[i] = source{fault: r.Fault, severities: r.Severities}
	}
	sets, _, err := rowsOf(s.Lab)
	if err != nil {
		return nil, err
	}
	return &Supply{lab: s.Lab, drawer: &drawer{lab: s.Lab, p: p, healthy: healthy, tests: tests, sources: sources},
		sets: sets}, nil
}

// Pack is the pack of the stock, as it was read.
func (s *Supply) Pack() *pack.Pack { return s.drawer.p }

// Any asks for whatever the case brings.
const Any = -1

// Draw makes a lab of one sheet: a case, a row of it by the weights and by nothing else, and the readings of a vehicle
// that shows it, all from the key. A row other than Any is hidden again, in a case that it fits. The minutes of best
// play are left to whoever grades, and the lab has no seal: nothing was handed out that it could be compared with.
func (s *Supply) Draw(key term.Key, number, row int) (*lab.Lab, error) {
	l := *s.lab // shares all but the sheet
	m := maker{lab: &l, in: &Input{Key: key}, drawer: s.drawer}
	j := job{who: person{id: strconv.Itoa(number), spare: true}, tally: newTally()}
	stream := sheetStreams(key, l.Name, j.who, 0)
	var fitting []int // nobody is known here, so every case is as good as another
	for c, rows := range s.sets {
		if row == Any || row >= 0 && row < len(l.Hypotheses) && rows.Has(row) {
			fitting = append(fitting, c)
		}
	}
	if len(fitting) == 0 {
		return nil, fmt.Errorf("row %d of pack %q fits no case", row, l.Pack.Name)
	}
	j.begin, j.row = fitting[stream("case").Intn(len(fitting))], row
	if row == Any {
		d := dealer{lab: &l, sets: s.sets, hide: slices.Repeat([]bool{true}, len(l.Faults))}
		j.row = d.row(stream("row"), j.begin)
	}
	if j.drawn, j.ok = s.drawer.vehicle(stream, j.row, attempts, j.tally); !j.ok {
		return nil, m.hopeless(j)
	}
	sheet := m.sheet(j, func(way) int64 { return 0 })
	sheet.Code = m.code(j, map[string]bool{})
	l.Sheets = []lab.Sheet{sheet}
	return &l, nil
}
