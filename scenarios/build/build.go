package build

import (
	"cmp"
	"context"
	"fmt"
	"strconv"

	"nospark/scenarios/cases"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/vehicle"
)

// Lab makes a lab, or adds sheets to a previous one, which it never changes. The error says what about the plan, the
// pack or the roster is wrong; there is no lab then.
func Lab(ctx context.Context, in Input) (*lab.Lab, *Report, error) {
	if in.Previous != nil {
		return extend(ctx, in)
	}
	p, err := pack.Parse(in.PackFile, []byte(in.Pack))
	if err != nil {
		return nil, nil, err
	}
	req, list, err := in.asked(p)
	if err != nil {
		return nil, nil, err
	}
	b, found, err := settled(ctx, &in, p, req, len(list)*max(1, in.Plan.Vehicles))
	if err != nil {
		return nil, nil, err
	}
	l := b.lab
	m := maker{lab: l, in: &in, drawer: newDrawer(l, p, req.tests, b.sources), hide: req.hide, people: list}
	return m.finish(ctx, newReport(l, found, b.notes))
}

// lacks finds the dangers that a pack's vehicle does not have, by its parts and by how it is operated.
func lacks(p *pack.Pack) lab.Lacks {
	out := lab.Lacks{Secondary: true, Engine: true}
	for i := range p.Parts {
		switch p.Parts[i].Kind.Behaves() {
		case "coil", "pencil-coil", "distributor", "lead", "plug":
			out.Secondary = false
		case "starter":
			out.Engine = false
		}
	}
	for _, c := range p.Conditions {
		if c.Cranking() || c.Running() {
			out.Engine = false
		}
	}
	return out
}

// settled makes a lab for a number of sheets, all but the sheets.
func settled(ctx context.Context, in *Input, p *pack.Pack, req request, sheets int) (*builder, []*cases.Found, error) {
	l := &lab.Lab{Format: lab.Format, Term: in.Term.ID, Program: in.Term.Program, Name: in.Plan.Name,
		Title: in.Plan.Title, Date: in.Plan.Date,
		Paper: cmp.Or(in.Plan.Paper, in.Term.Paper), Rows: in.Plan.Rows, Rubric: in.Term.Rubric,
		Window: in.Plan.Difficulty, Scope: in.Plan.Scope,
		Lacks: lacks(p), Sensors: sensors(p),
		Closed: !in.Plan.Proof, Vehicles: in.Plan.Vehicles, Period: periodOf(&in.Plan),
		Technique: lab.Technique{Forbid: append([]string{}, in.Plan.Forbid...)},
		Pack:      lab.PackRef{Name: p.Name, Title: p.Title, Version: p.Version, Source: in.Pack}}
	if in.Plan.Rubric != nil {
		l.Rubric = *in.Plan.Rubric
	}
	if err := frame(l, p, req, in.Key); err != nil {
		return nil, nil, err
	}
	if in.Matrix == nil {
		var err error
		if in.Matrix, err = vehicle.NewMatrix(p); err != nil {
			return nil, nil, fmt.Errorf("%s: %w", in.PackFile, err)
		}
	}
	b := &builder{ctx: ctx, lab: l, pack: p, in: in, req: req, sheets: sheets}
	found, err := b.settle()
	if err != nil {
		return nil, nil, err
	}
	l.Booklet = b.booklet()
	freeze(l, found)
	return b, found, nil
}

// sensors are the tables of the pack's temperature sensors. Ohms and volts have four digits: printing and grading work
// from the lab alone, and a sensor's tolerance is a percent or more.
func sensors(p *pack.Pack) []lab.SensorTable {
	var list []lab.SensorTable
	for _, t := range vehicle.SensorTables(p) {
		var table lab.SensorTable
		for _, s := range t.Sensors {
			table.Sensors = append(table.Sensors, lab.Sensor(s))
		}
		for _, r := range t.Rows {
			table.Rows = append(table.Rows, lab.SensorRow{Celsius: r.Celsius, Ohms: digits4(r.Ohms), Volts: digits4(r.Volts)})
		}
		list = append(list, table)
	}
	return list
}

// digits4 rounds to four digits.
func digits4(x float64) float64 {
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 4, 64), 64) // what was written can be read
	return rounded
}
