package cards

import "math"

// Kinds is the table of all part kinds. It drives validation, the printed cards and the documentation; package vehicle
// gives each its behavior.
var Kinds = []Kind{
	{
		Name: "battery", Pins: []string{"+", "-"}, Main: 0,
		Params: []Param{
			number("emf_volts", "V", math.NaN(), 0, 1000, "rest voltage; left out, it follows from charge_percent"),
			required("resistance_ohms", "ohm", 0, 1000, "internal resistance"),
			number("charge_percent", "%", 100, 0, 100, "state of charge, used when emf_volts is left out"),
		},
		Equation: "source of emf_volts behind resistance_ohms; emf by charge 100/75/50/25/0 %: " +
			"12.65/12.45/12.24/12.06/11.89 V, linear between",
		Source: "table credited to Battery Council International, 26.7 °C",
	},
	{
		Name: "starter", Pins: []string{"+", "-"}, Main: 0,
		Params: []Param{
			required("resistance_ohms", "ohm", 0.001, 10, "effective, while it turns the engine, cables included"),
			number("speed_rpm", "1/min", 200, 20, 500, "cranking speed of the engine at at_volts"),
			number("at_volts", "V", 10.5, 1, 50, "voltage across the starter for speed_rpm"),
			number("turns_above_volts", "V", 7, 0, 50, "below this it clicks and does not turn"),
			number("slow_below_rpm", "1/min", 150, 10, 500, "cranking slower than this sounds slow"),
		},
		Equation: "while cranking: a load of resistance_ohms; speed = speed_rpm x V / at_volts, 0 below " +
			"turns_above_volts",
		Source: "effective resistance: " + common + "; 150-300 1/min cranking: " + common,
	},
	{
		Name: "wire", Pins: []string{"a", "b"}, Main: 0,
		Params: []Param{
			path(math.NaN(), "given, or from gauge and length"),
			number("gauge_awg", "AWG", math.NaN(), 0, 40, "with length_metres"),
			number("length_metres", "m", math.NaN(), 0.01, 1000, "with gauge_awg"),
		},
		Equation: "R = 0.017241 ohm mm2/m x length / area; d = 0.127 mm x 92^((36-awg)/39); at 20 °C",
		Source:   "ASTM B258-02 (ratio), IEC 60028 (resistivity)",
	},
	{
		Name: "connector", Pins: []string{"a", "b"}, Main: 0,
		Params:   []Param{path(0.005, "contact resistance")},
		Equation: "a resistance",
		Source:   common,
	},
	{
		Name: "fuse", Pins: []string{"a", "b"}, Main: 0,
		Params: []Param{
			path(0.005, "of the good fuse"),
			number("holder_ohms", "ohm", 0, 0, 1000, "of corroded contacts in its holder, which a pulled fuse leaves behind"),
			number("rating_amps", "A", 20, 0.1, 500,
				"it blows when the mean current in any condition is above, and stays blown"),
		},
		Equation: "a resistance, with its holder's on top while it is plugged in; open once the mean current was above rating_amps with the key in any position",
		Source:   common,
	},
	{
		Name: "switch", Pins: []string{"a", "b"}, Main: 0,
		Params: []Param{
			path(0.01, "of the closed contacts"),
			{Name: "closed_in", Default: float64(KeyRun | KeyCrank), Max: 7, Kind: KeyPositions,
				Note: `key positions in which it is closed: "off", "run", "crank"`},
		},
		Equation: "resistance_ohms in the closed positions, open in the others",
		Source:   common,
	},
	{
		Name: "relay", Pins: []string{"coil_a", "coil_b", "common", "contact"}, Main: -1,
		Params: []Param{
			{Name: "coil_ohms", Unit: "ohm", Default: 85, Min: 1, Max: 1e5, Open: true, Short: true,
				Note: "of its winding"},
			number("pull_in_volts", "V", 7, 0.1, 100, "between coil_a and coil_b, of either sign; with less the "+
				"contact stays open"),
			path(0.02, "of the closed contact"),
			flag("stuck_closed", "the contact is welded"),
		},
		Equation: "coil_ohms between coil_a and coil_b; resistance_ohms between common and contact while the coil " +
			"has pull_in_volts",
		Source: common,
	},
	{
		Name: "resistor", Pins: []string{"a", "b"}, Main: 0,
		Params:   []Param{path(math.NaN(), "of the load")},
		Equation: "a resistance",
		Source:   "Ohm's law",
	},
	{
		Name: "motor", Pins: []string{"+", "-"}, Main: 0,
		Params: []Param{
			path(math.NaN(), "while it turns"),
			number("stalled_ohms", "ohm", 0.5, 0.001, 1000, "while it is held"),
			flag("jammed", "it cannot turn and draws its stalled current"),
		},
		Equation: "resistance_ohms while it turns, stalled_ohms while it is jammed; a jammed motor does nothing, " +
			"whatever it draws",
		Source: "back voltage in proportion to speed, taken together with the winding: " + common,
	},
	{
		Name: "filament", Pins: []string{"a", "b"}, Main: 1,
		Params: []Param{
			number("test_volts", "V", 13.5, 1, 100, "at which it takes test_watts"),
			number("test_watts", "W", 26.5, 0.1, 200, "at most 26.5 W for a lamp of 21 W"),
			flag("burnt_out", "its wire has broken"),
		},
		Equation: "lamp: I = test_watts/test_volts (V/test_volts)^0.55, cold a tenth of test_volts^2/test_watts; " +
			"light ~ V^3.4",
		Source: "encyclopedia on lamp rerating; 26.5 W at 13.5 V: ECE/TRANS/WP.29/GRE/2012/34, the 21 W filament",
	},
	{
		Name: "diode", Pins: []string{"anode", "cathode"}, Main: -1,
		Params: []Param{
			number("forward_volts", "V", 0.65, 0, 5, "across it while it conducts"),
			number("forward_ohms", "ohm", 0.05, 1e-3, 1000, "beside that"),
			flag("broken", "it never conducts"),
			flag("shorted", "it conducts both ways, without forward_volts"),
		},
		Equation: "forward_volts behind forward_ohms from anode to cathode, open the other way",
		Source:   "silicon rectifier, 0.6-0.8 V: " + common,
	},
	{
		Name: "leak", Pins: []string{"a", "b"}, Main: -1,
		Params:   []Param{path(open, "of a path that a healthy vehicle does not have")},
		Equation: "open in a healthy vehicle; a fault gives it a resistance (a wire chafed through to ground)",
		Source:   common,
	},
	{
		Name: "potentiometer", Pins: []string{"reference", "ground", "wiper"}, Main: 0,
		Params: []Param{
			path(5000, "of the whole track"),
			number("position", "", 0.3, 0.01, 0.99, "share of the track between ground and wiper"),
		},
		Equation: "two resistances: (1-position) R above the wiper, position R below",
		Source:   "voltage divider",
	},
	{
		Name: "ntc", Pins: []string{"a", "b"}, Main: 1,
		Params: []Param{
			number("temperature_celsius", "°C", 20, -40, 150, "of what it measures"),
			{Name: "scale", Default: 1, Min: 0, Max: 1000, Open: true, Short: true,
				Note: "factor on the resistance; a skewed sensor differs from 1"},
			number("steinhart_a", "1/K", 1.3359491e-3, 1e-5, 1e-2, "coefficient"),
			number("steinhart_b", "1/K", 2.5598084e-4, 1e-6, 1e-2, "coefficient"),
			number("steinhart_c", "1/K", 1.5084482e-7, 0, 1e-4, "coefficient"),
		},
		Equation: "1/T = A + B ln R + C (ln R)^3, T in kelvin, solved for R",
		Source:   "Steinhart-Hart through -20, 25, 100 °C of a coolant sensor's service table",
	},
	{
		Name: "coil", Pins: []string{"+", "-", "tower"}, Main: 0,
		Params: coilParams(),
		Equation: "i(t) = V/R (1 - e^(-tR/L)) up to the module's limit; secondary: parallel RLC from i/N with L N^2, C " +
			"and the shunt",
		Source: "primary and secondary: service data; RL and RLC: textbook (OpenStax University Physics 2)",
	},
	{
		Name: "twin-coil", Family: "coil", Pins: []string{"+", "-", "tower_a", "tower_b"}, Main: 0,
		Params: coilParams(),
		Equation: "as a coil; the secondary lies between its two towers, so one spark needs both plugs: the own gap " +
			"and " +
			"the partner's in the exhaust stroke",
		Source: "primary and secondary: service data; RL and RLC: textbook (OpenStax University Physics 2)",
	},
	{
		Name: "module", Pins: []string{"feed", "ground", "trigger", "command", "out"}, Main: -1,
		Params: moduleParams(),
		Equation: "with feed - ground >= minimum_volts, trigger and command both toggling: out closes with every " +
			"command for the dwell of the feed's voltage at rest, while the coil charges behind the resistance of " +
			"battery, feed and ground; it opens early when command - ground falls below low_volts. Stuck, it is 0.1 " +
			"ohm without saturation and without current limit",
		Source: "thresholds 2.0/3.8 V: a maker's data sheet; clamp 360-400 V: ignition-transistor data sheets; " +
			"dwell 1.5-4 ms running: from memory",
	},
	{
		Name: "driver", Family: "module", Pins: []string{"feed", "ground", "command", "out"}, Main: -1,
		Params:   moduleParams(),
		Equation: "a module without a trigger: the command alone moves it",
		Source:   moduleSource,
	},
	{
		Name: "driver-2", Family: "module", Pins: []string{"feed", "ground", "command_a", "command_b", "out_a",
			"out_b"},
		Main: -1,
		Params: append(moduleParams(),
			count("dead_output", 0, 0, 2, "an output that never closes; 0 is none"),
			count("stuck_output", 0, 0, 2, "an output that never opens; 0 is none"),
		),
		Equation: "two drivers on one feed and one ground",
		Source:   moduleSource,
	},
	{
		Name: "pencil-coil", Pins: []string{"feed", "ground", "command", "tower"}, Main: -1,
		Params:   append(coilParams(), moduleParams()...),
		Equation: "a coil and its driver in one housing on the plug: no terminal between them can be reached",
		Source:   moduleSource,
	},
	{
		Name: "hall", Pins: []string{"feed", "ground", "signal"}, Main: -1,
		Params: []Param{
			number("minimum_volts", "V", 4.5, 1, 12, "between its own feed and ground"),
			number("supply_ohms", "ohm", 1500, 100, 1e5, "its supply current, 4-11 mA usual"),
			number("low_volts", "V", 0.2, 0, 1, "across the closed output"),
			number("low_ohms", "ohm", 10, 0.1, 1000, "of the closed output"),
			count("pulses_per_revolution", 2, 1, 60, "of the crankshaft"),
			number("high_share", "", 0.65, 0.1, 0.9, "share of the time with the output open"),
			number("field", "", 1, 0, 2, "strength of the magnet at the sensor; 1 is as new"),
			number("field_minimum", "", 0.5, 0.01, 1, "weaker than this the output stays open"),
			number("gap_mm", "mm", 1, 0.05, 20, "air gap between sensor and wheel; the field falls as gap_nominal_mm "+
				"/ gap_mm"),
			number("gap_nominal_mm", "mm", 1, 0.05, 20, "air gap of the field as new"),
			number("missed_share", "", 0, 0, 0.9, "share of the pulses that are missing, now and then, because a vane is "+
				"bent or the wheel wobbles; the output stays open then"),
			flag("dead", "the output stays open"),
		},
		Equation: "open collector: closed to its ground for 1 - high_share of each pulse; it takes current in and " +
			"gives none out; f = rpm/60 x pulses_per_revolution x (1 - missed_share)",
		Source: "Hall switch data sheets: 4.3 or 4.5 to 24 V, 4-11 mA, low 0.13-0.4 V",
	},
	{
		Name: "pickup", Pins: []string{"+", "-"}, Main: 0,
		Params: []Param{
			{Name: "resistance_ohms", Unit: "ohm", Default: 800, Min: 10, Max: 1e5, Open: true, Short: true,
				Note: "of the winding, 500-1,500 usual"},
			number("volts_per_1000rpm", "V", 6, 0.1, 100, "peak, at the nominal gap, without load"),
			number("pulses_per_revolution", "", 2, 1, 60, "of the crankshaft"),
			number("gap_mm", "mm", 0.6, 0.05, 20, "air gap to the wheel; the voltage falls as gap_nominal_mm / gap_mm"),
			number("gap_nominal_mm", "mm", 0.6, 0.05, 20, "air gap as new"),
			number("field", "", 1, 0, 2, "strength of the magnet; 1 is as new"),
			number("missed_share", "", 0, 0, 0.9, "share of the pulses that are missing, now and then, because the wheel "+
				"wobbles"),
			flag("reversed", "its two wires are exchanged"),
			number("reversed_degrees", "°", -9, -60, 60, "what that does to the timing: the controller takes the "+
				"wrong flank"),
		},
		Equation: "inductive sensor: peak = volts_per_1000rpm x rpm/1000 x field x gap_nominal/gap; f = rpm/60 x " +
			"pulses_per_revolution x (1 - missed_share)",
		Source: "induction: voltage in proportion to speed; winding and amplitude: common practice, no source",
	},
	controllerKind("controller", "sync", "command"),
	controllerKind("controller-2", "sync", "command_a", "command_b"),
	controllerKind("controller-4", "sync", "command_1", "command_2", "command_3", "command_4"),
	controllerKind("controller-pickup", "sync", "sync_minus", "command"),
	{
		Name: "lead", Pins: []string{"a", "b"}, Main: 0,
		Params: []Param{
			path(6000, "of a high-tension lead; an open one carries no spark"),
			leakage("leak_megohms", "insulation of lead or boot: it arcs to ground and shunts the plug"),
		},
		Equation: "a resistance; open: the spark ends here; a leak loads the secondary",
		Source:   common,
	},
	{
		Name: "distributor", Pins: []string{"in", "1"}, More: true, Main: -1,
		Params: []Param{
			number("rotor_gap_mm", "mm", 0.6, 0.1, 30, "in air at 1 bar, added to what the plug requires"),
			leakage("rotor_leak_megohms", "rotor burnt through to its shaft: shunts every terminal"),
			leakage("cap_leak_megohms", "carbon track: shunts terminal leak_terminal"),
			count("leak_terminal", 0, 0, 16, "which terminal the track serves; 0 is all"),
			count("open_terminal", 0, 0, 16, "a terminal burnt away; 0 is none"),
		},
		Equation: "joins in to each terminal in turn across the rotor gap; shunts load the secondary",
		Source:   common,
	},
	{
		Name: "plug", Pins: []string{"top", "block"}, Main: 0,
		Params: []Param{
			number("gap_mm", "mm", 1, 0.1, 10, "between the electrodes"),
			number("electrode_factor", "", 0.78, 0.3, 1, "hot, sharp electrodes need less than a uniform field; "+
				"0.65-0.8"),
			leakage("shunt_megohms", "fouling, across the gap"),
			{Name: "resistance_ohms", Unit: "ohm", Default: 5000, Min: 0, Max: 1e6, Open: true,
				Note: "of the built-in resistor"},
		},
		Equation: "kV = factor x (24.22 X + 6.08 sqrt X), X = 293 p d / (760 T), p torr, d cm, T kelvin",
		Source:   "uniform-field air breakdown (Naidu & Kamaraju, High Voltage Engineering, from memory)",
	},
}

// KindNames gives the names of all kinds in the order of the table.
func KindNames() []string {
	list := make([]string, len(Kinds))
	for i := range Kinds {
		list[i] = Kinds[i].Name
	}
	return list
}

// KindByName finds a card; nil when there is none.
func KindByName(name string) *Kind {
	for i := range Kinds {
		if Kinds[i].Name == name {
			return &Kinds[i]
		}
	}
	return nil
}
