package pack

import (
	"fmt"
	"maps"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// judged is one row of the specifications of the built-in packs: what is read where, and the edges of its bands.
type judged struct{ what, bands string }

var anyNumber = regexp.MustCompile(`\d`)

// specifications gives every row with the packs that have it. Cylinders and coils share a row where they share the
// edges.
func specifications(t *testing.T) map[judged][]string {
	t.Helper()
	rows := map[judged][]string{}
	for _, name := range Builtin() {
		p, err := Load(name)
		if err != nil {
			t.Fatal(err)
		}
		for i := range p.Tests {
			test := &p.Tests[i]
			what := anyNumber.ReplaceAllString(test.ID, "N")
			if test.Sweep >= 0 {
				node := p.Nodes[test.Point(p)]
				what = fmt.Sprintf("%s.%s.%s", p.Sweeps[test.Sweep].ID, node.Role, p.Conditions[test.Condition].ID)
			}
			r := judged{what, edges(p, test)}
			if !slices.Contains(rows[r], name) {
				rows[r] = append(rows[r], name)
			}
		}
	}
	return rows
}

// edges writes the bands of a test; normal ones in capitals, lamps and other phrases by what is normal.
func edges(p *Pack, test *Test) string {
	var list []string
	for _, b := range test.Bands {
		name := b.Name
		if b.Normal {
			name = strings.ToUpper(name)
		}
		switch {
		case b.Silent || test.Instrument.Phrases != nil && !b.Normal:
			continue
		case test.Instrument.Phrases == nil && !math.IsInf(b.Below, 1):
			name += "<" + strconv.FormatFloat(b.Below, 'g', -1, 64)
		}
		list = append(list, name)
	}
	if test.Compare >= 0 {
		list = append(list, "(less than at "+p.Nodes[p.Tests[test.Compare].Point(p)].ID+")")
	}
	return strings.Join(list, " ")
}

// Every edge of every specification stands in testdata/specifications.txt beside its source, and nothing else does. The
// file is written by hand: whoever moves an edge says there where the new one comes from.
func TestEveryEdgeHasItsSource(t *testing.T) {
	text, err := os.ReadFile("testdata/specifications.txt")
	if err != nil {
		t.Fatal(err)
	}
	rows, listed := specifications(t), map[judged]bool{}
	for n, line := range strings.Split(strings.TrimSpace(string(text)), "\n") {
		if strings.HasPrefix(line, "#") || line == "" {
			continue
		}
		f := strings.Split(line, " | ")
		if len(f) != 4 || strings.TrimSpace(f[3]) == "" {
			t.Errorf("line %d: want what | edges | packs | source: %s", n+1, line)
			continue
		}
		r := judged{f[0], f[1]}
		if listed[r] {
			t.Errorf("line %d: %s stands there twice", n+1, f[0])
		}
		listed[r] = true
		if got := strings.Join(rows[r], ", "); got != f[2] {
			t.Errorf("line %d: %s %s: packs %q, the file says %q", n+1, f[0], f[1], got, f[2])
		}
	}
	for r := range maps.Keys(rows) {
		if !listed[r] {
			t.Errorf("no source: %s | %s | %s |", r.what, r.bands, strings.Join(rows[r], ", "))
		}
	}
}
