package roster

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
// A mark at the beginning decides. Without one the text is UTF-8 if it is valid
// as such, which other encodings are only by a rare accident, else
// Windows-1252, in which spreadsheets save for western languages.
func decode(data []byte) (text, encoding string, err error) {
	switch {
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		data = data[3:]
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		data, err = unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM).NewDecoder().Bytes(data)
		if err != nil {
			return "", "", err
		}
		encoding = "UTF-16"
	}
	// Text has no zero bytes. UTF-16 without a mark and workbooks do.
	if bytes.IndexByte(data, 0) >= 0 {
		return "", "", errors.New("is not a text file; save the class list as CSV, UTF-8")
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
