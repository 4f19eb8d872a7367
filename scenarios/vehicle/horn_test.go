package vehicle

import "testing"

// A relay switches what its coil lets it: without the coil's current the contact stays open, without the contact
// nothing reaches the horn. Readings by Ohm's law from the cards, copper after IEC 60028 and ASTM B258.
func TestHornAndRelay(t *testing.T) {
	b := loaded(t, "horn")
	// 12.62 V over the battery's 0.01, wires of 0.0132 + 0.0066 + 0.0198 + 0.0105, the fuse's 0.006, the contact's
	// 0.02, the horn's 2.4 ohm: 5.08 A; and 0.15 A more for the relay's coil of 85 ohm in the part that both share.
	near(t, "horn, A", b.read("horn-amps").Number, 5.08, 0.03)
	near(t, "relay 85, pressed, V", b.read("volts.rel_85.on").Number, 0.147*(0.05+0.0832*2/2.5+0.05), 0.015)
	b.look("volts.rel_85.off=normal", "volts.rel_87.on=normal", "horn-amps=normal", "relay-coil-ohms=normal")
	for fault, wants := range map[string][]string{
		"relay-coil-open": {"volts.rel_86.on=normal", "volts.rel_85.off=none", "volts.rel_87.on=none",
			"relay-coil-ohms=open"},
		"relay-contact-open": {"volts.rel_30.on=normal", "volts.rel_85.on=normal", "volts.rel_87.on=none",
			"volts.horn_pos.on=none"},
		"button-open":        {"volts.btn_in.on=full", "volts.rel_87.on=none", "button-ohms=open"},
		"button-ground-open": {"volts.btn_gnd.on=full", "volts.btn_in.on=full", "volts.rel_87.on=none"},
		"fuse-blown": {"volts.fuse_in.off=normal", "volts.fuse_out.off=none", "lamp-neg.fuse_out.off=dark",
			"fuse-ohms=open"},
		"horn-open": {"volts.horn_pos.on=normal", "volts.horn_gnd.on=normal", "horn-amps=none",
			"horn-ohms=open"},
		"horn-ground-open": {"volts.horn_gnd.on=full", "drop-load.horn_gnd.off=full"},
	} {
		faulty := b.with(fault, 0.5)
		faulty.look(wants...)
		if _, complaint, _ := faulty.v.Bands(); complaint < 0 || b.p.Complaints[complaint].ID != "silent" {
			t.Errorf("%s: complaint %d, want a silent horn", fault, complaint)
		}
	}
	for _, fault := range []string{"feed-corroded", "relay-contact-burnt", "horn-ground-corroded"} {
		for _, severity := range []float64{0, 0.5, 1} {
			faulty := b.with(fault, severity)
			if _, complaint, _ := faulty.v.Bands(); complaint < 0 || b.p.Complaints[complaint].ID != "weak" {
				t.Errorf("%s at %g: complaint %d, want a weak horn", fault, severity, complaint)
			}
		}
	}
}
