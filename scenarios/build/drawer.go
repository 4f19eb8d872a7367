package build

import (
	"nospark/scenarios/draw"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/vehicle"
)

// drawer draws vehicles for the sheets of a lab. It is used by several goroutines at once and changes nothing of its
// own.
type drawer struct {
	lab     *lab.Lab
	p       *pack.Pack
	healthy *vehicle.Vehicle
	tests   []int    // of each test of the lab its index in the pack
	sources []source // of each hypothesis of the lab
}

func newDrawer(l *lab.Lab, p *pack.Pack, tests []int, sources []source) *drawer {
	return &drawer{lab: l, p: p, healthy: vehicle.Healthy(p), tests: tests, sources: sources}
}

// streams gives the random stream for a purpose.
type streams func(purpose ...string) *draw.Stream

// drawn is a vehicle that fits its row, as the meters show it.
type drawn struct {
	severity float64
	readings []reading // by test of the lab
	traces   []lab.Trace
}

type reading struct {
	text, beside string
	band         uint8
}
