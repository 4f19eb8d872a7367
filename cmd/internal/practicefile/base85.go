package practicefile

// Bytes stand in the file as text, four of them in five digits of base 85 (base 64 takes a third more than the bytes,
// this a quarter). The digits are the visible characters of ASCII from # on without those that mean something to HTML
// or to a script: & ' < > \ ` ~. Big end first; a last group of n bytes has n + 1 digits, as if zeros followed. Function
// bytes of parts/page.js reads it.

// digits are all of them, in the order of their values.
func digits() string {
	text := make([]byte, 0, 85)
	for c := byte('#'); c < '~'; c++ {
		switch c {
		case '&', '\'', '<', '>', '\\', '`':
		default:
			text = append(text, c)
		}
	}
	return string(text)
}

// base85 writes bytes as text.
func base85(data []byte) string {
	digits := digits()
	text := make([]byte, 0, len(data)/4*5+5)
	for len(data) > 0 {
		n := min(4, len(data))
		var word uint32
		for i := range 4 {
			word <<= 8
			if i < n {
				word |= uint32(data[i])
			}
		}
		var group [5]byte
		for i := 4; i >= 0; i-- {
			group[i] = digits[word%85]
			word /= 85
		}
		text = append(text, group[:n+1]...)
		data = data[n:]
	}
	return string(text)
}
