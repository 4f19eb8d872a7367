package term

import (
	"regexp"
	"strings"
	"testing"
)

// absurd are the numbers that TOML allows and no key of ours does.
var absurd = []string{"nan", "-nan", "inf", "-inf", "1e308", "-1e308", "9223372036854775807", "-9223372036854775808",
	"0x7fffffffffffffff"}

// Every number of a plan and of a term is put out of all bounds, one after the other: each is refused with its file and
// line, and never becomes a plan or a term.
func TestAbsurdNumbers(t *testing.T) {
	number := regexp.MustCompile(`-?\d+(\.\d+)?`)
	line := regexp.MustCompile(`^([a-z_]+) = (-?\d[\d.]*|\[[^"]*\])$`)
	check := func(file, text string, least int, parse func(text string) error) {
		t.Helper()
		if err := parse(text); err != nil {
			t.Fatal(err)
		}
		all := strings.Split(text, "\n")
		places := 0
		for i := range all {
			if !line.MatchString(all[i]) || strings.Contains(all[i], "date") {
				continue
			}
			for _, at := range number.FindAllStringIndex(all[i], -1) {
				places++
				for _, bad := range absurd {
					changed := append([]string{}, all...)
					changed[i] = all[i][:at[0]] + bad + all[i][at[1]:]
					err := parse(strings.Join(changed, "\n"))
					if err == nil || !strings.HasPrefix(err.Error(), file+":") {
						t.Errorf("%s: error %v", changed[i], err)
					}
				}
			}
		}
		if places < least {
			t.Errorf("%s has %d numbers only", file, places)
		}
	}
	check("term.toml", goodTerm+"\n", 8, func(text string) error {
		_, err := Parse("term.toml", text)
		return err
	})
	plan := goodHead + "rows = 12\nspares = 2\ndifficulty = [2, 9.5]\n[rubric]\nevidence = 15\ndiagnosis = " +
		"40\nefficiency = 30\ninterpretation = 15\n"
	check("p.toml", plan, 8, func(text string) error {
		_, err := ParsePlan("p.toml", text)
		return err
	})
}

// Names that become names of files and folders lead nowhere else, whatever the system.
func TestPathTricks(t *testing.T) {
	for _, name := range []string{"..", ".", "../x", `..\x`, "/etc/x", "a/../../x", "x/y", "C:x", "~", "~root/x", "con",
		"NUL.txt", "a\\u0000b", "a\\nb", ".hidden",
		"-rf", "a.", "a\\u202eb", "a\\u2028b", "x:y", "*", "?", "a|b", "<a>", "$(x)/y", strings.Repeat("a", 300)} {
		_, err := ParsePlan("p.toml", goodHead+"name = \""+strings.ReplaceAll(name, `\x`, `\\x`)+"\"\n")
		if name == "~" { // a plain character, to every program but a shell
			continue
		}
		if err == nil || !strings.HasPrefix(err.Error(), "p.toml:4: ") {
			t.Errorf("a lab named %q: %v", name, err)
		}
	}
}
