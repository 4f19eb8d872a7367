// Package draw gives random numbers that can be drawn again.
//
// A [Stream] is an endless sequence of numbers fixed by a secret key and a
// list of labels that name what it is for:
//
//	s := draw.New(termKey, "lab", "week05", "student", id, "lines")
//	s.Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
//
// Streams with different labels have nothing to do with each other. So a
// purpose that is added later, or one that draws more often than it used to,
// shifts no number of any other stream, and a lost sheet can be printed again
// byte for byte. Give every purpose a stream of its own instead of passing one
// stream around.
//
// Without the key nobody can foretell a number, not even from all other
// streams: the numbers are blocks of HMAC-SHA-256 in counter mode. With the
// key everybody can, so the key is as secret as the answers.
//
// The package is not for making keys: those come from crypto/rand.
package draw

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/binary"
	"hash"
	"math"
)

// domain keeps these blocks apart from any other use of the same key.
const domain = "nospark draw 1"

// Stream is one named sequence of numbers. It is not safe for use by several
// goroutines at once: the order of their draws would decide the result.
type Stream struct {
	mac     hash.Hash
	name    []byte // what every block authenticates before its counter
	counter uint64
	block   [sha256.Size]byte
	used    int // bytes of block already handed out
}

// New returns the stream of key that the labels name. Labels are compared as
// a list: ("ab", "c"), ("a", "bc") and ("abc") are three streams.
//
// Block i, counted from 0, is HMAC-SHA-256(key, name || be64(i)), where name is
// the domain and then every label, each preceded by its length in bytes as
// be64. All numbers are big-endian.
//
// New panics if the key is empty, because every installation would then draw
// the same "secrets".
func New(key []byte, labels ...string) *Stream {
	if len(key) == 0 {
		panic("draw: empty key")
	}
	s := &Stream{mac: hmac.New(sha256.New, key), used: sha256.Size}
	s.name = appendLabel(s.name, domain)
	for _, label := range labels {
		s.name = appendLabel(s.name, label)
	}
	return s
}

// appendLabel writes the length first, so that no label can pose as two.
func appendLabel(b []byte, label string) []byte {
	b = binary.BigEndian.AppendUint64(b, uint64(len(label)))
	return append(b, label...)
}

// Uint64 returns the next 64 bits.
func (s *Stream) Uint64() uint64 {
	if s.used == len(s.block) {
		s.mac.Reset()
		s.mac.Write(s.name)
		var counter [8]byte
		binary.BigEndian.PutUint64(counter[:], s.counter)
		s.mac.Write(counter[:])
		s.mac.Sum(s.block[:0])
		s.counter++
		s.used = 0
	}
	v := binary.BigEndian.Uint64(s.block[s.used:])
	s.used += 8
	return v
}

// Intn returns a number from 0 to n-1, each equally likely to the last bit: a
// draw from the incomplete group at the bottom of the 64-bit range is thrown
// away and repeated. It panics unless n > 0.
func (s *Stream) Intn(n int) int {
	if n <= 0 {
		panic("draw: Intn needs n > 0")
	}
	size := uint64(n)
	incomplete := -size % size // 2^64 mod n
	for {
		if v := s.Uint64(); v >= incomplete {
			return int(v % size)
		}
	}
}

// Float64 returns a multiple of 2^-53 in [0, 1).
func (s *Stream) Float64() float64 {
	return float64(s.Uint64()>>11) * 0x1p-53
}

// Range returns a number that is uniform in [lo, hi), or lo if both are equal.
// It panics unless lo <= hi and both are finite.
func (s *Stream) Range(lo, hi float64) float64 {
	if !(lo <= hi) || math.IsInf(lo, 0) || math.IsInf(hi-lo, 0) {
		panic("draw: Range needs finite lo <= hi")
	}
	u := s.Float64()
	if lo == hi {
		return lo
	}
	// The conversion forbids a fused multiply-add, which some processors would
	// use and others not: the same sheet has to come out of both.
	v := lo + float64(u*(hi-lo))
	if v >= hi { // rounding can reach the open end
		return math.Nextafter(hi, lo)
	}
	return v
}

// LogRange returns a number whose logarithm is uniform between those of lo and
// hi, so that 1 to 10 is as likely as 10 to 100. The result lies in [lo, hi].
// It panics unless 0 < lo <= hi and both are finite. The last bit may differ
// between kinds of processor, as that of math.Exp does.
func (s *Stream) LogRange(lo, hi float64) float64 {
	if !(0 < lo && lo <= hi) || math.IsInf(hi, 0) {
		panic("draw: LogRange needs finite 0 < lo <= hi")
	}
	// Two logarithms, since hi/lo may overflow. Those of neighboring numbers
	// may come out in the wrong order by one unit in the last place.
	a := math.Log(lo)
	v := math.Exp(s.Range(a, math.Max(a, math.Log(hi))))
	return math.Min(math.Max(v, lo), hi)
}

// Norm returns a number with the normal distribution of mean 0 and standard
// deviation 1 (Box and Muller 1958: sqrt(-2 ln u) cos(2 pi v)). It takes exactly
// two draws and throws the second number of the pair away, so that the position
// in the stream does not depend on history.
func (s *Stream) Norm() float64 {
	u := 1 - s.Float64() // in (0, 1]: the logarithm is finite
	v := s.Float64()
	return math.Sqrt(-2*math.Log(u)) * math.Cos(2*math.Pi*v)
}

// Shuffle puts n things into random order by calls of swap, every order
// equally likely (Fisher and Yates, from the last place down).
// It panics if n is negative.
func (s *Stream) Shuffle(n int, swap func(i, j int)) {
	if n < 0 {
		panic("draw: Shuffle needs n >= 0")
	}
	for i := n - 1; i > 0; i-- {
		swap(i, s.Intn(i+1))
	}
}
