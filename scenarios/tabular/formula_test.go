package tabular

import (
	"strings"
	"testing"
)

// The beginnings are those that OWASP's page "CSV Injection" lists.
func TestNeutralize(t *testing.T) {
	check := func(text, want string) {
		t.Helper()
		if got := Neutralize(text); got != want {
			t.Errorf("Neutralize(%q) = %q, want %q", text, got, want)
		}
		if got := Original(want); got != text {
			t.Errorf("Original(%q) = %q, want %q", want, got, text)
		}
	}
	check("=1+1", "'=1+1")
	check("+1", "'+1")
	check("-1", "'-1")
	check("@SUM(A1)", "'@SUM(A1)")
	check("\tx", "'\tx")
	check("\rx", "'\rx")
	check("\nx", "'\nx")
	check("  =1", "'  =1")
	check("\u00a0=1", "'\u00a0=1")
	check("\uff1d1", "'\uff1d1")
	check("'=1", "''=1")
	check("''=1", "'''=1")
	check("' =1", "'' =1")
	check("'\tx", "''\tx")
	check("=", "'=")

	check("", "")
	check("'", "'")
	check("Ann Example", "Ann Example")
	check("Ann-Marie =x", "Ann-Marie =x")
	check("'t Aart", "'t Aart")
	check("  Ann", "  Ann")
	check("A\tx", "A\tx")
}

func FuzzNeutralize(f *testing.F) {
	for _, text := range []string{"=1", " '-", "''", "\t", "'\n", "\uff20", "a=b", "\xff="} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		safe := Neutralize(text)
		if Original(safe) != text {
			t.Errorf("%q becomes %q becomes %q", text, safe, Original(safe))
		}
		if first := strings.TrimSpace(safe); first != "" && strings.Contains("=+-@", first[:1]) {
			t.Errorf("%q becomes %q, which still looks like a formula", text, safe)
		}
	})
}
