package vehicle

import (
	"testing"

	"nospark/scenarios/pack"
)

// Faults that come and go, as the trade knows them: nothing is wrong until the harness is moved, the engine hot or the
// leads wet; then one test at the right place shows it. Written down before it was read: common practice, no source.
func TestWhatComesAndGoes(t *testing.T) {
	for _, c := range []struct{ pack, fault, when, wrong, right string }{
		{"single-coil", "switch-loose", "shaken", "least.sw_out.wiggle=none", "least.sw_in.wiggle"},
		{"single-coil", "coil-feed-loose", "shaken", "least.coil_pos.wiggle=none", "least.icm_feed.wiggle"},
		{"single-coil", "icm-ground-loose", "shaken", "peak.icm_gnd.wiggle=full", "peak.pcm_gnd.wiggle"},
		{"single-coil", "pcm-feed-loose", "shaken", "least.pcm_feed.wiggle=none", "least.icm_feed.wiggle"},
		{"single-coil", "ckp-feed-loose", "shaken", "least.ckp_feed.wiggle=none", "least.splice.wiggle"},
		{"single-coil", "pin-spread", "shaken", "peak.ckp_gnd.wiggle=full", "peak.ckp_plug.wiggle"},
		{"single-coil", "ckp-hot", "hot", "hot-hertz.ckp_sig.crank-hot=none", "hertz.ckp_sig.crank"},
		{"single-coil", "icm-hot", "hot", "hot-hertz.icm_out.crank-hot=none", "hot-hertz.pcm_cmd.crank-hot"},
		{"single-coil", "coil-hot", "hot", "tower-kv-hot=weak", "hot-hertz.icm_out.crank-hot"},
		{"single-coil", "lead-wet-3", "wet", "balance-wet=cylinder 3", "plug3-lifted-kv"},
		{"reluctor", "pin-spread", "shaken", "least.icm_feed.wiggle=none", "least.icm_plug.wiggle"},
		{"reluctor", "ckp-hot", "hot", "ac-sensor-hot=none", "ac-sensor"},
		{"reluctor", "coil-hot", "hot", "tower-kv-hot=weak", "coil-kv"},
		{"double-ended", "pcm-ground-loose", "shaken", "peak.pcm_gnd.wiggle=raised", "peak.icm_gnd.wiggle"},
		{"double-ended", "coil-hot", "hot", "plug1-kv-hot=weak", "plug2-kv-hot"},
		{"double-ended", "lead-wet-2", "wet", "misfires-wet=cylinder 2", "plug2-lifted-kv"},
		{"coil-per-plug", "relay-loose", "shaken", "least.rel_87.wiggle=none", "least.rel_30.wiggle"},
		{"coil-per-plug", "coil-ground-loose", "shaken", "peak.gsplice.wiggle=raised", "peak.pcm_gnd.wiggle"},
		{"coil-per-plug", "coil-hot-2", "hot", "misfires-hot=cylinder 2", "coil2-lifted-kv"},
		{"coil-per-plug", "coil-hot-2", "hot", "swap-coils-hot-12=cylinder 1", "misfires"},
		{"coil-per-plug", "well-wet-4", "wet", "misfires-wet=cylinder 4", "gap4"},
	} {
		for _, severity := range []float64{0, 1} {
			b := loaded(t, c.pack).with(c.fault, severity)
			b.look(c.wrong)
			if got := b.v.comesWhen(); got != c.when {
				t.Errorf("%s %s comes when %s, want %s", c.pack, c.fault, got, c.when)
			}
			test, err := b.p.Test(c.right)
			if err != nil {
				t.Fatal(err)
			}
			bands, _, _ := b.v.Bands()
			if band := b.p.Tests[test].Bands[bands[test]]; !band.Normal {
				t.Errorf("%s %s: %s reads %s, want a good band", c.pack, c.fault, c.right, band.Name)
			}
			if got, want := b.v.Observe(), Healthy(b.p).Observe(); got != want {
				t.Errorf("%s %s: without provocation %v, want %v", c.pack, c.fault, got, want)
			}
		}
	}
}

