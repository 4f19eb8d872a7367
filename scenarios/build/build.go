package build

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"nospark/scenarios/cases"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/proof"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
	"nospark/scenarios/vehicle"
)

// Input is all that a build depends on: equal inputs give an equal lab, whatever the machine.
type Input struct {
	Term     term.Term
	Plan     term.Plan
	Students []roster.Student // of the whole roster, in its order
	Key      term.Key
	Seating  term.Seating    // nil: the order of the roster tells who sits beside whom
	History  term.History    // what students have had in earlier labs of the term; nil: nothing
	PackFile string          // name of the pack's text for errors
	Pack     string          // the text
	Matrix   *vehicle.Matrix // of the pack, for a program that builds several labs from it; nil: computed
	Previous *lab.Lab        // the lab as built before, or nil
	Progress func(done, total int)
}

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

// asked is what the plan asks of the pack, and the people of the lab. Everything wrong with the two is told at once,
// before the long work begins.
func (in *Input) asked(p *pack.Pack) (request, []person, error) {
	req, err := resolve(&in.Plan, p)
	list, peopleErr := people(&in.Plan, in.Students)
	return req, list, errors.Join(err, peopleErr)
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

// periodOf is what a lab keeps of the length of its lesson.
func periodOf(plan *term.Plan) int {
	if plan.Period == lab.UsualPeriod {
		return 0
	}
	return plan.Period
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

// builder decides what the sheets of a lab may be about.
type builder struct {
	ctx     context.Context
	lab     *lab.Lab
	pack    *pack.Pack
	in      *Input
	req     request
	sheets  int
	sources []source        // of the lab's hypotheses
	checks  [][]proof.Check // of each row of the matrix; nil until they are asked for
	notes   []string
}

// settle fills in the hypotheses for the plan's complaints, their checks, and the cases of each. A plan without any
// complaint gets the one that most different faults to hide give; one that cannot be solved, or needs no testing, is
// passed over.
func (b *builder) settle() ([]*cases.Found, error) {
	if b.req.complaints != nil {
		return b.solve(b.req.complaints)
	}
	var failed []error
	for _, c := range b.byVariety() {
		found, err := b.solve([]int{c})
		if err == nil {
			return found, nil
		}
		if b.ctx.Err() != nil {
			return nil, err
		}
		failed = append(failed, err) // told only if no other complaint does
	}
	failed = append(failed, fmt.Errorf("%s: no complaint of pack %q has a fault to hide", b.in.Plan.File,
		b.lab.Pack.Name))
	return nil, errors.Join(failed...)
}

// byVariety lists the complaints that some fault to hide gives, those with the most different ones first.
func (b *builder) byVariety() []int {
	faults := make([]map[int]bool, len(b.lab.Complaints))       // those to hide
	healthy := b.req.nothing && b.req.hide[len(b.lab.Faults)-1] // it borrows any complaint
	for _, r := range b.in.Matrix.Rows {
		if r.Complaint < 0 || r.Fault < 0 || !b.req.hide[r.Fault] && !healthy {
			continue
		}
		if faults[r.Complaint] == nil {
			faults[r.Complaint] = map[int]bool{}
		}
		if b.req.hide[r.Fault] {
			faults[r.Complaint][r.Fault] = true
		}
	}
	var order []int
	for c := range faults {
		if faults[c] != nil {
			order = append(order, c)
		}
	}
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(len(faults[y]), len(faults[x])) })
	return order
}

// solve works out the given complaints.
func (b *builder) solve(complaints []int) ([]*cases.Found, error) {
	plan, l := &b.in.Plan, b.lab
	b.notes = nil
	b.sources = suspect(l, b.pack, b.in.Matrix, b.req, complaints)
	if len(l.Hypotheses) == 0 {
		return nil, fmt.Errorf("%s: no fault of pack %q gives the complaint", plan.Place("complaint"), l.Pack.Name)
	}
	if err := tooMany(l); err != nil {
		return nil, fmt.Errorf("%s: %w", plan.File, err)
	}
	sources, lost, err := buildable(b.ctx, l, newDrawer(l, b.pack, b.req.tests, b.sources))
	if err != nil {
		return nil, err
	}
	b.sources = sources
	if len(lost) > 0 {
		b.notes = append(b.notes, fmt.Sprintf("in part or wholly left out, because hardly any vehicle within the "+
			"pack's tolerances keeps their bands: %s",
			strings.Join(lost, ", ")))
	}
	b.prove()
	if err := b.unreachable(complaints); err != nil {
		return nil, err
	}
	var all []*cases.Found
	var failed []error
	for _, c := range complaints {
		f, err := cases.Find(l, c, cases.Request{Hide: func(fault int) bool { return b.req.hide[fault] },
			Named: b.req.named, Known: plan.Known,
			Difficulty: plan.Difficulty, Sheets: b.sheets})
		if err != nil {
			key := complaintKey(plan)
			if hard := new(cases.DifficultyError); errors.As(err, &hard) {
				key = "difficulty"
			}
			failed = append(failed, fmt.Errorf("%s: %w", plan.Place(key), err))
			continue
		}
		all = append(all, f)
	}
	return all, errors.Join(failed...)
}

// unreachable refuses faults that the plan names but that do not give its complaints.
func (b *builder) unreachable(complaints []int) error {
	gives := map[int]bool{}
	for _, h := range b.lab.Hypotheses {
		gives[h.Fault] = true
	}
	some := false
	var failed []error
	for f, hide := range b.req.hide {
		switch {
		case hide && gives[f]:
			some = true
		case hide && b.req.named:
			failed = append(failed, fmt.Errorf("%s: fault %q does not give the lab's complaint",
				b.in.Plan.Place("faults"), b.lab.Faults[f].ID))
		}
	}
	if len(failed) == 0 && !some {
		failed = append(failed, fmt.Errorf("%s: no fault is left to hide: under the plan's complaints every one is "+
			"excluded", b.in.Plan.File))
	}
	return errors.Join(failed...)
}

func complaintKey(plan *term.Plan) string {
	if plan.Has("complaint") {
		return "complaint"
	}
	return "complaints"
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
