package vehicle

import (
	"math"
	"strings"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
)

// What a hidden fault must look like in the double-ended pack. These are facts of the trade: common practice, no
// source.

var rough = Observables{Cranks: "normal", SparkCranking: "yes", Starts: true, Misfires: "always", Timing: "normal",
	Scan: "normal"}

// pairs of plugs that share a coil, and what the scan tool calls them.
var pairs = map[string]struct {
	own, other []string
	misses     string
}{
	"a": {[]string{"plug1", "plug4"}, []string{"plug2", "plug3"}, "cylinders 1 and 4"},
	"b": {[]string{"plug2", "plug3"}, []string{"plug1", "plug4"}, "cylinders 2 and 3"},
}

// silent checks that the coil's two plugs get nothing and the other coil's get all.
func (b *benchOf) silent(coil string) {
	b.t.Helper()
	pair := pairs[coil]
	b.observed(rough)
	b.look("misfires="+pair.misses, "misfires-load="+pair.misses)
	for _, plug := range pair.own {
		b.look(plug+"-spark=no spark", plug+"-lifted-kv=none")
	}
	for _, plug := range pair.other {
		b.look(plug+"-spark=strong spark", plug+"-lifted-kv=normal", plug+"-kv=normal")
	}
}

func TestNewPacksAreHealthy(t *testing.T) {
	for _, name := range []string{"double-ended", "coil-per-plug", "reluctor"} {
		b := loaded(t, name)
		b.observed(good)
		bands, complaint, err := b.v.Bands()
		if err != nil || complaint != -1 {
			t.Errorf("%s: complaint %d, error %v; want none", name, complaint, err)
		}
		for i, k := range bands {
			if band := b.p.Tests[i].Bands[k]; !band.Normal {
				t.Errorf("%s: %s reads %q", name, b.p.Tests[i].ID, band.Name)
			}
		}
	}
}

// Each coil fires once per revolution: 800/60 = 13.3 times a second at 800 1/min, on the compression and on the exhaust
// stroke.
func TestTwinCoilsFireEveryRevolution(t *testing.T) {
	b := loaded(t, "double-ended")
	for _, point := range []string{"coila_neg", "coilb_neg", "icm_cmd_a", "pcm_cmd_b"} {
		b.between("hertz."+point+".idle", 800.0/60-0.01, 800.0/60+0.01)
	}
	b.between("hertz.ckp_sig.idle", 2*800.0/60-0.01, 2*800.0/60+0.01) // two teeth
}

func TestOneCommandWireOpen(t *testing.T) {
	for coil := range pairs {
		b := loaded(t, "double-ended").with("cmd-"+coil+"-open", 0.5)
		b.silent(coil)
		b.look("hertz.pcm_cmd_"+coil+".crank=normal", "hertz.icm_cmd_"+coil+".crank=none",
			"hertz.icm_out_"+coil+".crank=none",
			"coil-"+coil+"-amps.crank=none", "volts.coil"+coil+"_pos.crank=normal", "cmd-"+coil+"-ohms=open")
	}
}

func TestOneCoilOpen(t *testing.T) {
	for coil := range pairs {
		b := loaded(t, "double-ended")
		primary := b.with("coil-"+coil+"-primary", 0.5)
		primary.silent(coil)
		primary.look("volts.coil"+coil+"_pos.on=normal", "volts.coil"+coil+"_neg.on=none", "primary-"+coil+"-ohms=open",
			"secondary-"+coil+"-ohms=normal", "hertz.icm_cmd_"+coil+".idle=normal")
		secondary := b.with("coil-"+coil+"-secondary", 0.5)
		secondary.silent(coil)
		secondary.look("hertz.coil"+coil+"_neg.crank=normal", "coil-"+coil+"-amps.idle=normal",
			"primary-"+coil+"-ohms=normal",
			"secondary-"+coil+"-ohms=open")
	}
}

func TestDriverHalfDead(t *testing.T) {
	for coil, other := range map[string]string{"a": "b", "b": "a"} {
		b := loaded(t, "double-ended").with("icm-dead-"+coil, 0.5)
		b.silent(coil)
		b.look("hertz.icm_cmd_"+coil+".crank=normal", "hertz.icm_out_"+coil+".crank=none",
			"volts.icm_out_"+coil+".on=normal",
			"hertz.icm_out_"+other+".crank=normal")
	}
}

// The current of a spark goes out through one plug and back through the other: one broken lead silences both. At the
// good lead the gap still breaks down, since what charges its tower is enough for that.
func TestOneLeadOpenSilencesBothPlugs(t *testing.T) {
	for n, coil := range map[string]string{"1": "a", "2": "b", "3": "b", "4": "a"} {
		b := loaded(t, "double-ended").with("lead-open-"+n, 0.5)
		b.silent(coil)
		b.look("lead"+n+"-ohms=open", "coil-"+coil+"-amps.crank=normal", "hertz.coil"+coil+"_neg.idle=normal",
			"plug"+n+"-kv=low")
		for _, plug := range pairs[coil].own {
			if plug != "plug"+n {
				b.look(plug+"-kv=normal", strings.Replace(plug, "plug", "lead", 1)+"-ohms=normal")
			}
		}
	}
}

