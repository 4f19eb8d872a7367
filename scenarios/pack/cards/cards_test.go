package cards_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
)

// Every card can be used as it stands: its defaults lie in their ranges, and a pack that gives only what is
// required is read.
func TestCards(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range cards.Kinds {
		if seen[k.Name] {
			t.Errorf("kind %s has two cards", k.Name)
		}
		seen[k.Name] = true
		if k.Main < -1 || k.Main >= len(k.Params) || len(k.Pins) < 2 || k.Equation == "" || k.Source == "" {
			t.Errorf("kind %s: main %d, pins %v, equation %q, source %q", k.Name, k.Main, k.Pins, k.Equation, k.Source)
		}
		if k.Family != "" && cards.KindByName(k.Family) == nil {
			t.Errorf("kind %s is of no known family: %q", k.Name, k.Family)
		}
		names := map[string]bool{}
		for _, p := range k.Params {
			if names[p.Name] {
				t.Errorf("kind %s has %s twice", k.Name, p.Name)
			}
			names[p.Name] = true
			in := p.Default >= p.Min && p.Default <= p.Max
			if !in && !math.IsNaN(p.Default) && !(p.Open && math.IsInf(p.Default, 1)) {
				t.Errorf("kind %s: the default %g of %s is outside %g to %g", k.Name, p.Default, p.Name, p.Min, p.Max)
			}
		}
		if _, err := pack.Parse("card.toml", []byte(alone(&k))); err != nil {
			t.Errorf("kind %s: %v", k.Name, err)
		}
	}
}

// alone writes a pack with one part of the kind between a battery and a resistor on every pin, so that every point
// is touched.
func alone(k *cards.Kind) string {
	var b strings.Builder
	b.WriteString("name = \"card\"\ntitle = \"Card\"\nversion = 1\nreference = \"p0\"\n")
	pins := make([]string, len(k.Pins))
	for i := range k.Pins {
		pins[i] = fmt.Sprintf("%q", fmt.Sprint("p", i))
		fmt.Fprintf(&b, "[[point]]\nid = %s\n", pins[i])
	}
	b.WriteString("[[condition]]\nid = \"on\"\nkey = \"run\"\n")
	b.WriteString("[[part]]\nid = \"source\"\nkind = \"battery\"\npins = [\"p1\", \"p0\"]\nresistance_ohms = 0.1\n")
	fmt.Fprintf(&b, "[[part]]\nid = \"it\"\nkind = %q\npins = [%s]\n", k.Name, strings.Join(pins, ", "))
	for _, p := range k.Params {
		if p.Required || math.IsNaN(p.Default) && p.Name == "resistance_ohms" {
			fmt.Fprintf(&b, "%s = %g\n", p.Name, p.Max)
		}
	}
	b.WriteString("[[complaint]]\nid = \"c\"\nlabel = \"c\"\nwhen = { any_abnormal = true }\n")
	b.WriteString("[[test]]\nid = \"t\"\nlabel = \"t\"\ninstrument = \"voltmeter\"\nred = \"p1\"\nblack = \"p0\"\n")
	b.WriteString("condition = \"on\"\nminutes = 1\n")
	b.WriteString("bands = [{ name = \"low\", below = 12 }, { name = \"good\" }]\nnormal = [\"good\"]\n")
	b.WriteString("[[fault]]\nid = \"f\"\nlabel = \"f\"\nset = [{ part = \"source\", resistance_ohms = 5 }]\n")
	b.WriteString("weight = 1\nrepair = \"r\"\n")
	b.WriteString("[[repair]]\nid = \"r\"\nlabel = \"r\"\nminutes = 1\n")
	return b.String()
}

func TestInstruments(t *testing.T) {
	seen := map[string]bool{}
	for _, in := range cards.Instruments {
		if seen[in.ID] {
			t.Errorf("instrument %s stands twice", in.ID)
		}
		seen[in.ID] = true
		if (in.Phrases == nil) == (in.Ranges == nil) {
			t.Errorf("instrument %s shows either phrases or numbers", in.ID)
		}
		if in.Phrases == nil && (in.Unit == "" || in.SI == "" || in.Scale <= 0) {
			t.Errorf("instrument %s: unit %q, SI %q, scale %g", in.ID, in.Unit, in.SI, in.Scale)
		}
		for i := 1; i < len(in.Ranges); i++ {
			if in.Ranges[i].Full <= in.Ranges[i-1].Full {
				t.Errorf("instrument %s: ranges do not ascend", in.ID)
			}
		}
	}
}
