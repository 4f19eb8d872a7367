package pack

import (
	"nospark/scenarios/disk"
	"nospark/scenarios/strict"
)

// Parse reads a pack. file stands in messages only. The error is a *strict.Problems with every error of the pack,
// one line each, by line.
func Parse(file string, data []byte) (*Pack, error) {
	p, _, err := Check(file, data)
	return p, err
}

// Check reads a pack and also gives the warnings that need no simulation, by line. With an error there is no pack.
func Check(file string, data []byte) (*Pack, []strict.Finding, error) {
	top, err := strict.Read(file, data)
	if err != nil {
		return nil, nil, err
	}
	top.Who = "pack"
	r := newReader(top.Found)
	specs, named := r.read(top)
	if r.found.Errors() == 0 {
		r.touched()
	}
	if r.found.Errors() == 0 {
		r.lint(specs, named)
	}
	if err := r.found.Err(); err != nil {
		return nil, r.found.Warnings(), err
	}
	return r.pack, r.found.Warnings(), nil
}

// read goes through the tables so that each only refers to what was read before it. It gives the specifications, of
// which nothing is left in the pack, and for every sweep the points that it names one by one.
func (r *reader) read(top *strict.Table) (specs []*spec, named [][]int) {
	p := r.pack
	p.Name = top.Text("name")
	if err := disk.CheckName(p.Name); p.Name != "" && (err != nil || !safe(p.Name)) {
		top.Fail("name", safeWords, "name = %q cannot be part of a file's name", p.Name)
	}
	p.Title = top.Text("title")
	p.Version = int(top.Whole("version", 1, 1e6))
	r.readVehicle(top)
	r.readPoints(top)
	r.readConditions(top)
	r.readParts(top)
	r.readRepairs(top)
	r.readFaults(top)
	r.readNothing(top)
	r.readComplaints(top)
	sweeps := r.list(top, "sweep", 0, 60)
	for _, t := range sweeps { // the ids alone, so that a spec can name a sweep
		r.sweeps.id(t)
	}
	specs = r.readSpecs(top)
	named = r.readSweeps(sweeps, specs)
	r.readTests(top)
	r.readProofs()
	r.readAccepts(top)
	top.Finish()
	return specs, named
}

func (r *reader) readVehicle(top *strict.Table) {
	for _, t := range r.list(top, "vehicle", 0, 30) {
		r.pack.Vehicle = append(r.pack.Vehicle, Fact{Name: t.Text("name"), Value: t.Text("value")})
		t.Finish()
	}
}
