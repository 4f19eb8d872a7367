package vehicle

import (
	"math"
	"strings"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/vehicle/meter"
)

// What a hidden fault must look like in the single-coil pack. These are facts of the trade: common practice, no source.

// benchOf loads a built-in pack and gives readings by names.
type benchOf struct {
	t *testing.T
	p *pack.Pack
	v *Vehicle
}

func loaded(t *testing.T, name string) *benchOf {
	t.Helper()
	p, err := pack.Load(name)
	if err != nil {
		t.Fatal(err)
	}
	return &benchOf{t: t, p: p, v: Healthy(p)}
}

// with hides a fault.
func (b *benchOf) with(fault string, severity float64) *benchOf {
	b.t.Helper()
	for _, f := range b.p.Faults {
		if f.ID == fault {
			v := Healthy(b.p)
			v.Apply(f, severity)
			return &benchOf{t: b.t, p: b.p, v: v}
		}
	}
	b.t.Fatalf("no fault %q", fault)
	return nil
}

func (b *benchOf) read(test string) meter.Value {
	b.t.Helper()
	for i := range b.p.Tests {
		if b.p.Tests[i].ID == test {
			return b.v.Read(i)
		}
	}
	b.t.Fatalf("no test %q", test)
	return meter.Value{}
}

// band is the name of the band of a test.
func (b *benchOf) band(test string) string {
	b.t.Helper()
	for i := range b.p.Tests {
		if b.p.Tests[i].ID == test {
			bands, _, err := b.v.Bands()
			if err != nil {
				b.t.Fatal(err)
			}
			return b.p.Tests[i].Bands[bands[i]].Name
		}
	}
	b.t.Fatalf("no test %q", test)
	return ""
}

// look checks "test=band" pairs; NUMBER..NUMBER instead of a band checks the true value.
func (b *benchOf) look(wants ...string) {
	b.t.Helper()
	for _, w := range wants {
		test, want, _ := strings.Cut(w, "=")
		if got := b.band(test); got != want {
			b.t.Errorf("%s: %q (%v), want %q", test, got, b.read(test), want)
		}
	}
}

func (b *benchOf) between(test string, low, high float64) {
	b.t.Helper()
	if got := b.read(test).Number; !(got >= low && got <= high) {
		b.t.Errorf("%s: %g, want %g to %g", test, got, low, high)
	}
}

// observed checks what the customer notices.
func (b *benchOf) observed(want Observables) {
	b.t.Helper()
	if got := b.v.Observe(); got != want {
		b.t.Errorf("observed %+v, want %+v", got, want)
	}
}

var (
	noStart = Observables{Cranks: "normal", SparkCranking: "no", Misfires: "no", Timing: "normal", Scan: "normal"}
	noLink  = Observables{Cranks: "normal", SparkCranking: "no", Misfires: "no", Timing: "normal", Scan: "no link"}
	good    = Observables{Cranks: "normal", SparkCranking: "yes", Starts: true, Misfires: "no", Timing: "normal",
		Scan: "normal"}
	loadMiss = Observables{Cranks: "normal", SparkCranking: "yes", Starts: true, Misfires: "loaded", Timing: "normal",
		Scan: "normal"}
)

func TestHealthyVehicleReadsNormal(t *testing.T) {
	b := loaded(t, "single-coil")
	b.observed(good)
	bands, complaint, err := b.v.Bands()
	if err != nil || complaint != -1 {
		t.Fatalf("complaint %d, error %v; want none", complaint, err)
	}
	for i, k := range bands {
		if band := b.p.Tests[i].Bands[k]; !band.Normal {
			t.Errorf("%s reads %q", b.p.Tests[i].ID, band.Name)
		}
	}
}

func TestSwitchFeedOpen(t *testing.T) {
	b := loaded(t, "single-coil").with("switch-open", 0.5)
	b.observed(noLink)
	b.look("volts.bat_pos.on=normal", "volts.bat_pos.crank=normal", "volts.sw_in.on=normal",
		"volts.coil_pos.on=none", "volts.icm_feed.on=none", "volts.pcm_feed.on=none",
		"volts.coil_pos.crank=none", "volts.icm_feed.crank=none", "volts.pcm_feed.crank=none", "coil-spark=no spark")
	b.between("volts.coil_pos.on", 0, 0.01)
}

func TestSwitchOpenOnlyWhenCranking(t *testing.T) {
	b := loaded(t, "single-coil").with("switch-crank", 0.5)
	b.observed(noStart)
	b.look("volts.sw_out.on=normal", "volts.coil_pos.on=normal", "volts.sw_out.crank=none", "volts.coil_pos.crank=none")
}

func TestHallSensorDead(t *testing.T) {
	b := loaded(t, "single-coil").with("ckp-dead", 0.5)
	b.observed(noStart)
	b.look("volts.ckp_feed.crank=normal", "volts.ckp_gnd.crank=normal", "hertz.ckp_sig.crank=none",
		"hertz.coil_neg.crank=none", "volts.coil_pos.crank=normal")
}

func TestHallWithoutGroundOrFeed(t *testing.T) {
	b := loaded(t, "single-coil")
	ground := b.with("ckp-ground-open", 0.5)
	ground.look("hertz.ckp_sig.crank=none", "volts.ckp_gnd.crank=full", "volts.ckp_feed.crank=normal")
	feed := b.with("ckp-feed-open", 0.5)
	feed.look("hertz.ckp_sig.crank=none", "volts.ckp_feed.crank=none", "volts.ckp_gnd.crank=normal")
}

