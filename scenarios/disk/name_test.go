//go:build unix

package disk

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"
)

func TestCheckName(t *testing.T) {
	good := func(name string) {
		t.Helper()
		if err := CheckName(name); err != nil {
			t.Errorf("%q: %v", name, err)
		}
	}
	bad := func(name, reason string) {
		t.Helper()
		if err := CheckName(name); err == nil || !strings.Contains(err.Error(), reason) {
			t.Errorf("%q: got %v, want an error with %q", name, err, reason)
		}
	}
	good("week05")
	good("A1001")
	good("2024.113_b-2")
	good("auto 101")
	good("\u00c5se")
	good("console")
	good("com10")
	good("a..b")
	good(strings.Repeat("x", MaxName))

	bad("", "empty")
	bad(".", "begins with '.'")
	bad("..", "begins with '.'")
	bad(".hidden", "begins with '.'")
	bad("../term.key", `'/'`)
	bad("/etc/passwd", `'/'`)
	bad(`..\term.key`, `'\\'`)
	bad("c:x", `':'`)
	bad("a*", `'*'`)
	bad("a%2fb", `'%'`)
	bad("-rf", "begins with '-'")
	bad(" x", "space")
	bad("x ", "space")
	bad("x.", "ends with '.'")
	bad("x\x00", "U+0000")
	bad("x\ny", "U+000A")
	bad("x\x7fy", "U+007F")
	bad("x\u0085y", "U+0085")
	bad("x\u00a0y", "U+00A0")    // no-break space
	bad("gpj.\u202ey", "U+202E") // right-to-left override
	bad("A1\u200b001", "U+200B") // zero-width space
	bad("A1\ufeff001", "U+FEFF") // byte order mark
	bad("x\xffy", "UTF-8")       // Latin-1
	bad("x\ufffdy", "U+FFFD")    // a character that was lost before
	bad("con", "device")
	bad("NUL.txt", "device")
	bad("Com1", "device")
	bad("lpt\u00b2", "device")
	bad("aux .x", "device")
	bad(strings.Repeat("x", MaxName+1), "81 bytes")
}

func TestEscapeName(t *testing.T) {
	check := func(text, want string) {
		t.Helper()
		if got := EscapeName(text); got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
	check("MW 8:00", "MW 8%3A00")
	check("A", "A")
	check("", "%")
	check("%", "%25")
	check("..", "%2E%2E")
	check("a.b", "a.b")
	check("-1-", "%2D1-")
	check("con", "%63on")
	check("a\xff\u200bb", "a%FF%E2%80%8Bb")
	check(" x ", "%20x%20")
	check("ü/x", "ü%2Fx")
}

// Whatever CheckName lets pass, and whatever EscapeName makes, is a file of
// that name in the folder it is joined to and nothing else.
func FuzzNames(f *testing.F) {
	for _, s := range []string{"week05", "", "..", "../x", "con.txt", "MW 8:00", "%41", "a\xffb", "\u202e", "x.", " "} {
		f.Add(s, "A")
	}
	f.Fuzz(func(t *testing.T, a, b string) {
		if CheckName(a) == nil && EscapeName(a) != a {
			t.Errorf("a good name %q is escaped to %q", a, EscapeName(a))
		}
		if a != b && EscapeName(a) == EscapeName(b) {
			t.Errorf("%q and %q both become %q", a, b, EscapeName(a))
		}
		name := EscapeName(a)
		if !utf8.ValidString(name) || len(name) > 200 {
			if len(name) <= 200 {
				t.Errorf("%q becomes invalid %q", a, name)
			}
			return
		}
		dir := t.TempDir()
		if filepath.Dir(filepath.Join(dir, name)) != dir || filepath.Base(name) != name {
			t.Fatalf("%q becomes %q, which leads elsewhere", a, name)
		}
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o644); err != nil {
			t.Fatal(err)
		}
		wantFiles(t, dir, name)
	})
}

func TestShowName(t *testing.T) {
	check := func(name, want string) {
		t.Helper()
		if got := ShowName(name); got != want {
			t.Errorf("%q is shown as %q, want %q", name, got, want)
		}
	}
	check("week 05 (2).csv", "week 05 (2).csv")
	check("Zo\u00eb\u00a0\u4e2d.csv", "Zo\u00eb\u00a0\u4e2d.csv")
	check("a\x1b[2J\nb\u202egnp.csv", `a\u001b[2J\u000ab\u202egnp.csv`)
	check("\xff\U000e0001", `\ufffd\U000e0001`)
}
