package spelling

import (
	"slices"
	"strings"
	"testing"
)

func TestNearest(t *testing.T) {
	known := []string{"idle", "key-on", "cranking", "", "crankcase"}
	check := func(name, want string) {
		t.Helper()
		if got := Nearest(name, known); got != want {
			t.Errorf("%q: nearest is %q, want %q", name, got, want)
		}
	}
	check("idel", "idle") // a swap is one slip
	check("IDLE", "idle")
	check("keyon", "key-on")
	check("crankin", "cranking")
	check("loaded", "")
	check("i", "") // one letter is no part of a name
	check("", "")
	check(strings.Repeat("idle", 1000), "")
}

// A swap of neighbors counts once; "ca" to "abc" needs 3 without changing a part twice, as the textbook example of
// optimal string alignment has it (from memory).
func TestDistance(t *testing.T) {
	check := func(a, b string, want int) {
		t.Helper()
		if got := distance(a, b); got != want {
			t.Errorf("%q to %q: %d, want %d", a, b, got, want)
		}
	}
	check("", "", 0)
	check("", "abc", 3)
	check("ab", "ba", 1)
	check("ca", "abc", 3)
	check("kitten", "sitting", 3)
}

func TestSuggest(t *testing.T) {
	check := func(name string, known []string, want string) {
		t.Helper()
		if got := Suggest(name, known); got != want {
			t.Errorf("%q: %q, want %q", name, got, want)
		}
	}
	check("idel", []string{"idle"}, `did you mean "idle"?`)
	check("x", nil, "there is none")
	check("x", []string{"idle", "", "idle", "on"}, "known: idle, on")
	check("zzz", strings.Split("abcdefghijklmn", ""), "known: a, b, c, d, e, f, g, h, i, j, k, l and 2 more")
	if got := Ask("idel", []string{"idle"}); got != `; did you mean "idle"?` {
		t.Errorf("asks %q", got)
	}
	if got := Ask("zzz", []string{"idle"}); got != "" {
		t.Errorf("asks %q about nothing near", got)
	}
}

// A name that would break the line of a message is quoted in it.
func TestEnumerate(t *testing.T) {
	for want, names := range map[string][]string{
		"":                     nil,
		"on, off":              {"on", "off"},
		`on, "o\nff"`:          {"on", "o\nff"},
		`é, "\x00", "\u202ea"`: {"é", "\x00", "\u202ea"},
		"a, a, a, a, a, a, a, a, a, a, a, a and 2 more": slices.Repeat([]string{"a"}, 14),
	} {
		if got := Enumerate(names); got != want {
			t.Errorf("%q: %s, want %s", names, got, want)
		}
	}
}
