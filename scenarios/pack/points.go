package pack

import (
	"slices"

	"nospark/scenarios/spelling"
	"nospark/scenarios/strict"
)

// Roles lists the roles that a point can have.
var Roles = []Role{RoleBattery, RoleFeed, RoleGround, RoleReference, RoleSignal, RoleOutput, RoleSensor, RoleSecondary}

func roleNames() []string {
	list := make([]string, len(Roles))
	for i, r := range Roles {
		list[i] = string(r)
	}
	return list
}

// edge is the greatest coordinate of a diagram in grid squares.
const edge = 1000

// sides are where a diagram can print a point's label.
var sides = []string{"left", "right", "above", "below"}

// readPoints reads the test points, then the nodes that no lead reaches, then the reference. Points come first
// wherever they stand in the file: their numbers on the diagram are their places in the list.
func (r *reader) readPoints(top *strict.Table) {
	for _, t := range r.list(top, "point", 1, MaxNodes) {
		n := r.node(t)
		if t.Has("role") {
			n.Role = Role(t.Choice("role", roleNames()))
		}
		n.Access = t.MinutesOr("access_minutes", 0, 600, 0)
		t.Finish()
		r.pack.Nodes = append(r.pack.Nodes, n)
	}
	r.pack.Points = len(r.pack.Nodes)
	r.nodes.what = "node"
	for _, t := range r.list(top, "node", 0, MaxNodes) {
		n := r.node(t)
		t.Finish()
		r.pack.Nodes = append(r.pack.Nodes, n)
	}
	r.nodes.what = "point"
	if reference := r.nodes.need(top, "reference"); reference >= 0 {
		r.pack.Reference = reference
	}
}

// node reads what points and nodes share.
func (r *reader) node(t *strict.Table) Node {
	n := Node{ID: r.nodes.id(t), Line: t.Line("")}
	n.Label = t.TextOr("label", n.ID)
	if at := t.Numbers("at", 2, -edge, edge); at != nil {
		n.At, n.HasAt = [2]float64(at), true
	}
	if t.Has("label_side") {
		n.LabelSide = t.Choice("label_side", sides)
	}
	return n
}

// readRoles reads role = "x" or roles = ["x", "y"].
func readRoles(t *strict.Table) []Role {
	var list []Role
	if t.Has("role") {
		if role := t.Choice("role", roleNames()); role != "" {
			list = append(list, Role(role))
		}
		if t.Has("roles") {
			t.Fail("roles", "give one of them", "role is given too")
		}
		return list
	}
	names, at := t.Texts("roles")
	for i, name := range names {
		if !slices.Contains(roleNames(), name) {
			t.FailAt(at[i], spelling.Suggest(name, roleNames()), "unknown role %q", name)
			continue
		}
		list = append(list, Role(name))
	}
	if names != nil && len(names) == 0 {
		t.Fail("roles", "", "roles is empty")
	}
	return list
}

// point reads a key that names a point a lead can reach; -1 when it does not.
func (r *reader) point(t *strict.Table, key string) int {
	p := r.nodes.ref(t, key)
	if p >= 0 && !r.reachable(t, key, p) {
		return -1
	}
	return p
}

func (r *reader) reachable(t *strict.Table, key string, node int) bool {
	if node < r.pack.Points {
		return true
	}
	t.Fail(key, "declare it as a [[point]]", "no lead reaches node %q", r.pack.Nodes[node].ID)
	return false
}

// kindOf says how a node is declared.
func (r *reader) kindOf(node int) string {
	if node < r.pack.Points {
		return "point"
	}
	return "node"
}
