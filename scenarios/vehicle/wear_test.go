package vehicle

import "testing"

// What an instructor hides first: worn sets, open resistors, arcing leads, corroded and shorted wires. What each must
// look like was written down before it was read, from the trade: common practice, no source.
func TestWornAndCorroded(t *testing.T) {
	for _, name := range []string{"single-coil", "double-ended", "reluctor", "coil-per-plug"} {
		b := loaded(t, name)
		look := func(fault string, wants ...string) {
			t.Helper()
			for _, severity := range []float64{0, 1} {
				b.with(fault, severity).look(wants...)
			}
		}
		gaps := []string{"gap1=wide", "gap2=wide", "gap3=wide", "gap4=wide"}
		look("plugs-worn", gaps...)
		look("pcm-ground-bad", "volts.pcm_gnd.on=raised", "drop-load.pcm_gnd.on=full", "drop-load.block.on=normal")
		look("pcm-feed-bad", "volts.pcm_feed.on=dropped", "load-neg.pcm_feed.on=dark", "volts.sw_out.on=normal")
		look("ect-short", "ect-ohms=low", "volts.pcm_ect.on=low", "scan-ect.on=hot", "volts.pcm_iat.on=normal")
		look("iat-short", "iat-ohms=low", "volts.pcm_iat.on=low", "scan-iat.on=hot", "timing=retarded")
		if name != "reluctor" {
			look("ckp-feed-bad", "volts.ckp_feed.crank=dropped", "hertz.ckp_sig.crank=none",
				"volts.ckp_gnd.crank=normal")
			look("ckp-ground-bad", "volts.ckp_gnd.crank=raised", "volts.ckp_feed.crank=normal")
		}
		if name == "coil-per-plug" {
			look("plugs-worn", "misfires=no misfire", "misfires-load=all cylinders", "coil1-lifted-kv=normal")
			look("plug-open-3", "misfires=cylinder 3", "swap-coils-34=cylinder 3", "coil3-lifted-kv=normal",
				"coil3-spark=strong spark")
			look("feed-bad-2", "volts.c2_feed.on=normal", "drop-load.c2_feed.on=dropped", "misfires-load=cylinder 2")
			look("ground-bad-4", "volts.c4_gnd.on=normal", "drop-load.c4_gnd.on=raised", "misfires-load=cylinder 4")
			continue
		}
		look("plugs-worn", "plug1-kv-load=high", "plug4-kv-load=high", "plug1-spark=strong spark")
		look("plug-open-2", "plug2-lifted-kv=normal", "plug2-kv=high", "plug3-kv=normal", "lead2-ohms=normal")
		look("lead-arc-3", "lead3-ohms=normal", "plug3-lifted-kv=weak", "plug2-lifted-kv=normal", "gap3=normal")
	}
}
