package submission

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
)

// decoder reads UTF-8 only. It knows no entities of the file's own, so none can grow or fetch anything.
func decoder(data []byte) *xml.Decoder {
	d := xml.NewDecoder(bytes.NewReader(data))
	d.CharsetReader = func(charset string, input io.Reader) (io.Reader, error) {
		if strings.EqualFold(charset, "utf-8") || strings.EqualFold(charset, "us-ascii") {
			return input, nil
		}
		return nil, errors.New("encoding " + charset)
	}
	return d
}

// content reads the rest of an element: its text without that of formulas and of phonetic hints. full reports a
// text, even one that is cut because no cell of a form is so long.
func content(d *xml.Decoder) (text string, full bool, err error) {
	var b strings.Builder
	depth, aside := 1, 0
	for depth > 0 {
		token, err := d.RawToken()
		if err != nil {
			return "", false, err
		}
		switch token := token.(type) {
		case xml.StartElement:
			depth++
			if aside == 0 && (token.Name.Local == "f" || token.Name.Local == "rPh") {
				aside = depth
			}
		case xml.EndElement:
			if aside == depth {
				aside = 0
			}
			depth--
		case xml.CharData:
			if aside == 0 && b.Len() < maxCellBytes {
				b.Write(token[:min(len(token), maxCellBytes-b.Len())])
			}
		}
	}
	text = strings.TrimSpace(strings.ToValidUTF8(b.String(), ""))
	return text, text != "", nil
}

// attribute gives the value of an attribute without prefix, "" if there is none.
func attribute(e xml.StartElement, local string) string {
	for _, a := range e.Attr {
		if a.Name.Space == "" && a.Name.Local == local {
			return a.Value
		}
	}
	return ""
}
