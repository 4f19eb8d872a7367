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
	// A feed while the engine does not run: meter, its minimum while cranking, both lamps, and the drop while one of
	// them loads it, and what is left of it while the harness is moved; the sweep of the small lamp goes on while
	// cranking in one pack only.
	feed      = "drop-load.on least.crank load-neg.on volts.crank volts.on lamp-neg.on least.wiggle"
	feedLamps = feed + " lamp-neg.crank"
	// A ground under current lifts when it is cut off; a lamp to battery + goes out.
	ground = "drop-load.on load-pos.on peak.crank volts.crank volts.on peak.wiggle"
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
			"feed icm 11: " + feedLamps,
			"ground icm 12: " + ground,
			// 0 to 9 V half of the time; cut off, the ICM's own pull-up holds it
			"input icm 13: hertz.crank volts.crank",
			// high for a few milliseconds: no specification of its average
			"input icm 14: hertz.crank peak.crank",
			// on average its volts are those of the feed, as on a good one whose coil rests
			"output icm 15: hertz.crank hot-hertz.crank-hot",
		}},
		{"single-coil", "fuse-blown", []string{
			"end fuse 4: " + feedLamps + " fuse-ohms fuse-drop",
			"end fuse 5: " + feedLamps + " fuse-ohms fuse-drop",
			"path fuse -: volts.fuse_out.on volts.fuse_out.crank least.fuse_out.crank lamp-neg.fuse_out.on" +
				" lamp-neg.fuse_out.crank load-neg.fuse_out.on drop-load.fuse_out.on least.fuse_out.wiggle fuse-ohms " +
				"fuse-drop",
		}},
		{"single-coil", "main-open", []string{ // its other end is the battery's post
			"end main_wire 4: " + feedLamps,
			"path main_wire -: volts.fuse_in.on volts.fuse_in.crank least.fuse_in.crank lamp-neg.fuse_in.on" +
				" lamp-neg.fuse_in.crank load-neg.fuse_in.on drop-load.fuse_in.on least.fuse_in.wiggle",
		}},
		{"single-coil", "icm-ground-open", []string{
			"end icm_ground_wire 12: " + ground + " icm-ground-volts icm-ground-lamp",
			"end icm_ground_wire 3: load-pos.on drop-load.on", // without current a meter alone reads 0 V
			"path icm_ground_wire -: volts.icm_gnd.on volts.icm_gnd.crank peak.icm_gnd.crank" +
				" load-pos.icm_gnd.on drop-load.icm_gnd.on peak.icm_gnd.wiggle icm-ground-volts icm-ground-lamp",
		}},
		{"single-coil", "command-open", []string{
			"end command_wire 19: hertz.crank hot-hertz.crank-hot peak.crank command-wire-ohms",
			"end command_wire 14: hertz.crank peak.crank command-wire-ohms",
			"path command_wire -: hertz.icm_cmd.crank peak.icm_cmd.crank command-wire-ohms",
		}},
		{"single-coil", "trigger-open", []string{ // it begins at a joint in the harness
			"end trigger_wire -:",
			// The ICM's pull-up keeps the highest volts where they belong, until its pin is off.
			"end trigger_wire 13: hertz.crank volts.crank peak.crank trigger-wire-ohms",
			"path trigger_wire -: hertz.icm_trig.crank volts.icm_trig.crank trigger-wire-ohms",
		}},
		{"single-coil", "ckp-signal-short", []string{ // through to the block, which nobody doubts
			"end signal_chafe 26: hertz.crank hot-hertz.crank-hot volts.crank peak.crank signal-short-ohms",
			"path signal_chafe -: hertz.ckp_sig.crank hot-hertz.ckp_sig.crank-hot volts.ckp_sig.crank " +
				"peak.ckp_sig.crank signal-short-ohms",
		}},
		{"single-coil", "coil-primary", []string{
			"feed coil 9: " + feedLamps,
			"output coil 10: hertz.crank volts.crank volts.on lamp-neg.on primary-ohms coil-amps.crank tower-spark " +
				"tower-kv-hot coil-scope.crank primary-scope.crank",
		}},
		{"single-coil", "ect-open", []string{ // no current: of its ground only lamps tell
			"ground ect 17: drop-load.on load-pos.on",
			"output ect 20: volts.crank volts.idle volts.on ect-ohms",
		}},
		{"single-coil", "ckp-gap", []string{
			"feed ckp 23: " + feedLamps,
			"ground ckp 24: " + ground,
			"output ckp 26: hertz.crank hot-hertz.crank-hot volts.crank ckp-gap",
		}},
		{"single-coil", "map-short", []string{"reference voltage map -:", "ground map -:", "own test map -: map-ohms"}},
		// kV are measured at the lead; the others pass
		{"single-coil", "plug-worn-1", []string{"own test spark1 -: gap1"}},
		{"single-coil", "plugs-worn", []string{"own test spark1 -: gap1 gap2 gap3 gap4"}},
		{"single-coil", "plug-open-3", []string{"own test spark3 -: swap-plugs-34"}}, // to its shell it is open anyway
		{"single-coil", "lead-open-3", []string{"own test lead3 -: lead3-ohms"}},
		{"single-coil", "lead-arc-3", []string{"own test lead3 -: lead3-look"}}, // end to end it measures well
		// What comes and goes is proven while it is there; that its supply is good shows at any time.
		{"single-coil", "ckp-hot", []string{
			"feed ckp 23: " + feedLamps + " volts.idle",
			"ground ckp 24: " + ground + " peak.idle volts.idle",
			"output ckp 26: hot-hertz.crank-hot",
		}},
		{"single-coil", "icm-ground-loose", []string{
			"end icm_ground_wire 12: peak.wiggle", // what is good at rest tells nothing of what is lost when it is moved
			"end icm_ground_wire 3: ",
			"path icm_ground_wire -: peak.icm_gnd.wiggle",
		}},
		{"single-coil", "pin-out", []string{ // parted and looked at
			"end ckp_connector 24: " + ground + "",
			"end ckp_connector 25: load-pos.on drop-load.on",
			"path ckp_connector -: volts.ckp_gnd.on volts.ckp_gnd.crank peak.ckp_gnd.crank" +
				" load-pos.ckp_gnd.on drop-load.ckp_gnd.on peak.ckp_gnd.wiggle" +
				" plug-look",
		}},
		{"single-coil", "lead-wet-2", []string{"own test lead2 -: lead2-look"}},
		{"double-ended", "feed-open", []string{
			"end feed_wire 7: " + feed,
			"end feed_wire 9: " + feed,
			"path feed_wire -: volts.splice.on volts.splice.crank least.splice.crank lamp-neg.splice.on" +
				" load-neg.splice.on drop-load.splice.on least.splice.wiggle",
		}},
		{"double-ended", "coil-a-leak", []string{ // its towers are inside the leads' boots; it idles on both coils
			"feed coil_a 10: " + feed + " volts.idle",
			"own test coil_a -: swap-coils-load swap-kv-hot",
		}},
		{"double-ended", "icm-dead-b", []string{ // it idles on coil A; command A is not in question
			"feed icm 14: " + feed + " volts.idle",
			"ground icm 15: " + ground + " peak.idle volts.idle",
			"input icm 17: hertz.crank hertz.idle peak.crank peak.idle",
			"output icm 19: hertz.crank hertz.idle",
		}},
		{"double-ended", "icm-dead", []string{
			"feed icm 14: " + feed,
			"ground icm 15: " + ground,
			"input icm 16: hertz.crank peak.crank",
			"input icm 17: hertz.crank peak.crank",
			"output icm 18: hertz.crank hertz.icm_out_b.crank hot-hertz.crank-hot",
		}},
		// The tester stands on the coil itself. A command comes once in two turns, too seldom to be counted while
		// cranking.
		{"coil-per-plug", "coil-leak-2", []string{
			"feed coil2 11: " + feed + " volts.idle",
			"ground coil2 19: drop-load.on load-pos.on peak.crank peak.idle volts.crank volts.idle volts.on peak.wiggle",
			"input coil2 15: hertz.idle peak.crank peak.idle",
			"output coil2 37: coil2-spark coil2-lifted-kv swap-coils-load-12 line2-scope.load",
		}},
		{"coil-per-plug", "coil-short-1", []string{ // it has blown its own fuse, so only a lamp loads the ground
			"ground coil1 18: drop-load.on load-pos.on",
			"input coil1 14: peak.crank",
			"output coil1 36: coil1-spark coil1-ohms line-scope.crank",
		}},
		{"coil-per-plug", "pcm-dead", []string{ // the pull-up of the crank signal is its own
			"feed pcm 23: " + feed,
			"ground pcm 24: drop-load.on load-pos.on peak.crank volts.crank volts.on peak.wiggle",
			"output pcm 26: peak.crank peak.pcm_cmd2.crank peak.pcm_cmd3.crank peak.pcm_cmd4.crank" +
				" scan-speed scan-ect.on scan-iat.on codes",
		}},
		{"coil-per-plug", "pcm-silent-2", []string{ // cut off, its pull-up holds the crank signal high: the engine dies
			"feed pcm 23: " + feed + " volts.idle",
			"ground pcm 24: drop-load.on load-pos.on peak.crank peak.idle volts.crank volts.idle volts.on peak.wiggle",
			"input pcm 25: hertz.crank hertz.idle peak.idle volts.crank volts.idle signal-scope.crank",
			"output pcm 27: hertz.idle peak.crank peak.idle",
		}},
		{"coil-per-plug", "plug-open-2", []string{"own test spark2 -: swap-plugs-12"}},
		{"reluctor", "ballast-open", []string{ // cranking, the bypass feeds what lies behind it
			"feed ballast 10: " + feed,
			"output ballast 11: volts.on lamp-neg.on drop-load.on least.wiggle ballast-ohms",
		}},
		// it makes its own voltage
		{"reluctor", "ckp-open", []string{"output ckp 26: ac-sensor ac-sensor-hot ac-open ckp-ohms"}},
		// named by the pack: no meter shows the flank
		{"reluctor", "ckp-reversed", []string{"own test ckp -: timing"}},
		{"horn", "relay-contact-open", []string{ // released, its coil's far end is high connected or not
			"feed relay 5: volts.on",
			"ground relay 7: volts.on",
			"feed relay 6: volts.on",
			"output relay 8: volts.on",
		}},
		{"horn", "relay-coil-open", []string{ // nothing lifts the far end, whatever becomes of its ground
			"feed relay 5: volts.on",
			"ground relay 7:",
			"feed relay 6: volts.on",
			"output relay 8: volts.on relay-coil-ohms",
		}},
		{"horn", "button-open", []string{
			"end button 9: volts.off volts.on button-ohms",
			"end button 10: drop-load.off button-ohms", // no current flows through it
			"path button -: volts.btn_in.on button-ohms",
		}},
		{"horn", "horn-open", []string{"feed horn 11: volts.on", "ground horn 12: drop-load.off",
			"own test horn -: horn-ohms"}},
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
			t.Errorf("%s, %s:\n got %s\nwant %s", c.pack, c.fault, strings.Join(got, "\n     "),
				strings.Join(want, "\n     "))
		}
	}
}