// Without its provocation nothing at all reads abnormal, but for the code that was left.
func TestNothingToFindUnprovoked(t *testing.T) {
	for _, name := range pack.Builtin() {
		b := loaded(t, name)
		for i := range b.p.Faults {
			f := &b.p.Faults[i]
			if f.Set[0].Only == "" {
				continue
			}
			v := b.with(f.ID, 0.5)
			bands, _, err := v.v.Bands()
			if err != nil {
				t.Fatal(err)
			}
			provoked := 0
			for n, test := range b.p.Tests {
				switch good := test.Bands[bands[n]].Normal; {
				case good || test.Instrument.ID == "scan-codes":
				case b.p.Conditions[test.Condition].Provoke == f.Set[0].Only:
					provoked++
				default:
					t.Errorf("%s %s: %s reads %s without provocation", name, f.ID, test.ID, test.Bands[bands[n]].Name)
				}
			}
			if provoked == 0 {
				t.Errorf("%s %s: no test shows it while it is provoked", name, f.ID)
			}
		}
	}
}

// A loose contact is there and gone within a moment: max and min hold keep the worse of both, whichever that is.
// By hand: 12 V, 10 ohm and a load of 2 ohm give 2 V; with the 10 ohm gone, 12 V; with the load gone too, 12 V.
func TestHoldsWhileShaken(t *testing.T) {
	b := tiny(t, `
condition = [{ id = "on", key = "run" }, { id = "shake", key = "run", provoke = "shaken" }]
part = [
  { id = "battery", kind = "battery", pins = ["b", "g"], emf_volts = 12, resistance_ohms = 0 },
  { id = "wire", kind = "wire", pins = ["b", "m"], resistance_ohms = 10 },
  { id = "load", kind = "resistor", pins = ["m", "g"], resistance_ohms = 2 },
  { id = "aside", kind = "resistor", pins = ["n", "g"], resistance_ohms = 1 }]
test = [
  { id = "on", label = "x", instrument = "voltmeter", red = "m", black = "g", condition = "on", minutes = 1,
    bands = [{ name = "low", below = 1 }, { name = "high" }], normal = ["high"] },
  { id = "most", label = "x", instrument = "max-hold", red = "m", black = "g", condition = "shake", minutes = 1,
    bands = [{ name = "low", below = 1 }, { name = "high" }], normal = ["high"] },
  { id = "least", label = "x", instrument = "min-hold", red = "m", black = "g", condition = "shake", minutes = 1,
    bands = [{ name = "low", below = 1 }, { name = "high" }], normal = ["high"] }]
fault = [
  { id = "cut", label = "f", set = [{ part = "wire", resistance_ohms = "open", only = "shaken" }], weight = 1, repair = "r" },
  { id = "lifts", label = "f", set = [{ part = "load", resistance_ohms = "open", only = "shaken" }], weight = 1, repair = "r" }]
`)
	near(t, "cut, steady", b.with("cut", 0).read("on").Number, 2, 1e-5)
	near(t, "cut, most", b.with("cut", 0).read("most").Number, 2, 1e-5)
	near(t, "cut, least", b.with("cut", 0).read("least").Number, 0, 1e-9)
	near(t, "lifts, most", b.with("lifts", 0).read("most").Number, 12, 1e-4) // the meter's 10 Mohm behind 10 ohm
	near(t, "lifts, least", b.with("lifts", 0).read("least").Number, 2, 1e-5)
}

// Trouble codes by the trade's rules: an open sensor reads high, a shorted one low, a lost crank signal sets its own;
// what came and went has left its code and the state in which it was set. SAE J2012, from memory.
func TestTroubleCodes(t *testing.T) {
	check := func(name, fault, code string) {
		t.Helper()
		loaded(t, name).with(fault, 0.5).look("codes=" + code)
	}
	for _, name := range []string{"single-coil", "double-ended", "reluctor", "coil-per-plug"} {
		loaded(t, name).look("codes=no code")
		check(name, "ect-open", "P0118 ECT high")
		check(name, "ect-short", "P0117 ECT low")
		check(name, "iat-open", "P0113 IAT high")
		check(name, "iat-short", "P0112 IAT low")
		check(name, "ect-skewed", "no code") // a voltage that a sensor can give
		check(name, "ckp-hot", "P0335 CKP, idle, hot")
		check(name, "pcm-dead", "no communication")
	}
	check("single-coil", "ckp-dead", "P0335 CKP, cranking")
	check("coil-per-plug", "ckp-feed-loose", "P0335 CKP, idle, warm")
	check("single-coil", "icm-hot", "no code") // the PCM hears nothing of the spark
}
