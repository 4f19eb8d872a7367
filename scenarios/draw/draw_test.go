package draw

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math"
	"slices"
	"strings"
	"testing"
)

// hmacByHand is RFC 2104 written out: H((K xor opad) || H((K xor ipad) || m)).
// It is the oracle for the stream and shares no code with crypto/hmac.
func hmacByHand(key, message []byte) []byte {
	if len(key) > sha256.BlockSize {
		sum := sha256.Sum256(key)
		key = sum[:]
	}
	inner := bytes.Repeat([]byte{0x36}, sha256.BlockSize)
	outer := bytes.Repeat([]byte{0x5c}, sha256.BlockSize)
	for i, b := range key {
		inner[i] ^= b
		outer[i] ^= b
	}
	sum := sha256.Sum256(append(inner, message...))
	sum = sha256.Sum256(append(outer, sum[:]...))
	return sum[:]
}

// RFC 4231, sections 4.2, 4.3 and 4.7 (test cases 1, 2 and 6).
func TestOracleAgainstRFC4231(t *testing.T) {
	check := func(name string, key []byte, message, want string) {
		t.Helper()
		if got := hex.EncodeToString(hmacByHand(key, []byte(message))); got != want {
			t.Errorf("%s: got %s, want %s", name, got, want)
		}
	}
	check("case 1", bytes.Repeat([]byte{0x0b}, 20), "Hi There",
		"b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7")
	check("case 2", []byte("Jefe"), "what do ya want for nothing?",
		"5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843")
	check("case 6, long key", bytes.Repeat([]byte{0xaa}, 131),
		"Test Using Larger Than Block-Size Key - Hash Key First",
		"60e431591ee0b67f0d8a26aacbf5b77f8e0bc6213728c5140546040f0ee37f54")
}

func testKey() []byte {
	key := make([]byte, 32)
	for i := range key {
		key[i] = byte(i)
	}
	return key
}

// take returns the next n 64-bit numbers as hexadecimal text.
func take(s *Stream, n int) string {
	var b []byte
	for range n {
		b = binary.BigEndian.AppendUint64(b, s.Uint64())
	}
	return hex.EncodeToString(b)
}

// The first block was computed with the openssl command:
//
//	printf '\0\0\0\0\0\0\0\016nospark draw 1\0\0\0\0\0\0\0\003lab\0\0\0\0\0\0\0\006week05\0\0\0\0\0\0\0\0' |
//	openssl dgst -sha256 -mac HMAC -macopt hexkey:000102...1f
//
// the others with Python's hmac module.
func TestKnownStreams(t *testing.T) {
	check := func(want string, labels ...string) {
		t.Helper()
		if got := take(New(testKey(), labels...), len(want)/16); got != want {
			t.Errorf("%q: got %s, want %s", labels, got, want)
		}
	}
	check("396b5c51720e36b32fac00d586664f18cd8d3950c822a68e444947e8ddc66c28"+
		"8dc955c313efbf54a3ec2d4e4e928e34541734d0d1dc606403c50a01df391e91", "lab", "week05")
	check("4b3f03c4849e82d7bc5dcb110950edd8238e6b6867e32a9a5f2dda0ce8228fb5")
}

func TestStreamEqualsHMACByHand(t *testing.T) {
	labels := []string{"lab", "", "semaine 5 \u00e9", strings.Repeat("x", 300)}
	for _, key := range [][]byte{{0}, testKey(), bytes.Repeat([]byte{7}, 100)} {
		var want []byte
		for counter := range uint64(5) {
			var m []byte
			for _, label := range append([]string{"nospark draw 1"}, labels...) {
				m = binary.BigEndian.AppendUint64(m, uint64(len(label)))
				m = append(m, label...)
			}
			want = append(want, hmacByHand(key, binary.BigEndian.AppendUint64(m, counter))...)
		}
		if got := take(New(key, labels...), 20); got != hex.EncodeToString(want) {
			t.Errorf("key of %d bytes: got %s, want %x", len(key), got, want)
		}
	}
}

