package vehicle

import (
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"nospark/scenarios/testrun"
)

// Circuits written by hand from the diagrams and the cards of the parts, not exported: what ngspice finds in them is
// what the meters of the packs read, with everything sound and with faults, steady within 0.5 %, at a switching coil
// within 3 %.
func TestHandwrittenCircuits(t *testing.T) {
	testrun.Program(t, "ngspice")
	files, err := filepath.Glob("testdata/*.cir")
	if err != nil || len(files) == 0 {
		t.Fatalf("no circuits: %v", err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command("ngspice", "-b", "-n", file).CombinedOutput()
		if err != nil {
			t.Fatalf("%s: %v\n%.1000s", file, err, out)
		}
		values := map[string]float64{}
		for line := range strings.Lines(string(out)) {
			if name, x, ok := strings.Cut(line, "="); ok {
				if fields := strings.Fields(x); len(fields) > 0 {
					if number, err := strconv.ParseFloat(fields[0], 64); err == nil {
						values[strings.TrimSpace(name)] = number
					}
				}
			}
		}
		healthy, checks := loaded(t, strings.TrimSuffix(filepath.Base(file), ".cir")), 0
		for line := range strings.Lines(string(text)) {
			pair, is := strings.CutPrefix(line, "*@ ")
			if !is {
				continue
			}
			f := strings.Fields(pair)
			within, b := 0.005, healthy
			if f[len(f)-1] == "~" {
				within, f = 0.03, f[:len(f)-1]
			}
			if len(f) > 2 {
				b = healthy.with(f[2], 0.5)
			}
			want, ok := values[f[0]]
			if !ok {
				t.Errorf("%s: ngspice prints no %s", file, f[0])
				continue
			}
			checks++
			// the last digit of the finest range of a meter is a millivolt
			if got := b.read(f[1]).Number; math.Abs(got-want) > math.Max(within*math.Abs(want), 1.5e-3) {
				t.Errorf("%s: %s reads %g, by hand %g", file, strings.Join(f[1:], " "), got, want)
			}
		}
		if checks < 25 {
			t.Errorf("%s: only %d readings", file, checks)
		}
	}
}
