package vehicle

import (
	"math"
	"testing"

	"nospark/scenarios/pack"
)

// What a hidden fault must look like in the reluctor pack. These are facts of the trade: common practice, no source.

var catches = Observables{Cranks: "normal", SparkCranking: "yes", Misfires: "no", Timing: "normal", Scan: "normal"}

// The voltage of an inductive sensor is in proportion to speed (Faraday's law), so is its frequency: two teeth per
// revolution here.
func TestSensorVoltageRisesWithSpeed(t *testing.T) {
	b := loaded(t, "reluctor")
	idle, load := b.read("ac-pcm-idle").Number, b.read("ac-pcm-load").Number
	if want := 3000.0 / 850; math.Abs(load/idle-want) > 0.001 {
		t.Errorf("%g V at 3,000 1/min over %g V at 850: %g, want %g", load, idle, load/idle, want)
	}
	rpm := b.read("scan-speed").Number
	if crank := b.read("ac-pcm.crank").Number; math.Abs(idle/crank-850/rpm) > 0.001 {
		t.Errorf("%g V at %g 1/min, %g V at 850", crank, rpm, idle)
	}
	b.between("ac-sensor", 0.5, 1.5)
	b.between("hertz-pcm-idle", 850.0/60*2-0.01, 850.0/60*2+0.01)
	b.between("hertz-pcm.crank", rpm/60*2-0.01, rpm/60*2+0.01)
}

func TestSensorWinding(t *testing.T) {
	healthy := loaded(t, "reluctor")
	open := healthy.with("ckp-open", 0.5)
	open.observed(noStart)
	open.look("ac-sensor=none", "ac-pcm.crank=none", "ckp-ohms=open", "ckp-ohms-pcm=open", "plus-ohms=normal",
		"minus-ohms=normal",
		"scan-speed=none", "hertz.pcm_cmd.crank=none", "coil-spark=no spark")
	for _, severity := range []float64{0, 0.5, 1} {
		shorted := healthy.with("ckp-shorted", severity)
		shorted.observed(noStart)
		shorted.look("ac-sensor=low", "ac-open=low", "ckp-ohms=low", "pair-ohms=normal", "scan-speed=none")
	}
}

// Too wide a gap and a weak magnet look alike on a meter; the gauge tells them apart.
func TestSensorGapOrMagnet(t *testing.T) {
	healthy := loaded(t, "reluctor")
	fresh := healthy.read("ac-open").Number
	for _, severity := range []float64{0, 0.5, 1} {
		gap := healthy.with("ckp-gap", severity)
		gap.observed(noStart)
		gap.look("ac-sensor=low", "ckp-ohms=normal", "ckp-gap=wide", "scan-speed=none")
		millimetres := 1000 * gap.read("ckp-gap").Number
		if volts := gap.read("ac-open").Number; math.Abs(volts*millimetres/(fresh*0.7)-1) > 0.01 {
			t.Errorf("%g mm: %g V, at 0.7 mm %g V; want the voltage to fall as the gap grows", millimetres, volts,
				fresh)
		}
		weak := healthy.with("ckp-weak", severity)
		weak.observed(noStart)
		weak.look("ac-sensor=low", "ckp-ohms=normal", "ckp-gap=normal", "scan-speed=none")
	}
}

// With its wires reversed the sensor gives all it should, and the engine runs late.
func TestSensorReversed(t *testing.T) {
	healthy := loaded(t, "reluctor")
	b := healthy.with("ckp-reversed", 0.5)
	b.observed(Observables{Cranks: "normal", SparkCranking: "yes", Starts: true, Misfires: "no", Timing: "retarded",
		Scan: "normal"})
	b.look("ac-pcm.crank=normal", "hertz-pcm-idle=normal", "ckp-ohms=normal", "scan-ect.on=normal",
		"scan-iat.on=normal",
		"timing=retarded")
	if late := healthy.read("timing").Number - b.read("timing").Number; late != 9 {
		t.Errorf("%g degrees late, want the 9 of the part", late)
	}
}

func TestSensorWires(t *testing.T) {
	healthy := loaded(t, "reluctor")
	for _, wire := range []string{"plus", "minus"} {
		b := healthy.with(wire+"-open", 0.5)
		b.observed(noStart)
		b.look("ac-sensor=normal", "ac-pcm.crank=none", "hertz-pcm.crank=none", "ckp-ohms=normal", "ckp-ohms-pcm=open",
			wire+"-ohms=open", "scan-speed=none")
	}
	for _, severity := range []float64{0, 0.5, 1} {
		b := healthy.with("pair-shorted", severity)
		b.observed(noStart)
		b.look("ac-sensor=none", "ac-open=normal", "ckp-ohms=normal", "ckp-ohms-pcm=low", "pair-ohms=shorted",
			"plus-ohms=normal")
	}
}

