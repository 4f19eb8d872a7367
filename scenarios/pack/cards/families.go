package cards

// Parameters that several kinds share.

func coilParams() []Param {
	return []Param{
		{Name: "primary_ohms", Unit: "ohm", Default: 0.7, Min: 0.05, Max: 10, Open: true, Short: true,
			Note: "0.45-1.15 usual"},
		number("inductance_millihenries", "mH", 4.2, 0.1, 50, "of the primary"),
		number("turns_ratio", "", 95, 20, 300, "secondary to primary, 50-200 usual"),
		{Name: "secondary_ohms", Unit: "ohm", Default: 8000, Min: 100, Max: 1e6, Open: true, Short: true,
			Note: "between + and tower, 5-13 kohm usual"},
		number("secondary_picofarads", "pF", 70, 10, 500, "winding, lead and plug"),
		number("transfer", "", 0.65, 0.05, 1, "share of the primary energy that reaches the secondary"),
		leakage("leak_megohms", "across the secondary at high voltage only; an ohmmeter does not see it"),
	}
}

const moduleSource = "thresholds 2.0/3.8 V: a maker's data sheet; clamp 360-400 V: ignition-transistor data sheets; " +
	"dwell 1.5-4 ms running: from memory"

func moduleParams() []Param {
	return []Param{
		number("minimum_volts", "V", 3.5, 0.5, 12, "between its own feed and ground; less for a millisecond stops it"),
		number("quiescent_ohms", "ohm", 120, 5, 1e5, "its standing current, feed to ground, awake or not"),
		number("input_ohms", "ohm", 22000, 100, 1e7, "of trigger and of command, to its ground"),
		{Name: "pullup_ohms", Unit: "ohm", Default: 4700, Min: 100, Max: 1e6, Open: true,
			Note: "from its feed to the trigger"},
		number("low_volts", "V", 2.0, 0.1, 12, "an input is low below this"),
		number("high_volts", "V", 3.8, 0.2, 12, "an input is high above this"),
		number("saturation_volts", "V", 1.2, 0, 5, "across the closed output"),
		number("limit_amps", "A", 7.5, 0.5, 50, "it holds the coil current here"),
		number("clamp_volts", "V", 380, 50, 1000, "its output breaks down here"),
		number("dwell_10v_milliseconds", "ms", 5.6, 0.5, 50,
			"on-time with 10 V at its feed; linear between, flat outside"),
		number("dwell_14v_milliseconds", "ms", 3.1, 0.5, 50, "on-time with 14 V at its feed"),
		number("dwell_share", "", 0, 0, 0.8, "of the time from spark to spark it is on for at most this; 0 is four "+
			"fifths of a pulse"),
		flag("dead", "the output never closes"),
		flag("stuck_on", "the output never opens"),
	}
}

// controllerKind makes the card of a controller with the given pins for the crank signal and the commands.
func controllerKind(name string, signals ...string) Kind {
	k := Kind{
		Name: name, Pins: append(append([]string{"feed", "ground"}, signals...), "ect", "iat", "reference"),
		Optional: 1, Main: -1,
		Params: []Param{
			number("minimum_volts", "V", 6.5, 1, 12,
				"between its own feed and ground; less for a millisecond stops it"),
			number("supply_ohms", "ohm", 30, 1, 1e4, "its supply current"),
			number("reference_volts", "V", 5, 1, 12, "its regulated reference, which feeds all pull-ups; shorted it "+
				"stands at 0 V behind reference_ohms and the controller stops"),
			number("reference_ohms", "ohm", 2, 0.1, 1000, "inside the reference"),
			{Name: "sync_pullup_ohms", Unit: "ohm", Default: open, Min: 100, Max: 1e6, Open: true,
				Note: "reference to sync"},
			number("sync_ohms", "ohm", 47000, 100, 1e7, "of the sync input, to its ground"),
			number("ect_pullup_ohms", "ohm", 1000, 100, 1e6, "reference to ect"),
			number("iat_pullup_ohms", "ohm", 1000, 100, 1e6, "reference to iat"),
			number("low_volts", "V", 2.0, 0.1, 12, "sync is low below this"),
			number("high_volts", "V", 3.8, 0.2, 12, "sync is high above this"),
			number("command_ohms", "ohm", 470, 1, 1e5, "inside the command output"),
			number("advance_cranking_degrees", "°", 8, -10, 60, "before top dead center while cranking"),
			number("advance_idle_degrees", "°", 12, -10, 60, "at 800 1/min, warm"),
			number("advance_per_1000rpm_degrees", "°", 7, 0, 30, "added per 1,000 1/min above idle"),
			number("cold_degrees_per_kelvin", "°/K", 0.1, 0, 1, "added per kelvin of coolant below 70 °C, at most 10"),
			number("hot_degrees_per_kelvin", "°/K", 0.2, 0, 1, "taken per kelvin of intake air above 50 °C, at most 8"),
			flag("dead", "draws current, does nothing"),
			flag("no_command", "everything works but the command output stays low"),
			number("pickup_volts", "V", 0.35, 0.01, 10, "peak between sync and sync_minus that it needs, where it "+
				"has both"),
		},
		Equation: "with feed - ground >= minimum_volts and the reference at 80 % or more it commands when sync toggles " +
			"and reads ect and iat as ohms against its pull-ups",
		Source: "5 V through 1 kohm: a coolant sensor's service table; advance figures: " + common,
	}
	if name != "controller" {
		k.Family = "controller"
	}
	if n := len(signals) - 1; n > 1 && name != "controller-pickup" {
		k.Params = append(k.Params, count("silent_command", 0, 0, float64(n),
			"a command output that stays low; 0 is none"))
	}
	return k
}
