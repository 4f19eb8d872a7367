package pack

import "slices"

// Roles lists the roles that a point can have.
var Roles = []Role{RoleBattery, RoleFeed, RoleGround, RoleReference, RoleSignal, RoleOutput, RoleSensor, RoleSecondary}

func roleNames() []string {
	list := make([]string, len(Roles))
	for i, r := range Roles {
		list[i] = string(r)
	}
	return list
}

// sides are where a diagram can print a point's label.
var sides = []string{"left", "right", "above", "below"}

// readNodes reads the test points, then the nodes that no lead reaches, then the reference. Points come first wherever they stand in the
// file: their numbers on the diagram are their places in the list.
func (r *reader) readNodes(top *table) {
	for _, t := range r.list(top, "point", 1, MaxNodes) {
		n := r.node(t)
		if t.has("role") {
			n.Role = Role(t.oneOf("role", roleNames()))
		}
		n.Access = t.tenths("access_minutes", 0, 600, false)
		t.finish()
		r.pack.Nodes = append(r.pack.Nodes, n)
	}
	r.pack.Points = len(r.pack.Nodes)
	r.nodes.what = "node"
	for _, t := range r.list(top, "node", 0, MaxNodes) {
		n := r.node(t)
		t.finish()
		r.pack.Nodes = append(r.pack.Nodes, n)
	}
	r.nodes.what = "point"
	if !top.has("reference") {
		top.missing("reference")
		return
	}
	r.pack.Reference = top.ref("reference", &r.nodes)
}

// node reads what points and nodes share.
func (r *reader) node(t *table) Node {
	n := Node{ID: r.nodes.id(t), Line: t.place.Line}
	n.Label = t.textOr("label", n.ID)
	if at := t.numbers("at", 2); at != nil {
		n.At, n.HasAt = [2]float64(at), true
	}
	if t.has("label_side") {
		n.LabelSide = t.oneOf("label_side", sides)
	}
	return n
}

// keys are the positions of the ignition switch by name.
var keys = []struct {
	name string
	key  Key
}{{"off", KeyOff}, {"run", KeyRun}, {"crank", KeyCrank}}

func keyNames() []string {
	list := make([]string, len(keys))
	for i, k := range keys {
		list[i] = k.name
	}
	return list
}

func keyByName(name string) Key {
	i := slices.Index(keyNames(), name)
	if i < 0 {
		return 0
	}
	return keys[i].key
}

// Gas in the gap when a condition gives none: open air in the shop.
const (
	shopBar    = 1.013
	shopKelvin = 293
)

func (r *reader) readConditions(top *table) {
	for _, t := range r.list(top, "condition", 1, MaxConditions) {
		c := Condition{ID: r.conditions.id(t), Line: t.place.Line}
		c.Label = t.textOr("label", c.ID)
		c.Key = keyByName(t.oneOf("key", keyNames()))
		c.SpeedRPM = t.numberOr("speed_rpm", "1/min", 0, 20000, 0)
		c.ChargingVolts = t.numberOr("charging_volts", "V", 0, 100, 0)
		c.PressureBar = t.numberOr("pressure_bar", "bar", 0.1, 200, shopBar)
		c.TemperatureKelvin = t.numberOr("temperature_kelvin", "K", 200, 3000, shopKelvin)
		c.SparkMillijoules = t.numberOr("spark_millijoules", "mJ", 0, 1000, 0)
		c.SparkMilliseconds = t.numberOr("spark_milliseconds", "ms", 0, 10, 0)
		t.finish()
		if c.Running() && c.Key != KeyRun && c.Key != 0 {
			t.fail("speed_rpm", `with key = "crank" the starter sets the speed`, "the engine runs by itself only with key = %q", "run")
		}
		if c.ChargingVolts > 0 && !c.Running() {
			t.fail("charging_volts", "give speed_rpm", "nothing charges while the engine does not run")
		}
		r.pack.Conditions = append(r.pack.Conditions, c)
	}
}
