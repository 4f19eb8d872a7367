package practicefile

import (
	"bytes"
	"encoding/ascii85"
	"math/rand/v2"
	"strings"
	"testing"
)

// TestBase85: the library of Go reads the same numbers; its digits are other characters, from ! on, and it writes four
// zeros as z.
func TestBase85(t *testing.T) {
	digits := digits()
	if len(digits) != 85 || strings.ContainsAny(digits, "&'<>\\`\"") {
		t.Fatalf("%d digits: %s", len(digits), digits)
	}
	random := rand.New(rand.NewPCG(8, 5))
	for n := range 300 {
		data := make([]byte, n)
		for i := range data {
			data[i] = byte(random.Uint32())
		}
		if n%7 == 0 {
			copy(data, make([]byte, 8))
		}
		other := strings.Map(func(r rune) rune { return '!' + rune(strings.IndexRune(digits, r)) }, base85(data))
		back := make([]byte, len(other)*4+4)
		got, _, err := ascii85.Decode(back, []byte(other), true)
		if err != nil || !bytes.Equal(back[:got], data) {
			t.Fatalf("%d bytes came back as %d, %v", n, got, err)
		}
	}
}
