package grading_test

import (
	"strings"
	"testing"

	"nospark/grading"
)

// Numbers that TOML allows and no correction does are refused with their line, one by one.
func TestAdjustAbsurdNumbers(t *testing.T) {
	for _, text := range []string{
		"[[mark]]\nvalue = %\nstudent = \"1\"\nreason = \"x\"\n",
		"[[drop]]\nline = %\nsheet = \"K7-PTX\"\nreason = \"x\"\n",
		"[[correct]]\nstep = %\nstudent = \"1\"\nto = \"214KQ+\"\nreason = \"x\"\n",
	} {
		if _, err := grading.ReadAdjust("adjust.toml", []byte(strings.Replace(text, "%", "100", 1))); err != nil {
			t.Errorf("the entry is refused as it should stand: %v", err)
		}
		for _, bad := range []string{"nan", "-nan", "inf", "-inf", "1e308", "-1e308", "-1", "-9223372036854775808",
			"1e20"} {
			a, err := grading.ReadAdjust("adjust.toml", []byte(strings.Replace(text, "%", bad, 1)))
			if err == nil || !strings.Contains(err.Error(), "adjust.toml:2: ") ||
				len(a.Mark)+len(a.Drop)+len(a.Correct) > 0 {
				t.Errorf("%q with %s: %v", text, bad, err)
			}
		}
	}
}
