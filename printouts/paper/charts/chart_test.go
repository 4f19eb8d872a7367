package charts

import "testing"

func TestLetters(t *testing.T) {
	for n, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 27: "AB", 51: "AZ", 52: "BA", 701: "ZZ",
		702: "AAA"} {
		if got := letters(n); got != want {
			t.Errorf("connector %d is %s, want %s", n, got, want)
		}
	}
}