func TestLabelsAreAList(t *testing.T) {
	lists := [][]string{
		{}, {""}, {"", ""}, {"a"}, {"a", ""}, {"", "a"}, {"abc"}, {"ab", "c"}, {"a", "bc"}, {"a", "b", "c"},
		{"a\x00"}, {"a\x00\x00\x00\x00\x00\x00\x00\x01b"}, {"a", "b"},
	}
	seen := map[string][]string{}
	for _, labels := range lists {
		first := take(New(testKey(), labels...), 4)
		if other, ok := seen[first]; ok {
			t.Errorf("%q and %q are the same stream", labels, other)
		}
		seen[first] = labels
	}
}

// A purpose added between two others, or one that draws more than before,
// leaves the others as they were.
func TestStreamsDoNotShiftEachOther(t *testing.T) {
	before := take(New(testKey(), "lab", "tolerance"), 9)
	other := New(testKey(), "lab", "order")
	mine := New(testKey(), "lab", "tolerance")
	var got string
	for i := range 9 {
		take(other, i)
		got += take(mine, 1)
	}
	if got != before {
		t.Errorf("got %s, want %s", got, before)
	}
}

func TestIntnIsUniform(t *testing.T) {
	// Chi-squared with n-1 degrees of freedom; the limits are the 99.9 % points
	// of NIST/SEMATECH e-Handbook table 1.3.6.7.4. The stream is fixed, so the
	// test gives the same result for ever.
	check := func(n int, limit float64) {
		t.Helper()
		const draws = 20000
		s := New(testKey(), "uniform")
		count := make([]int, n)
		for range draws {
			count[s.Intn(n)]++
		}
		chi, expected := 0.0, float64(draws)/float64(n)
		for _, c := range count {
			chi += (float64(c) - expected) * (float64(c) - expected) / expected
		}
		if chi > limit {
			t.Errorf("Intn(%d): chi-squared %.2f above %.2f: %v", n, chi, limit, count)
		}
	}
	check(2, 10.828)
	check(6, 20.515)
	check(20, 43.820)
	if got := New(testKey(), "x").Intn(1); got != 0 {
		t.Errorf("Intn(1) = %d", got)
	}
}

// A size just above a third of 2^64 makes every third draw invalid: plain
// "v mod n" would return the low numbers more often than the others.
func TestIntnThrowsIncompleteGroupAway(t *testing.T) {
	size := uint64(math.MaxUint64/3 + 2)
	incomplete := math.MaxUint64 - 2*size + 1 // 2^64 - 2 size
	s := New(testKey(), "big")
	raw := New(testKey(), "big")
	thrown := 0
	for range 300 {
		v := raw.Uint64()
		for v < incomplete {
			v = raw.Uint64()
			thrown++
		}
		if got := s.Intn(int(size)); uint64(got) != v%size {
			t.Fatalf("got %d, want %d", got, v%size)
		}
	}
	if thrown < 100 || thrown > 200 { // 150 expected
		t.Errorf("%d draws thrown away", thrown)
	}
}

func TestRanges(t *testing.T) {
	s := New(testKey(), "ranges")
	within := func(name string, v, lo, hi float64, closed bool) {
		t.Helper()
		if !(lo <= v && (v < hi || closed && v == hi)) {
			t.Errorf("%s: %v outside [%v, %v]", name, v, lo, hi)
		}
	}
	up := math.Nextafter(1, 2)
	for range 2000 {
		within("Float64", s.Float64(), 0, 1, false)
		within("Range", s.Range(-3, 5), -3, 5, false)
		within("Range of two neighbors", s.Range(1, up), 1, up, false)
		within("LogRange", s.LogRange(0.01, 100), 0.01, 100, true)
		within("LogRange of all numbers", s.LogRange(math.SmallestNonzeroFloat64, math.MaxFloat64),
			math.SmallestNonzeroFloat64, math.MaxFloat64, true)
		within("LogRange of two neighbors", s.LogRange(1, up), 1, up, true)
	}
	within("Range of one number", s.Range(2, 2), 2, 2, true)
	within("LogRange of one number", s.LogRange(2, 2), 2, 2, true)
}

