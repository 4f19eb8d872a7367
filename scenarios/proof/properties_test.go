package proof

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/vehicle"
)

func TestProperties(t *testing.T) {
	for _, name := range pack.Builtin() {
		p, m, all := load(t, name)
		f := newFinder(p)
		for i := range m.Rows {
			row := &m.Rows[i]
			for _, c := range all[i] {
				who := fmt.Sprintf("%s, row %d, %s", name, i, text(p, c))
				if !slices.Contains(pack.Whats, c.What) {
					t.Errorf("%s: no such check", who)
				}
				if (c.What == "result") != (row.Fault < 0) || (c.Under != nil) != (row.Fault < 0) {
					t.Errorf("%s: results are those of a vehicle with nothing wrong, one complaint each", who)
				}
				if c.Point >= p.Points {
					t.Errorf("%s: no lead reaches its point", who)
				}
				for k, test := range c.Tests {
					band := f.band(row, test)
					if k > 0 && test <= c.Tests[k-1] {
						t.Errorf("%s: not ascending", who)
					}
					if band.Silent {
						t.Errorf("%s: %s is silent", who, p.Tests[test].ID)
					}
					if ofTheFault(c.What) && band.Normal {
						t.Errorf("%s: %s reads normal", who, p.Tests[test].ID)
					}
					if !ofTheFault(c.What) && c.What != "end" && !band.Normal {
						t.Errorf("%s: %s reads abnormal", who, p.Tests[test].ID)
					}
					if c.What == "feed" && p.Conditions[p.Tests[test].Condition].Key == cards.KeyOff {
						t.Errorf("%s: %s is made with the key off", who, p.Tests[test].ID)
					}
				}
			}
		}
	}
}

// The cut pin again, this time as a writer of packs would draw it: a point of its own with the old one's role behind a
// connector that the fault opens or makes bad. The columns of the grid go over the new point like over any other.
func TestCutPinsAsDrawnInAPack(t *testing.T) {
	source, err := pack.Source("single-coil")
	if err != nil {
		t.Fatal(err)
	}
	p, m, all := load(t, "single-coil")
	read := func(fault, part, node string, ohms string) (*pack.Pack, []uint8) {
		at := slices.IndexFunc(p.Nodes, func(n pack.Node) bool { return n.ID == node })
		drawn := string(source)
		for _, change := range [][2]string{
			{"[[node]]\nid = \"joint\"",
				fmt.Sprintf("[[point]]\nid = \"cut\"\nrole = %q\n\n[[node]]\nid = \"joint\"", p.Nodes[at].Role)},
			{"[[part]]\nid = \"battery\"", fmt.Sprintf("[[part]]\nid = \"plug_joint\"\nkind = \"connector\"\n"+
				"pins = [%q, \"cut\"]\nresistance_ohms = 0\n\n[[part]]\nid = \"battery\"", node)},
		} {
			drawn = replaceOnce(t, drawn, change[0], change[1])
		}
		block := strings.Index(drawn, "[[part]]\nid = \""+part+"\"\n")
		drawn = drawn[:block] + replaceOnce(t, drawn[block:], "\""+node+"\"", "\"cut\"")
		block = strings.Index(drawn, "[[fault]]\nid = \""+fault+"\"\n")
		drawn = drawn[:block] + replaceOnce(t, drawn[block:], "set = [",
			"set = [{ part = \"plug_joint\", resistance_ohms = "+ohms+" }, ")
		q, err := pack.Parse("drawn.toml", []byte(drawn))
		if err != nil {
			t.Fatal(err)
		}
		i, err := q.Fault(fault)
		if err != nil {
			t.Fatal(err)
		}
		v := vehicle.Healthy(q)
		v.Apply(q.Faults[i], 0.5)
		bands, _, err := v.Bands()
		if err != nil {
			t.Fatal(err)
		}
		return q, bands
	}
	for _, c := range []struct{ fault, part, node, what string }{
		{"icm-dead", "icm", "icm_feed", "feed"}, {"icm-dead", "icm", "icm_gnd", "ground"},
		{"icm-dead", "icm", "icm_cmd", "input"},
		{"ckp-dead", "ckp", "ckp_feed", "feed"}, {"ckp-dead", "ckp", "ckp_gnd", "ground"},
		{"pcm-mute", "pcm", "pcm_feed", "feed"}, {"pcm-mute", "pcm", "pcm_gnd", "ground"},
	} {
		fault, err := p.Fault(c.fault)
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(m.Rows, func(r vehicle.Row) bool { return r.Fault == fault })
		changed := map[string]bool{}
		for _, ohms := range []string{`"open"`, "3"} {
			q, bands := read(c.fault, c.part, c.node, ohms)
			for k, test := range q.Tests {
				if !strings.Contains(test.ID, ".cut.") {
					continue
				}
				was, err := p.Test(strings.Replace(test.ID, ".cut.", "."+c.node+".", 1))
				if err != nil {
					t.Fatal(err)
				}
				if band := m.Rows[i].Bands[was]; bands[k] != band && p.Tests[was].Bands[band].Normal {
					changed[p.Tests[was].ID] = true
				}
			}
		}
		k := slices.IndexFunc(all[i], func(k Check) bool {
			return k.What == c.what &&
				p.Nodes[max(k.Point, 0)].ID == c.node
		})
		var got, want []string
		for _, test := range all[i][k].Tests {
			got = append(got, p.Tests[test].ID)
		}
		for id := range changed {
			want = append(want, id)
		}
		slices.Sort(got)
		slices.Sort(want)
		if len(want) == 0 || !slices.Equal(got, want) {
			t.Errorf("%s, %s of %s: %v, drawn %v", c.fault, c.what, c.part, got, want)
		}
	}
}

func replaceOnce(t *testing.T, s, old, by string) string {
	t.Helper()
	if !strings.Contains(s, old) {
		t.Fatalf("no %q", old)
	}
	return strings.Replace(s, old, by, 1)
}
