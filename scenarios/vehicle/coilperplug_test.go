package vehicle

import (
	"fmt"
	"math"
	"testing"

	"nospark/scenarios/pack/cards"
)

// What a hidden fault must look like in the coil-per-plug pack. These are facts of the trade: common practice, no
// source.

// misses checks that one cylinder misses all the time and the others have all they need.
func (b *benchOf) misses(cylinder int) {
	b.t.Helper()
	b.observed(rough)
	name := fmt.Sprintf("cylinder %d", cylinder)
	b.look("misfires="+name, "misfires-load="+name)
	for n := 1; n <= 4; n++ {
		if n != cylinder {
			b.look(fmt.Sprintf("coil%d-spark=strong spark", n), fmt.Sprintf("coil%d-amps=normal", n),
				fmt.Sprintf("hertz.c%d_cmd.idle=normal", n))
		}
	}
}

// Every coil fires once in two revolutions: 750/120 = 6.25 times a second at 750 1/min.
func TestPencilCoilsFireEverySecondRevolution(t *testing.T) {
	b := loaded(t, "coil-per-plug")
	for n := 1; n <= 4; n++ {
		b.between(fmt.Sprintf("hertz.c%d_cmd.idle", n), 6.24, 6.26)
		b.between(fmt.Sprintf("hertz.pcm_cmd%d.idle", n), 6.24, 6.26)
	}
}

// A dead coil takes its misfire along when it changes places with a good one.
func TestMisfireMovesWithTheCoil(t *testing.T) {
	for n, moved := range map[int]int{1: 2, 2: 1, 3: 4, 4: 3} {
		b := loaded(t, "coil-per-plug").with(fmt.Sprintf("coil-dead-%d", n), 0.5)
		b.misses(n)
		own, other := "swap-coils-12", "swap-coils-34"
		if n > 2 {
			own, other = other, own
		}
		b.look(fmt.Sprintf("%s=cylinder %d", own, moved), fmt.Sprintf("%s=cylinder %d", other, n),
			fmt.Sprintf("coil%d-amps=none", n), fmt.Sprintf("coil%d-spark=no spark", n),
			fmt.Sprintf("volts.c%d_feed.idle=normal", n), fmt.Sprintf("volts.c%d_gnd.idle=normal", n),
			fmt.Sprintf("hertz.c%d_cmd.idle=normal", n))
	}
}

// With anything but the coil the misfire stays.
func TestMisfireStaysWithTheWires(t *testing.T) {
	for n := 1; n <= 4; n++ {
		healthy := loaded(t, "coil-per-plug")
		swap := map[bool]string{true: "swap-coils-12", false: "swap-coils-34"}[n <= 2]
		stays := fmt.Sprintf("%s=cylinder %d", swap, n)

		feed := healthy.with(fmt.Sprintf("feed-open-%d", n), 0.5)
		feed.misses(n)
		feed.look(stays, fmt.Sprintf("volts.c%d_feed.on=none", n), "volts.splice.on=normal",
			fmt.Sprintf("load-neg.c%d_feed.on=dark", n))

		ground := healthy.with(fmt.Sprintf("ground-open-%d", n), 0.5)
		ground.misses(n)
		ground.look(stays, fmt.Sprintf("volts.c%d_gnd.on=full", n), "volts.gsplice.on=normal",
			fmt.Sprintf("load-pos.c%d_gnd.on=dark", n))

		command := healthy.with(fmt.Sprintf("cmd-open-%d", n), 0.5)
		command.misses(n)
		command.look(stays, fmt.Sprintf("hertz.pcm_cmd%d.idle=normal", n), fmt.Sprintf("hertz.c%d_cmd.idle=none", n),
			fmt.Sprintf("cmd%d-ohms=open", n))

		fouled := healthy.with(fmt.Sprintf("plug-fouled-%d", n), 0.5)
		fouled.observed(rough)
		fouled.look(stays, fmt.Sprintf("coil%d-spark=strong spark", n), fmt.Sprintf("coil%d-amps=normal", n),
			fmt.Sprintf("plug%d-ohms=leaking", n))
	}
}