// What lies at one plug concerns that one.
func TestPlugsOfATwinCoilFailAlone(t *testing.T) {
	healthy := loaded(t, "double-ended")
	for _, severity := range []float64{0, 1} {
		worn := healthy.with("plug-worn-3", severity)
		worn.observed(loadMiss)
		worn.look("misfires=no misfire", "misfires-load=cylinder 3", "plug3-kv-load=high", "plug2-kv-load=normal",
			"plug3-spark=strong spark", "gap3=wide")
		fouled := healthy.with("plug-fouled-4", severity)
		fouled.observed(rough)
		fouled.look("misfires=cylinder 4", "plug4-spark=strong spark", "plug4-ohms=leaking", "plug4-kv=low",
			"plug1-kv=normal")
	}
}

func TestTwinCoilLeaking(t *testing.T) {
	for _, severity := range []float64{0, 0.5, 1} {
		b := loaded(t, "double-ended").with("coil-a-leak", severity)
		b.look("misfires=no misfire", "misfires-load=cylinders 1 and 4", "primary-a-ohms=normal",
			"secondary-a-ohms=normal",
			"coil-a-amps.idle=normal", "plug1-lifted-kv=weak", "plug4-lifted-kv=weak", "plug2-lifted-kv=normal")
	}
}

func TestTwoFuses(t *testing.T) {
	b := loaded(t, "double-ended")
	coils := b.with("coil-fuse-blown", 0.5)
	coils.observed(noStart)
	coils.look("volts.fuse_in.on=normal", "volts.coil_fuse.on=none", "volts.coila_pos.on=none",
		"volts.coilb_pos.on=none",
		"volts.pcm_feed.on=normal", "scan-speed=normal", "hertz.pcm_cmd_a.crank=normal", "coil-fuse-ohms=open")
	pcm := b.with("pcm-fuse-blown", 0.5)
	pcm.observed(noLink)
	pcm.look("volts.coila_pos.on=normal", "volts.pcm_feed.on=none", "volts.ckp_feed.on=none",
		"hertz.ckp_sig.crank=none",
		"scan-speed="+pack.NoLink)
}

func TestDriverGround(t *testing.T) {
	healthy := loaded(t, "double-ended")
	for _, severity := range []float64{0, 0.5, 1} {
		bad := healthy.with("icm-ground-bad", severity) // 5 to 10 ohm
		bad.observed(noStart)
		bad.look("volts.icm_gnd.crank=raised", "icm-ground-volts=normal", "icm-ground-lamp=bright",
			"hertz.icm_cmd_a.crank=normal",
			"plug1-spark=no spark", "plug2-spark=no spark")
		if got := bad.band("load-pos.icm_gnd.on"); got == "bright" {
			t.Errorf("severity %g: the 21 W lamp is bright", severity)
		}
		weak := healthy.with("icm-ground-weak", severity) // 0.6 to 0.95 ohm
		if o := weak.v.Observe(); !o.Starts || o.Misfires != "loaded" {
			t.Errorf("severity %g: %+v, want a start and misfires under load", severity, o)
		}
		weak.look("peak.icm_gnd.crank=raised", "misfires-load="+cards.AllMisfire, "coil-a-amps.idle=low",
			"coil-b-amps.idle=low")
		if mean, peak := weak.read("volts.icm_gnd.crank").Number, weak.read("peak.icm_gnd.crank").Number; peak < 5*mean {
			t.Errorf("severity %g: max hold %g V, average %g V; the average should hide most of it", severity, peak,
				mean)
		}
	}
}

// Commands are told apart by their wires, not by the order of pins.
func TestCommandsFollowTheirWires(t *testing.T) {
	text, err := pack.Source("double-ended")
	if err != nil {
		t.Fatal(err)
	}
	crossed := strings.NewReplacer(`pins = ["pcm_cmd_a", "icm_cmd_a"]`, `pins = ["pcm_cmd_a", "icm_cmd_b"]`,
		`pins = ["pcm_cmd_b", "icm_cmd_b"]`, `pins = ["pcm_cmd_b", "icm_cmd_a"]`).Replace(string(text))
	p, err := pack.Parse("crossed.toml", []byte(crossed))
	if err != nil {
		t.Fatal(err)
	}
	b := (&benchOf{t: t, p: p, v: Healthy(p)}).with("cmd-a-open", 0.5)
	b.look("misfires=cylinders 2 and 3", "hertz.pcm_cmd_a.crank=normal", "hertz.icm_cmd_b.crank=none",
		"hertz.icm_cmd_a.crank=normal")
}

// A burnt output is a resistance: with the feed gone it leaves no voltage of its own behind.
func TestStuckOutputOfADriver(t *testing.T) {
	b := loaded(t, "double-ended")
	v := Healthy(b.p)
	for i := range b.p.Parts {
		if part := &b.p.Parts[i]; part.ID == "icm" {
			v.values[i][part.Kind.Param("stuck_output")] = 1
		}
	}
	stuck := &benchOf{t: t, p: b.p, v: v}
	stuck.look("misfires=cylinders 1 and 4", "volts.coila_neg.on=pulled down", "volts.coilb_neg.on=normal",
		"plug2-spark=strong spark")
	for i := range b.p.Parts {
		if part := &b.p.Parts[i]; part.ID == "coil_fuse" {
			v.values[i][part.Kind.Param("resistance_ohms")] = math.Inf(1)
		}
	}
	v.forget()
	stuck.between("volts.coila_neg.on", 0, 0.01)
}
