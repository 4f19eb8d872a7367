package vehicle

import (
	"slices"
	"strings"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
)

// A wheel of two vanes at 800 rpm gives 800/60 x 2 = 26.67 pulses a second. Where three of ten are missing a counter,
// which counts what comes, shows 26.67 x 0.7 = 18.67, and the output, which a pulse closes for 35 % of its time, is
// open for 1 - 0.35 x 0.7 = 75.5 % of all time. Every pulse brings one ignition, so as many of those are missing.
func TestMissingPulsesByHand(t *testing.T) {
	healthy := loaded(t, "double-ended")
	v := healthy.set("ckp", "missed_share", 0.3)
	idle := v.idle()
	st, good := v.plain(idle), healthy.v.plain(idle)
	near(t, "pulses a second", st.pulses, 26.667*0.7, 0.01)
	near(t, "sparks a second of each coil", st.firing, good.firing*0.7, 1e-9)
	near(t, "share of the time open", v.highShare(), 0.755, 1e-9)
	for k := range st.charges {
		near(t, "amperes of a coil that is charged", st.charges[k].amps, good.charges[k].amps, 0.05)
	}
	near(t, "rpm as the PCM counts it", v.scan(st, "scan-speed").Number, 800*0.7, 0.01)
}

// An inductive sensor gives nothing while a wave is left out: with 36 of 100 missing the root of the mean square falls to
// the root of 0.64, eight tenths, a counter shows 64 of 100, and the sensor has no direct voltage.
func TestMissingWavesByHand(t *testing.T) {
	healthy := loaded(t, "reluctor")
	b := &benchOf{t: t, p: healthy.p, v: healthy.set("ckp", "missed_share", 0.36)}
	near(t, "ac volts beside the good wheel's", b.read("ac-sensor").Number/healthy.read("ac-sensor").Number, 0.8, 0.01)
	near(t, "Hz at idle", b.read("hertz-pcm-idle").Number, 850.0/60*2*0.64, 0.01)
	st := b.v.plain(b.v.idle())
	near(t, "mean of the wave, V", st.volts(b.v.dev.pickups[0].plus, b.v.dev.pickups[0].minus), 0, 0.001)
}

// An engine of four keeps running as long as half of its ignitions come (common practice, no source), so it stalls on a
// wheel that loses more. Which cylinder goes without changes from turn to turn: a balance test finds none that does
// less than the others, and misfires are counted in all.
func TestMissingPulsesInTheEngine(t *testing.T) {
	for _, c := range []struct {
		missed   float64
		starts   bool
		misfires string
		code     string
	}{
		{0, true, "no", cards.NoCode}, {0.01, true, "no", cards.NoCode}, {0.03, true, "always", cards.CrankUneven},
		{0.49, true, "always", cards.CrankUneven}, {0.51, false, "no", cards.CrankUneven},
	} {
		v := loaded(t, "single-coil").set("ckp", "missed_share", c.missed)
		o := v.Observe()
		if o.Starts != c.starts || o.Misfires != c.misfires || v.remembered() != c.code {
			t.Errorf("%g missing: starts %v, misfires %q, %q; want %v, %q, %q", c.missed, o.Starts, o.Misfires,
				v.remembered(), c.starts, c.misfires, c.code)
		}
		if o.Misfires == "always" {
			st := v.plain(v.idle())
			if all, none := v.misfires(st), v.unbalanced(st); all != cards.AllMisfire || none != cards.NoMisfire {
				t.Errorf("%g missing: misfires in %s, balance %s", c.missed, all, none)
			}
		}
	}
}

// TestMissingPulsesOfAnyWheel: whether the output is open for most of a pulse or for little of it, a pulse that does not
// come leaves it open for a whole pulse more, and the picture of a good one stays even.
func TestMissingPulsesOfAnyWheel(t *testing.T) {
	source, err := pack.Source("double-ended")
	if err != nil {
		t.Fatal(err)
	}
	for _, share := range []string{"0.2", "0.35", "0.65", "0.8"} {
		p, err := pack.Parse("x.toml", []byte(strings.Replace(string(source), `kind = "hall",`,
			`kind = "hall", high_share = `+share+`,`, 1)))
		if err != nil {
			t.Fatal(err)
		}
		b := &benchOf{t: t, p: p, v: Healthy(p)}
		test := slices.IndexFunc(p.Tests, func(o pack.Test) bool { return o.Instrument.ID == cards.ScopeSignal })
		for missed, want := range map[float64]string{0: cards.EvenSwing, 0.3: cards.MissingPulses} {
			if got := b.set("ckp", "missed_share", missed).Read(test).Phrase; got != want {
				t.Errorf("open for %s of a pulse, %g missing: %q, want %q", share, missed, got, want)
			}
		}
	}
}
