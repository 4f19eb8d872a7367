package pack

import (
	"fmt"
	"slices"

	"nospark/scenarios/spelling"
)

// Fault finds a fault by its id. An unknown id is an error with the nearest known one.
func (p *Pack) Fault(id string) (int, error) {
	return find("fault", id, len(p.Faults), func(i int) string { return p.Faults[i].ID })
}

// Condition finds a condition by its id. An unknown id is an error with the nearest known one.
func (p *Pack) Condition(id string) (int, error) {
	return find("condition", id, len(p.Conditions), func(i int) string { return p.Conditions[i].ID })
}

// Test finds a test by its id. An unknown id is an error with the nearest known one.
func (p *Pack) Test(id string) (int, error) {
	return find("test", id, len(p.Tests), func(i int) string { return p.Tests[i].ID })
}

func find(what, id string, n int, name func(int) string) (int, error) {
	known := make([]string, n)
	for i := range known {
		known[i] = name(i)
	}
	if i := slices.Index(known, id); i >= 0 {
		return i, nil
	}
	return -1, fmt.Errorf("there is no %s %q in the pack; %s", what, id, spelling.Suggest(id, known))
}
