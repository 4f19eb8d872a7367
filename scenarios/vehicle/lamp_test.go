package vehicle

import (
	"testing"

	"nospark/scenarios/pack"
)

// What a glance is sure of is what the vehicle settled anew with the lamp shows: every lamp test of every built-in pack
// with every fault.
func TestGlanceAgreesWithSettling(t *testing.T) {
	glances, lamps := 0, 0
	for _, name := range pack.Builtin() {
		b := loaded(t, name)
		for _, f := range b.p.Faults {
			for _, severity := range severities(f) {
				v := Healthy(b.p)
				v.Apply(f, severity)
				for i := range b.p.Tests {
					test := &b.p.Tests[i]
					if v.lamp(test).ohms == 0 || !v.reaches(test.Condition) {
						continue
					}
					lamps++
					phrase, sure := v.glance(test)
					if !sure {
						continue
					}
					glances++
					st := v.state(test)
					if want := brightness(lit(st)); phrase != want {
						t.Errorf("%s %s at %g, %s: a glance says %q, settled anew it is %q (%g V)", name, f.ID, severity, test.ID, phrase,
							want, lit(st))
					}
					v.done(st)
				}
			}
		}
	}
	t.Logf("%d of %d lamps judged at a glance", glances, lamps)
	if glances < lamps/2 {
		t.Errorf("only %d of %d lamps judged at a glance", glances, lamps)
	}
}
