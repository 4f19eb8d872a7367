package handouts

import (
	"strings"
	"unicode"

	"nospark/scenarios/handout"
)

// abbreviation is a short word of the trade with what it stands for.
type abbreviation struct{ short, long string }

// abbreviations are explained on the booklet where a lab uses them. Terms of SAE J1930 (ISO 15031-2); TDC,
// OL, dc and ac: common practice, no source.
var abbreviations = []abbreviation{
	{"PCM", "powertrain control module"},
	{"ICM", "ignition control module"},
	{"CKP", "crankshaft position sensor"},
	{"CMP", "camshaft position sensor"},
	{"ECT", "engine coolant temperature sensor"},
	{"IAT", "intake air temperature sensor"},
	{"MAP", "manifold absolute pressure sensor"},
	{"TP", "throttle position sensor"},
	{"KS", "knock sensor"},
	{"TDC", "top dead center"},
	{"OL", "over limit"},
	{"1/min", "revolutions per minute"},
}

// explained lists the short words that stand anywhere on the handouts of a lab, "" when there are none.
func explained(ref handout.Reference) string {
	used := map[string]bool{}
	note := func(texts ...string) {
		for _, text := range texts {
			for _, word := range strings.FieldsFunc(text,
				func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '/' }) {
				used[word] = true
			}
		}
	}
	for _, f := range ref.Vehicle {
		note(f.Value)
	}
	for _, p := range ref.Points {
		note(p.Label)
	}
	for _, p := range ref.Diagram.Parts {
		note(p.Label)
	}
	for _, s := range ref.Specs {
		note(s.Where, s.When, s.Good)
	}
	for _, m := range ref.Meters {
		note(m.Note)
	}
	for _, r := range ref.Repairs {
		note(r.Label)
	}
	var list []string
	for _, a := range abbreviations {
		if used[a.short] {
			list = append(list, a.short+" "+a.long)
		}
	}
	if len(list) == 0 {
		return ""
	}
	return "**Words:** " + strings.Join(list, "; ") + "."
}
