package draw

// Alphabet is what check letters are made of: the capitals without the vowels
// and Y, so that no words appear and nothing looks like the digits 0 and 1.
const Alphabet = "BCDFGHJKLMNPQRSTVWXZ"

// AlphabetSize is the number of letters in [Alphabet]. A guess at n letters
// is right once in AlphabetSize^n: one in 400 for two letters. A wrong digit
// in a line number goes unnoticed just as rarely.
const AlphabetSize = len(Alphabet)

// Letters returns n letters of [Alphabet], all independent and equally likely;
// a letter may come twice.
func (s *Stream) Letters(n int) string {
	b := make([]byte, n)
	for i := range b {
		b[i] = Alphabet[s.Intn(AlphabetSize)]
	}
	return string(b)
}
