package proof

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/vehicle"
)

// load gives a built-in pack with its matrix and checks.
func load(t *testing.T, name string) (*pack.Pack, *vehicle.Matrix, [][]Check) {
	t.Helper()
	p, err := pack.Load(name)
	if err != nil {
		t.Fatal(err)
	}
	m := matrix(t, p)
	return p, m, Of(p, m)
}

func matrix(t *testing.T, p *pack.Pack) *vehicle.Matrix {
	t.Helper()
	m, err := vehicle.NewMatrix(p)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// text writes a check as the tables below do: what it asks for, the part, the number of the point, and tests. Those of
// a sweep at the check's own point leave the point out.
func text(p *pack.Pack, c Check) string {
	part, at := "vehicle", "-"
	if c.Part >= 0 {
		part = p.Parts[c.Part].ID
	}
	var point string
	if c.Point >= 0 {
		at, point = fmt.Sprint(c.Point+1), "."+p.Nodes[c.Point].ID+"."
	}
	var tests []string
	for _, t := range c.Tests {
		id := p.Tests[t].ID
		if point != "" {
			id = strings.Replace(id, point, ".", 1)
		}
		tests = append(tests, id)
	}
	slices.Sort(tests)
	return strings.TrimSpace(fmt.Sprintf("%s %s %s: %s", c.What, part, at, strings.Join(tests, " ")))
}

// Worked out from the diagrams, the cards of the parts and the specifications of the points; number of a point as
// printed. What the tests of a feed, ground and so on are, is common practice, no source.
const (
	// A feed while the engine does not run: meter, its minimum while cranking, and both lamps; the sweep of the small
	// lamp goes on while cranking in one pack only.
	feed      = "least.crank load-neg.on volts.crank volts.on lamp-neg.on"
	feedLamps = feed + " lamp-neg.crank"
	// A ground under current lifts when it is cut off; a lamp to battery + goes out.
	ground = "lamp-pos.on load-pos.on peak.crank volts.crank volts.on"
)

func TestChecksByHand(t *testing.T) {
	type loaded struct {
		p   *pack.Pack
		m   *vehicle.Matrix
		all [][]Check
	}
	packs := map[string]loaded{}
	for _, name := range pack.Builtin() {
		p, m, all := load(t, name)
		packs[name] = loaded{p, m, all}
	}
	for _, c := range []struct {
		pack, fault string
		want        []string
	}{
		{"single-coil", "icm-dead", []string{
			"feed icm 11: " + feedLamps, // not the lamp with the ICM unplugged
			"ground icm 12: " + ground,
			"input icm 13: hertz.crank volts.crank", // 0 to 9 V half of the time; cut off, the ICM's own pull-up holds it
			"input icm 14: hertz.crank volts.crank",
			"output icm 15: hertz.crank", // on average its volts are those of the feed, as on a good one whose coil rests
		}},
		{"single-coil", "fuse-blown", []string{
			"end fuse 4: " + feedLamps + " fuse-ohms",
			"end fuse 5: " + feedLamps + " fuse-ohms",
			"path fuse -: volts.fuse_out.on volts.fuse_out.crank least.fuse_out.crank lamp-neg.fuse_out.on" +
				" lamp-neg.fuse_out.crank load-neg.fuse_out.on fuse-ohms",
		}},
		{"single-coil", "main-open", []string{ // its other end is the battery's post
			"end main_wire 4: " + feedLamps,
			"path main_wire -: volts.fuse_in.on volts.fuse_in.crank least.fuse_in.crank lamp-neg.fuse_in.on" +
				" lamp-neg.fuse_in.crank load-neg.fuse_in.on",
		}},
		{"single-coil", "icm-ground-open", []string{
			"end icm_ground_wire 12: " + ground + " icm-ground-volts icm-ground-lamp icm-ground-load",
			"end icm_ground_wire 3: lamp-pos.on load-pos.on", // no current: a meter reads 0 V connected or not
			"path icm_ground_wire -: volts.icm_gnd.on volts.icm_gnd.crank peak.icm_gnd.crank lamp-pos.icm_gnd.on" +
				" load-pos.icm_gnd.on icm-ground-volts icm-ground-lamp icm-ground-load",
		}},
		{"single-coil", "command-open", []string{
			"end command_wire 19: hertz.crank volts.crank command-wire-ohms",
			"end command_wire 14: hertz.crank volts.crank command-wire-ohms",
			"path command_wire -: hertz.icm_cmd.crank volts.icm_cmd.crank command-wire-ohms",
		}},
		{"single-coil", "trigger-open", []string{ // it begins at a joint in the harness
			"end trigger_wire -:",
			"end trigger_wire 13: hertz.crank volts.crank trigger-wire-ohms",
			"path trigger_wire -: hertz.icm_trig.crank volts.icm_trig.crank trigger-wire-ohms",
		}},
		{"single-coil", "ckp-signal-short", []string{ // through to the block, which nobody doubts
			"end signal_chafe 25: hertz.crank volts.crank signal-short-ohms",
			"path signal_chafe -: hertz.ckp_sig.crank volts.ckp_sig.crank signal-short-ohms",
		}},
		{"single-coil", "coil-primary", []string{
			"feed coil 9: " + feedLamps,
			"output coil 10: hertz.crank volts.crank volts.on lamp-neg.on primary-ohms coil-amps.crank",
		}},
		{"single-coil", "ect-open", []string{ // no current: of its ground only lamps tell, also with the PCM unplugged
			"ground ect 17: lamp-pos.on load-pos.on pcm-ground-volts pcm-ground-lamp pcm-ground-load",
			"output ect 20: volts.crank volts.idle volts.on ect-ohms",
		}},
		{"single-coil", "ckp-gap", []string{
			"feed ckp 23: " + feedLamps,
			"ground ckp 24: " + ground,
			"output ckp 25: hertz.crank volts.crank ckp-gap",
		}},
		{"single-coil", "map-short", []string{"reference voltage map -:", "ground map -:", "own test map -:"}},
		{"single-coil", "plug-worn-1", []string{"own test spark1 -: gap1"}}, // kV are measured at the lead
		{"single-coil", "lead-open-3", []string{"own test lead3 -: lead3-ohms"}},
		{"double-ended", "feed-open", []string{ // no lead reaches the splice
			"end feed_wire 7: " + feed, "end feed_wire -:", "path feed_wire -:",
		}},
		{"double-ended", "icm-dead-b", []string{ // it idles on coil A; command A is not in question
			"feed icm 13: " + feed + " volts.idle",
			"ground icm 14: " + ground + " peak.idle volts.idle",
			"input icm 16: hertz.crank hertz.idle volts.crank volts.idle",
			"output icm 18: hertz.crank hertz.idle",
		}},
		{"double-ended", "icm-dead", []string{
			"feed icm 13: " + feed,
			"ground icm 14: " + ground,
			"input icm 15: hertz.crank volts.crank",
			"input icm 16: hertz.crank volts.crank",
			"output icm 17: hertz.crank hertz.icm_out_b.crank",
		}},
		{"coil-per-plug", "coil-leak-2", []string{ // the tester stands on the coil itself
			"feed coil2 11: " + feed + " volts.idle",
			"ground coil2 19: load-pos.on peak.crank peak.idle volts.crank volts.idle volts.on",
			"input coil2 15: hertz.crank hertz.idle",
			"output coil2 36: coil2-spark coil2-lifted-kv swap-coils-load-12",
		}},
		{"coil-per-plug", "coil-short-1", []string{ // it has blown its own fuse
			"ground coil1 18: load-pos.on peak.crank volts.crank volts.on",
			"input coil1 14: hertz.crank",
			"output coil1 35: coil1-spark coil1-ohms",
		}},
		{"coil-per-plug", "pcm-dead", []string{ // the pull-up of the crank signal is its own
			"feed pcm 23: " + feed,
			"ground pcm 24: load-pos.on peak.crank volts.crank volts.on",
			"output pcm 26: hertz.crank hertz.pcm_cmd2.crank hertz.pcm_cmd3.crank hertz.pcm_cmd4.crank" +
				" scan-speed scan-ect.on scan-iat.on",
		}},
		{"coil-per-plug", "pcm-silent-2", []string{
			"feed pcm 23: " + feed + " volts.idle",
			"ground pcm 24: load-pos.on peak.crank peak.idle volts.crank volts.idle volts.on",
			"input pcm 25: hertz.crank hertz.idle volts.crank volts.idle",
			"output pcm 27: hertz.crank hertz.idle",
		}},
		{"reluctor", "ballast-open", []string{ // cranking, the bypass feeds what lies behind it
			"feed ballast 9: " + feed,
			"output ballast 10: volts.on lamp-neg.on ballast-ohms",
		}},
		{"reluctor", "ckp-open", []string{"output ckp 24: ac-sensor ac-open ckp-ohms"}}, // it makes its own voltage
		{"lamp", "switch-burnt", []string{"end switch 2:", "end switch 3: lamp-feed", "path switch -: lamp-feed"}},
		{"lamp", "lamp-open", []string{ // no current, so 0 V at the lamp's ground whatever becomes of it
			"feed lamp 3: lamp-feed", "ground lamp 4:", "own test lamp -: lamp-resistance",
		}},
		{"lamp", "ground-corroded", []string{"end ground_wire 4: lamp-ground", "path ground_wire -: lamp-ground"}},
	} {
		p, m, all := packs[c.pack].p, packs[c.pack].m, packs[c.pack].all
		fault, err := p.Fault(c.fault)
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(m.Rows, func(r vehicle.Row) bool { return r.Fault == fault })
		var got []string
		for _, check := range all[i] {
			got = append(got, text(p, check))
		}
		var want []string
		for _, w := range c.want {
			head, tests, _ := strings.Cut(w, ":")
			list := strings.Fields(tests)
			slices.Sort(list)
			want = append(want, strings.TrimSpace(head+": "+strings.Join(list, " ")))
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s, %s:\n got %s\nwant %s", c.pack, c.fault, strings.Join(got, "\n     "), strings.Join(want, "\n     "))
		}
	}
}