// A winding shorted across its ends gives no voltage at all.
func TestSensorShortedAcross(t *testing.T) {
	b := loaded(t, "reluctor")
	for i := range b.p.Parts {
		if part := &b.p.Parts[i]; part.ID == "ckp" {
			b.v.values[i][part.Kind.Param("resistance_ohms")] = 0
		}
	}
	b.observed(noStart)
	b.look("ac-sensor=none", "ckp-ohms=low")
}

// While cranking the bypass feeds the coil: with a broken ballast resistor the engine catches, and dies when the key is
// let go.
func TestBallastResistor(t *testing.T) {
	healthy := loaded(t, "reluctor")
	open := healthy.with("ballast-open", 0.5)
	open.observed(catches)
	open.look("volts.bal_in.on=normal", "volts.bal_out.on=none", "volts.coil_pos.crank=normal",
		"coil-spark=strong spark",
		"coil-amps=normal",
		"timing="+pack.NotRunning, "ballast-ohms=open", "primary-ohms=normal")
	for _, severity := range []float64{0, 0.5, 1} {
		burnt := healthy.with("ballast-high", severity)
		burnt.observed(loadMiss)
		burnt.look("coil-amps=normal", "coil-amps-idle=low", "ballast-ohms=high", "plug1-lifted-kv=weak")
	}
}

// Running, 5 to 9 V on average at coil positive; cranking, what the battery has (service sources, weak). While the
// driver is on, the coil has its part of coil and ballast resistor (voltage divider), and it is on for 55 to 65 % of
// the time from spark to spark: common practice, no source.
func TestVoltsBehindTheBallastResistor(t *testing.T) {
	b := loaded(t, "reluctor")
	for _, point := range []string{"bal_out", "coil_pos"} {
		b.between("volts."+point+".idle", 5, 9)
		battery := b.read("volts.bat_pos.crank").Number
		b.between("volts."+point+".crank", battery-0.2, battery)
	}
	c, err := b.p.Condition("idle")
	if err != nil {
		t.Fatal(err)
	}
	st := b.v.plain(c)
	ch, coil := &st.charges[0], &b.v.dev.coils[0]
	near(t, "share of the time with the driver on", ch.time*st.firing, 0.6, 0.0501)
	winding := ch.end.Between(coil.plus, ch.end.middle[0])
	before, err := b.p.Test("volts.bal_in.idle")
	if err != nil {
		t.Fatal(err)
	}
	whole := ch.end.Between(b.v.node(b.p.Tests[before].Red), ch.end.middle[0])
	near(t, "coil's part of the voltage", winding/whole, 0.6/(0.6+1.4), 0.01)
}

// A module without a share of its own follows the sensor's pulses and leaves a fifth of each: one of 50 ms, whose
// pulse is half of the 35.3 ms from spark to spark, closes for 14.1 ms.
func TestDwellShare(t *testing.T) {
	b := loaded(t, "reluctor")
	idle, err := b.p.Condition("idle")
	if err != nil {
		t.Fatal(err)
	}
	v := b.set("icm", "dwell_share", 0)
	near(t, "without a share, ms", 1e3*v.plain(idle).charges[0].time, 0.8*0.5*60e3/(2*850), 0.001)
	near(t, "with one, ms", 1e3*b.v.plain(idle).charges[0].time, 0.65*60e3/(2*850), 0.001)
	share := 0.0
	for _, part := range b.v.plain(idle).mean {
		share += part.share
		if part.share < 0 {
			t.Errorf("a phase lasts for %g of the time", part.share)
		}
	}
	near(t, "all phases", share, 1, 1e-9)
}

// While cranking the bypass also feeds, backwards through the ballast resistor, what the ignition switch or its fuse
// should feed.
func TestBypassFeedsBackwards(t *testing.T) {
	healthy := loaded(t, "reluctor")
	for _, fault := range []string{"switch-open", "fuse-blown", "splice-open"} {
		b := healthy.with(fault, 0.5)
		b.observed(Observables{Cranks: "normal", SparkCranking: "yes", Misfires: "no", Timing: "normal",
			Scan: "no link"})
		b.look("volts.icm_feed.on=none", "volts.pcm_feed.on=none", "volts.icm_feed.crank=dropped",
			"volts.pcm_feed.crank=dropped", // half an ampere through 1.4 ohm, and it is enough
			"scan-speed=normal", "scan-ect.on="+pack.NoLink)
	}
	main := healthy.with("main-open", 0.5)
	main.observed(noLink)
	main.look("volts.sw_in.on=none", "bypass-volts=none", "volts.coil_pos.crank=none")
}

func TestOutputStuckOnBehindABallastResistor(t *testing.T) {
	b := loaded(t, "reluctor").with("icm-stuck", 0.5)
	b.observed(noStart)
	b.look("volts.bal_in.on=normal", "volts.coil_pos.on=dropped", "volts.coil_neg.on=pulled down",
		"hertz.coil_neg.crank=none", "fuse-ohms=normal")
}
