package lab

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"unicode/utf8"

	"nospark/scenarios/disk"
)

// LabFile is the path of lab.json in the folder of a lab: never given to students.
const File = "instructor/lab.json"

// labLimit bounds lab.json: two thousand sheets of two hundred lines have some 40 MB.
const labLimit = 1 << 30

// Encode writes lab.json: one line per field, and one per item of a list of objects, so that people can read it and
// compare two.
func (l *Lab) Encode() ([]byte, error) {
	compact, err := json.Marshal(l)
	if err != nil {
		return nil, fmt.Errorf("lab %q cannot be written: %w", l.Name, err)
	}
	return BreakLines(compact), nil
}

// BreakLines puts the fields of the outer object and the objects of every list on lines of their own, so that people
// can read a file and compare two. The text is compact JSON.
func BreakLines(compact []byte) []byte {
	var out bytes.Buffer
	out.Grow(len(compact) + len(compact)/8)
	var broken []bool // of each open bracket: its items are on lines of their own
	depth := 0        // number of those
	inText := false
	newLine := func() {
		out.WriteByte('\n')
		for range depth {
			out.WriteByte(' ')
		}
	}
	for i := 0; i < len(compact); i++ {
		c := compact[i]
		switch {
		case inText:
			out.WriteByte(c)
			if c == '\\' { // what it escapes may be a quote
				i++
				out.WriteByte(compact[i])
			}
			inText = c != '"'
		case c == '{' || c == '[':
			out.WriteByte(c)
			own := len(broken) == 0 || c == '[' && compact[i+1] == '{'
			broken = append(broken, own)
			if own {
				depth++
				newLine()
			}
		case c == '}' || c == ']':
			if broken[len(broken)-1] {
				depth--
				newLine()
			}
			broken = broken[:len(broken)-1]
			out.WriteByte(c)
		default:
			out.WriteByte(c)
			inText = c == '"'
			if c == ',' && broken[len(broken)-1] {
				newLine()
			}
		}
	}
	out.WriteByte('\n')
	return out.Bytes()
}

// Decode reads lab.json; file is its name for errors. A lab that it returns is sound: no index in it leads outside.
func Decode(file string, data []byte) (*Lab, error) {
	var head struct {
		Format int `json:"format"`
	}
	if !utf8.Valid(data) { // the decoder would replace what is not, and call it read
		return nil, fmt.Errorf("%s: is not a text in UTF-8; restore it from a copy", file)
	}
	if err := json.Unmarshal(data, &head); err != nil {
		return nil, fmt.Errorf("%s: %s; restore it from a copy, or build the lab again in another folder", file,
			jsonError(data, err))
	}
	switch {
	case head.Format > Format:
		return nil, fmt.Errorf("%s: has format %d, this program knows formats up to %d; use the newer nospark that "+
			"built it", file, head.Format, Format)
	case head.Format < 1:
		return nil, fmt.Errorf("%s: has no format; is it a lab.json?", file)
	}
	l := new(Lab)
	// A field that this program does not know would be lost when the lab is written again, and its seal with it.
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(l); err != nil {
		return nil, fmt.Errorf("%s: %s; restore it from a copy", file, jsonError(data, err))
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("%s: goes on after its end; restore it from a copy", file)
	}
	if err := l.sound(); err != nil {
		return nil, fmt.Errorf("%s: %w; restore it from a copy", file, err)
	}
	return l, nil
}

// Read reads the lab.json at path.
func Read(path string) (*Lab, error) {
	data, err := disk.Read(path, labLimit)
	if err != nil {
		return nil, err
	}
	return Decode(path, data)
}

// jsonError adds the line to an error of the decoder.
func jsonError(data []byte, err error) string {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	at := int64(-1)
	switch {
	case errors.As(err, &syntax):
		at = syntax.Offset
	case errors.As(err, &kind):
		at = kind.Offset
	}
	if at < 0 || at > int64(len(data)) {
		return "not the JSON of a lab: " + err.Error()
	}
	return fmt.Sprintf("line %d: not the JSON of a lab: %v", 1+bytes.Count(data[:at], []byte("\n")), err)
}
