package tabular

import (
	"bytes"
	"errors"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// decode turns the bytes of a text file into UTF-8 with line feeds. It
// returns the name of the encoding if it is another than UTF-8.
//
// A mark at the beginning decides. Without one the text is UTF-16 if every
// other byte of its beginning is zero, as headings in Latin letters have it;
// UTF-8 if it is valid as such, which other encodings are only by a rare
// accident; else Windows-1252, in which spreadsheets save for western languages
// and of which Latin-1 is a part.
func decode(data []byte) (text, encoding string, err error) {
	order, wide := WideOrder(data)
	switch {
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		data = data[3:]
	case wide:
		data, err = unicode.UTF16(order, unicode.UseBOM).NewDecoder().Bytes(data)
		if err != nil {
			return "", "", err
		}
		encoding = "UTF-16"
	}
	// Text has no zero bytes; workbooks and pictures do.
	if bytes.IndexByte(data, 0) >= 0 {
		return "", "", errors.New("is not a text file; save it as CSV, UTF-8")
	}
	if !utf8.Valid(data) {
		data, err = charmap.Windows1252.NewDecoder().Bytes(data)
		if err != nil {
			return "", "", err
		}
		encoding = "Windows-1252"
	}
	return strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(string(data)), encoding, nil
}

// WideOrder recognizes UTF-16 by its mark, else by zeros in every other byte of
// the beginning, and says which byte of two comes first.
func WideOrder(data []byte) (order unicode.Endianness, wide bool) {
	switch {
	case bytes.HasPrefix(data, []byte("\xff\xfe")):
		return unicode.LittleEndian, true
	case bytes.HasPrefix(data, []byte("\xfe\xff")):
		return unicode.BigEndian, true
	}
	const look = 64 // bytes: the headings and no more
	var zeros [2]int
	for i, b := range data[:min(len(data), look)] {
		if b == 0 {
			zeros[i%2]++
		}
	}
	pairs := min(len(data), look) / 2
	switch {
	case zeros[0] == 0 && 3*zeros[1] > 2*pairs:
		return unicode.LittleEndian, true
	case zeros[1] == 0 && 3*zeros[0] > 2*pairs:
		return unicode.BigEndian, true
	}
	return unicode.BigEndian, false
}