func TestModuleGroundBad(t *testing.T) {
	for _, severity := range []float64{0, 0.5, 1} {
		b := loaded(t, "single-coil").with("icm-ground-bad", severity)
		b.observed(noStart)
		b.look("hertz.icm_trig.crank=normal", "hertz.icm_cmd.crank=normal", "coil-spark=no spark",
			"volts.icm_gnd.crank=raised",
			"peak.icm_gnd.crank=raised", "icm-ground-volts=normal", "icm-ground-lamp=bright")
		b.between("volts.icm_gnd.crank", 0.5, 6)
		if got := b.band("load-pos.icm_gnd.on"); got == "bright" {
			t.Errorf("severity %g: the 21 W lamp is bright", severity)
		}
	}
}

func TestModuleGroundCorroded(t *testing.T) {
	for _, severity := range []float64{0, 0.25, 0.5, 1} {
		b := loaded(t, "single-coil").with("icm-ground-weak", severity)
		o := b.v.Observe()
		if !o.Starts || o.Misfires != "loaded" {
			t.Errorf("severity %g: %+v, want a start and misfires under load", severity, o)
		}
		healthy := loaded(t, "single-coil")
		if weak, full := b.read("coil-kv").Number, healthy.read("coil-kv").Number; weak > 0.9*full {
			t.Errorf("severity %g: %g V available, want clearly less than %g", severity, weak, full)
		}
		if got := b.band("peak.icm_gnd.crank"); got == "normal" {
			t.Errorf("severity %g: max hold at the ground reads normal", severity)
		}
		if mean, peak := b.read("volts.icm_gnd.crank").Number, b.read("peak.icm_gnd.crank").Number; peak < 5*mean {
			t.Errorf("severity %g: max hold %g V, average %g V; the average should hide most of it", severity, peak,
				mean)
		}
	}
}

func TestModuleDead(t *testing.T) {
	b := loaded(t, "single-coil").with("icm-dead", 0.5)
	b.observed(noStart)
	b.look("volts.icm_feed.crank=normal", "volts.icm_gnd.crank=normal", "hertz.icm_trig.crank=normal",
		"hertz.icm_cmd.crank=normal",
		"hertz.icm_out.crank=none", "hertz.coil_neg.crank=none")
}

func TestControllerWithoutPowerOrCommand(t *testing.T) {
	b := loaded(t, "single-coil")
	b.with("pcm-feed-open", 0.5).look("hertz.icm_trig.crank=normal", "hertz.pcm_cmd.crank=none",
		"volts.pcm_feed.crank=none")
	b.with("pcm-mute", 0.5).look("hertz.icm_trig.crank=normal", "hertz.pcm_cmd.crank=none",
		"volts.pcm_feed.crank=normal",
		"scan-speed=normal")
}

func TestCoilPrimaryOpen(t *testing.T) {
	b := loaded(t, "single-coil").with("coil-primary", 0.5)
	b.look("volts.coil_pos.on=normal", "volts.coil_neg.on=none", "primary-ohms=open")
	if got := b.read("primary-ohms").Number; !math.IsInf(got, 1) {
		t.Errorf("primary %g ohm, want OL", got)
	}
}

func TestCoilSecondaryOpen(t *testing.T) {
	b := loaded(t, "single-coil").with("coil-secondary", 0.5)
	b.look("hertz.coil_neg.crank=normal", "coil-amps.crank=normal", "coil-spark=no spark", "secondary-ohms=open",
		"primary-ohms=normal")
}

func TestWornPlug(t *testing.T) {
	healthy := loaded(t, "single-coil")
	for _, severity := range []float64{0, 1} {
		b := healthy.with("plug-worn-3", severity)
		b.observed(loadMiss)
		b.look("plug3-lifted-kv=normal", "plug3-spark=strong spark", "plug3-kv-load=high", "plug2-kv-load=normal",
			"gap3=wide", "balance=no misfire")
		if worn, fresh := b.read("plug3-kv-load").Number, healthy.read("plug3-kv-load").Number; worn < 1.4*fresh {
			t.Errorf("required %g V, fresh %g V; want far up", worn, fresh)
		}
	}
}

func TestRotorOrCapLeaking(t *testing.T) {
	for _, fault := range []string{"rotor-leak", "cap-track"} {
		b := loaded(t, "single-coil").with(fault, 0.5)
		b.look("coil-spark=strong spark")
		for _, test := range []string{"plug1-spark", "plug2-spark", "plug3-spark", "plug4-spark"} {
			if got := b.band(test); got == "strong spark" {
				t.Errorf("%s: %s gives a strong spark", fault, test)
			}
		}
	}
}

func TestWeakBattery(t *testing.T) {
	healthy := loaded(t, "single-coil")
	b := healthy.with("battery-weak", 0.5)
	if o := b.v.Observe(); o.Cranks != "slow" {
		t.Errorf("cranks %q", o.Cranks)
	}
	b.look("volts.bat_pos.on=low", "volts.bat_pos.crank=low")
	if weak, full := b.read("coil-amps.crank").Number, healthy.read("coil-amps.crank").Number; weak >= full {
		t.Errorf("coil current %g A with a weak battery, %g A with a good one", weak, full)
	}
	if weak, full := b.read("coil-kv").Number, healthy.read("coil-kv").Number; weak >= full {
		t.Errorf("available voltage %g V with a weak battery, %g V with a good one", weak, full)
	}
}

func TestCoolantSensor(t *testing.T) {
	for _, fault := range []string{"ect-open", "ect-skewed"} {
		b := loaded(t, "single-coil").with(fault, 0.5)
		o := b.v.Observe()
		if !o.Starts || o.Timing != "advanced" || o.Scan != "abnormal" {
			t.Errorf("%s: %+v", fault, o)
		}
		b.look("scan-ect.on=cold", "timing=advanced")
	}
}
