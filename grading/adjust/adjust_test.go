package adjust_test

import (
	"strings"
	"testing"

	"nospark/grading/adjust"
)

func TestReadErrors(t *testing.T) {
	check := func(text, want string) {
		t.Helper()
		if _, err := adjust.Read("adjust.toml", []byte(text)); err == nil || err.Error() != want {
			t.Errorf("%s\n got: %v\nwant: %s", text, err, want)
		}
	}
	check("[[mark]]\nstudent = \"1\"\nvalue = 101\n",
		"adjust.toml:1: mark: key \"reason\" is missing\nadjust.toml:3: mark: value = 101 is outside 0 to 100")
	check("[[mark]]\nstudent = \"1\"\nreason = \"x\"\n", "adjust.toml:1: mark: key \"value\" is missing")
	check("[[mark]]\nstudent = \"1\"\nvalue = \"75\"\nreason = \" \"\n",
		"adjust.toml:3: mark: value = \"75\" is not a number; write 0 to 100, without quotes\nadjust.toml:4: mark: "+
			"reason = \" \" is empty")
	check("\n[[excuse]]\nstudnet = \"1\"\nreason = \"x\"\n",
		"adjust.toml:2: excuse: key \"student\" is missing\nadjust.toml:3: excuse: unknown key \"studnet\"; did you "+
			"mean \"student\"?")
	check("[[excuses]]\nstudent = \"1\"\n", "adjust.toml:1: unknown key \"excuses\"; did you mean \"excuse\"?")
	check("[[pardon]]\nstudent = \"1\"\n",
		"adjust.toml:1: unknown key \"pardon\"; known: accept, drop, waive, excuse, mark, confirm, correct, trust, "+
			"choose, worked, misread, late")
	check("[mark]\nstudent = \"1\"\n", "adjust.toml:1: [mark] is one table, not one of several; write [[mark]] with "+
		"two brackets")
	check("[[excuse]]\nstudent = 0042\nreason = \"x\"\n",
		"adjust.toml:2: student = 0042: a number cannot begin with 0; write it in quotes: \"0042\"")
	check("[[excuse]]\nstudent = true\nreason = \"x\"\n", "adjust.toml:2: excuse: student = true is not a text; "+
		"write it in quotes")
	check("[[excuse]]\nstudent = \"1\"\nreason = '''ill\nagain'''\n",
		"adjust.toml:3: excuse: reason = \"ill\\nagain\" contains a character that does not print; write it on one line")
	check("[[accept]]\nrepair = \"1\"\nstudent = \"\"\nreason = \"x\"\n",
		"adjust.toml:3: accept: student = \"\" is empty")
	check("[[drop]]\nline = 214\nreason = \"x\"\n",
		"adjust.toml:2: drop: line 214 is another test on every sheet; name the sheet or the student, or drop a test")
	check("[[drop]]\nreason = \"x\"\n", "adjust.toml:1: drop: want either line or test")
	check("[[drop]]\nline = 21.5\nsheet = \"a\"\nreason = \"x\"\n",
		"adjust.toml:2: drop: line = 21.5 is not a whole number from 1 to 999")
	check("[[accept]]\nrepair = \"1\"\nstudent = \"1\"\nsheet = \"a\"\nreason = \"x\"\n",
		"adjust.toml:4: accept: student and sheet are given at once; keep one of them")
	check("[[mark]\n", "adjust.toml:1: `[[mark]` is no heading; write [name] or [[name]] on a line of its own")
}

// Whatever the text, reading it ends with entries or with an error, never both, and every entry has a reason.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{
		"[[mark]]\nstudent = \"1\"\nvalue = 10\nreason = \"x\"\n",
		"[[drop]]\nline = 214\nsheet = \"a\"\nreason = '''x\ny'''\n", "[[mark]\n",
		"accept = 1\n", "[[correct]]\nstep = 1e99\n", "excuse = [{student = \"1\", reason = \"x\"}]\n",
		"[[\"mark\"]]\n",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		a, err := adjust.Read("adjust.toml", text)
		if err != nil {
			if len(a.Accept)+len(a.Drop)+len(a.Excuse)+len(a.Mark)+len(a.Confirm)+len(a.Correct) > 0 {
				t.Fatalf("entries beside the error %v", err)
			}
			return
		}
		for _, m := range a.Mark {
			if m.Reason == "" || m.Student == "" || !(m.Value >= 0 && m.Value <= 100) {
				t.Fatalf("entry %+v", m)
			}
		}
	})
}

// Numbers that TOML allows and no correction does are refused with their line, one by one.
func TestAdjustAbsurdNumbers(t *testing.T) {
	for _, text := range []string{
		"[[mark]]\nvalue = %\nstudent = \"1\"\nreason = \"x\"\n",
		"[[drop]]\nline = %\nsheet = \"K7-PTX\"\nreason = \"x\"\n",
		"[[correct]]\nstep = %\nstudent = \"1\"\nto = \"214KQ+\"\nreason = \"x\"\n",
	} {
		if _, err := adjust.Read("adjust.toml", []byte(strings.Replace(text, "%", "100", 1))); err != nil {
			t.Errorf("the entry is refused as it should stand: %v", err)
		}
		for _, bad := range []string{"nan", "-nan", "inf", "-inf", "1e308", "-1e308", "-1", "-9223372036854775808",
			"1e20"} {
			a, err := adjust.Read("adjust.toml", []byte(strings.Replace(text, "%", bad, 1)))
			if err == nil || !strings.Contains(err.Error(), "adjust.toml:2: ") ||
				len(a.Mark)+len(a.Drop)+len(a.Correct) > 0 {
				t.Errorf("%q with %s: %v", text, bad, err)
			}
		}
	}
}
