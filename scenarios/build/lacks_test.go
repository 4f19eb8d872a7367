package build

import (
	"testing"

	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
)

// What a pack's vehicle does not have, by its diagram: the horn and the lamp have a battery and a load, all others an
// engine with an ignition.
func TestLacksOfEveryPack(t *testing.T) {
	bare := lab.Lacks{Secondary: true, Engine: true}
	for name, want := range map[string]lab.Lacks{"lamp": bare, "horn": bare, "single-coil": {}, "double-ended": {},
		"reluctor": {}, "coil-per-plug": {}} {
		p, err := pack.Load(name)
		if err != nil {
			t.Fatal(err)
		}
		if got := lacks(p); got != want {
			t.Errorf("%s lacks %+v, want %+v", name, got, want)
		}
	}
}
