package roster

import (
	"maps"
	"testing"
)

func TestLostZeros(t *testing.T) {
	check := func(ids, known []string, want map[string]string) {
		t.Helper()
		if got := LostZeros(ids, known); !maps.Equal(got, want) {
			t.Errorf("%q of %q: got %v, want %v", ids, known, got, want)
		}
	}
	known := []string{"0042", "00123", "7001", "A5"}
	check([]string{"42", "123", "7001", "A5"}, known, map[string]string{"42": "0042", "123": "00123"})
	check([]string{"42", "9009"}, known, map[string]string{"42": "0042"}) // somebody new stays new
	// the file has kept its zeros, so 42 is somebody else
	check([]string{"42", "00123"}, known, nil)
	check([]string{"42"}, []string{"0042", "042"}, nil) // could be either
	check([]string{"42"}, []string{"0042", "42"}, nil)
	check([]string{"0"}, known, nil)
}