func TestControllerSilentOnOneCommand(t *testing.T) {
	b := loaded(t, "coil-per-plug").with("pcm-silent-2", 0.5)
	b.misses(2)
	b.look("hertz.pcm_cmd2.idle=none", "peak.pcm_cmd2.crank=none", "hertz.c2_cmd.idle=none", "cmd2-ohms=normal",
		"scan-speed=normal")
}

// Worn plug and leaking coil both miss under load only; the coil's voltage and the exchange tell them apart.
func TestUnderLoadPlugOrCoil(t *testing.T) {
	healthy := loaded(t, "coil-per-plug")
	for _, severity := range []float64{0, 0.5, 1} {
		worn := healthy.with("plug-worn-1", severity)
		worn.observed(loadMiss)
		worn.look("misfires=no misfire", "misfires-load=cylinder 1", "swap-coils-load-12=cylinder 1",
			"coil1-lifted-kv=normal", "gap1=wide")
		leak := healthy.with("coil-leak-1", severity)
		leak.look("misfires=no misfire", "misfires-load=cylinder 1", "swap-coils-load-12=cylinder 2",
			"coil1-lifted-kv=weak",
			"gap1=normal")
	}
}

// A coil whose driver has burnt through draws current all the time: the fuse for all coils blows, and a new one will
// blow as well.
func TestBurntDriverBlowsTheFuse(t *testing.T) {
	healthy := loaded(t, "coil-per-plug")
	for n := 1; n <= 4; n++ {
		b := healthy.with(fmt.Sprintf("coil-short-%d", n), 0.5)
		b.observed(noStart)
		b.look("fuse-ohms=open", "volts.rel_87.on=normal", "volts.fuse_out.on=none", "scan-speed=normal",
			"feed-short-ohms=shorted")
		for k := 1; k <= 4; k++ {
			want := map[bool]string{true: "shorted", false: "normal"}[k == n]
			b.look(fmt.Sprintf("coil%d-ohms=%s", k, want))
		}
	}
	blown := healthy.with("fuse-blown", 0.5)
	blown.observed(noStart)
	blown.look("fuse-ohms=open", "volts.fuse_out.on=none", "feed-short-ohms=normal", "coil1-ohms=normal")
}

func TestWhatAllCoilsShare(t *testing.T) {
	healthy := loaded(t, "coil-per-plug")
	relay := healthy.with("relay-open", 0.5)
	relay.observed(noStart)
	relay.look("volts.rel_30.on=normal", "volts.rel_87.on=none", "volts.c3_feed.on=none", "scan-speed=normal",
		"peak.c1_cmd.crank=normal")
	for _, severity := range []float64{0, 0.5, 1} {
		splice := healthy.with("splice-corroded", severity)
		splice.look("misfires-load="+cards.AllMisfire, "least.fuse_out.crank=normal", "least.splice.crank=low",
			"least.c2_feed.crank=low", "coil4-amps=low")
		burnt := healthy.with("relay-burnt", severity)
		burnt.look("misfires-load="+cards.AllMisfire, "least.rel_30.crank=normal", "least.rel_87.crank=low",
			"least.splice.crank=low")
		weak := healthy.with("ground-weak", severity)
		weak.look("misfires-load="+cards.AllMisfire, "peak.gsplice.idle=raised", "peak.c1_gnd.idle=raised",
			"peak.block.idle=normal")
		weak.look("drop-load.gsplice.on=raised", "drop-load.block.on=normal")
	}
}

// An exchange changes values, not places: two equal coils read the same either way, and the vehicle itself stays as it
// was.
func TestExchangeLeavesTheVehicleAlone(t *testing.T) {
	b := loaded(t, "coil-per-plug").with("coil-dead-1", 0.5)
	before := b.read("misfires")
	if moved := b.read("swap-coils-12"); moved.Phrase != "cylinder 2" {
		t.Errorf("exchanged: %q", moved.Phrase)
	}
	if after := b.read("misfires"); after != before {
		t.Errorf("%q before the exchange, %q after it", before.Phrase, after.Phrase)
	}
	healthy := loaded(t, "coil-per-plug")
	if got := healthy.read("swap-coils-load-34"); got.Phrase != cards.NoMisfire {
		t.Errorf("healthy coils exchanged: %q", got.Phrase)
	}
	if x := healthy.read("coil1-amps").Number; math.Abs(x-8.1) > 0.2 {
		t.Errorf("peak current %g A, want the limit of 8 A and the standing current", x)
	}
}