// Means and spread of textbook distributions: uniform mean 1/2, log-uniform
// median sqrt(lo hi), standard normal mean 0, variance 1, and 95.45 % within
// two standard deviations. Bounds are five standard errors.
func TestDistributions(t *testing.T) {
	const n = 20000
	s := New(testKey(), "moments")
	var sum, below, normSum, normSquares, near float64
	for range n {
		sum += s.Float64()
		if s.LogRange(1, 100) < 10 {
			below++
		}
		x := s.Norm()
		normSum += x
		normSquares += x * x
		if math.Abs(x) < 2 {
			near++
		}
	}
	check := func(name string, got, want, deviation float64) {
		t.Helper()
		if math.Abs(got-want) > 5*deviation/math.Sqrt(n) {
			t.Errorf("%s: %.4f, want about %.4f", name, got, want)
		}
	}
	check("uniform mean", sum/n, 0.5, math.Sqrt(1.0/12))
	check("log-uniform below median", below/n, 0.5, 0.5)
	check("normal mean", normSum/n, 0, 1)
	check("normal variance", normSquares/n, 1, math.Sqrt2)
	check("normal within 2", near/n, 0.9545, math.Sqrt(0.9545*0.0455))
}

func TestShuffle(t *testing.T) {
	s := New(testKey(), "shuffle")
	const draws = 24000
	count := map[string]int{}
	for range draws {
		order := []byte("abcd")
		s.Shuffle(len(order), func(i, j int) { order[i], order[j] = order[j], order[i] })
		count[string(order)]++
		slices.Sort(order)
		if string(order) != "abcd" {
			t.Fatalf("not a permutation: %q", order)
		}
	}
	if len(count) != 24 {
		t.Fatalf("%d of 24 orders came up", len(count))
	}
	for order, c := range count { // expected 1000 each, standard deviation 31
		if c < 845 || c > 1155 {
			t.Errorf("order %s came up %d times of %d", order, c, draws)
		}
	}
	s.Shuffle(0, nil)
	s.Shuffle(1, nil)
}

func TestLetters(t *testing.T) {
	for _, forbidden := range "AEIOUY" {
		if strings.ContainsRune(Alphabet, forbidden) {
			t.Errorf("alphabet contains %c", forbidden)
		}
	}
	seen := map[rune]bool{}
	for _, r := range New(testKey(), "letters").Letters(2000) {
		if !strings.ContainsRune(Alphabet, r) {
			t.Fatalf("%q is not in the alphabet", r)
		}
		seen[r] = true
	}
	if len(seen) != AlphabetSize {
		t.Errorf("%d of %d letters came up", len(seen), AlphabetSize)
	}
	if got := New(testKey(), "x").Letters(0); got != "" {
		t.Errorf("Letters(0) = %q", got)
	}
}

func TestWrongUsePanics(t *testing.T) {
	check := func(name string, f func(s *Stream)) {
		t.Helper()
		defer func() {
			t.Helper()
			if recover() == nil {
				t.Errorf("%s: no panic", name)
			}
		}()
		f(New(testKey(), "panic"))
	}
	check("empty key", func(*Stream) { New(nil, "x") })
	check("Intn(0)", func(s *Stream) { s.Intn(0) })
	check("Range upside down", func(s *Stream) { s.Range(2, 1) })
	check("Range NaN", func(s *Stream) { s.Range(math.NaN(), 1) })
	check("Range infinite", func(s *Stream) { s.Range(0, math.Inf(1)) })
	check("LogRange from 0", func(s *Stream) { s.LogRange(0, 1) })
	check("LogRange infinite", func(s *Stream) { s.LogRange(1, math.Inf(1)) })
	check("Shuffle(-1)", func(s *Stream) { s.Shuffle(-1, nil) })
}

func BenchmarkUint64(b *testing.B) {
	s := New(testKey(), "lab", "week05", "student", "A1001", "tolerance")
	for b.Loop() {
		s.Uint64()
	}
}
