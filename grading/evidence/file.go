package evidence

import (
	"bytes"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

// Encode writes the file of a record and seals it with the key of its term.
func (r *Record) Encode(key term.Key) ([]byte, error) {
	sealed := *r
	sealed.Seal = ""
	compact, err := json.Marshal(&sealed)
	if err != nil {
		return nil, fmt.Errorf("the record of lab %q cannot be written: %w", r.Lab, err)
	}
	// What is sealed is compact, what is written has a line per field and student: so people can compare two records,
	// and a checkout that changes line ends breaks no seal.
	body := strings.TrimSuffix(string(compact), sealStart+sealEnd)
	return lab.BreakLines([]byte(body + sealStart + seal(key, []byte(body)) + sealEnd)), nil
}

// The seal is the last field of a record, so that what it covers is everything before it, whatever fields a later
// format adds.
const (
	sealStart = `,"seal":"`
	sealEnd   = `"}`
	sealSize  = 2 * sha256.Size // hexadecimal digits
)

// seal is HMAC-SHA-256 over the record as compact JSON up to the seal, under a key of its own made from the term's key,
// in hexadecimal.
func seal(key term.Key, body []byte) string {
	own := hmac.New(sha256.New, key[:])
	own.Write([]byte("record"))
	mac := hmac.New(sha256.New, own.Sum(nil))
	mac.Write(body)
	return hex.EncodeToString(mac.Sum(nil))
}

// Verify compares the seal of a record with the file it was read from. White space and line ends do not matter.
func (r *Record) Verify(file []byte, autumn term.Term, key term.Key) lab.Sealing {
	if r.Term != autumn.ID {
		return lab.NotCheckable
	}
	var compact bytes.Buffer
	if json.Compact(&compact, file) != nil {
		return lab.Changed
	}
	// By its place at the end, not by decoding: fields of a later format are covered without being known.
	text := compact.Bytes()
	at := len(text) - len(sealStart) - sealSize - len(sealEnd)
	if at < 0 || !bytes.HasPrefix(text[at:], []byte(sealStart)) || !bytes.HasSuffix(text, []byte(sealEnd)) {
		return lab.Changed
	}
	given := text[at+len(sealStart) : len(text)-len(sealEnd)]
	if hmac.Equal(given, []byte(seal(key, text[:at]))) {
		return lab.Sealed
	}
	return lab.Changed
}

// SealingWords says what a seal tells about a record.
func SealingWords(s lab.Sealing) string {
	switch s {
	case lab.Sealed:
		return "sealed"
	case lab.Changed:
		return "changed since it was written"
	}
	return "not checkable here, it is of another term"
}

// Decode reads the file of a record; file is its name for errors. A record that it returns is sound: every number is
// within its range and no student is there twice. The seal is for Verify to check.
func Decode(file string, data []byte) (*Record, error) {
	if !utf8.Valid(data) { // the decoder would replace what is not, and call it read
		return nil, fmt.Errorf("%s: is not a text in UTF-8; restore it from a copy", file)
	}
	r := new(Record)
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	err := d.Decode(r)
	if err == nil {
		if _, after := d.Token(); !errors.Is(after, io.EOF) {
			return nil, fmt.Errorf("%s: goes on after its end; restore it from a copy", file)
		}
	}
	// A newer record has fields that this program does not know: its format is the better explanation.
	format := r.Format
	if err != nil {
		format = formatOf(data)
	}
	switch {
	case format > Format:
		return nil, fmt.Errorf("%s: has format %d, this program knows formats up to %d; use the newer nospark that "+
			"wrote it", file, format, Format)
	case err != nil:
		return nil, fmt.Errorf("%s: %s; grade the lab again, or restore the file from a copy", file,
			jsonError(data, err))
	case format < 1:
		return nil, fmt.Errorf("%s: has no format; is it a record?", file)
	}
	if err := r.sound(); err != nil {
		return nil, fmt.Errorf("%s: %w; grade the lab again, or restore the file from a copy", file, err)
	}
	return r, nil
}

// formatOf reads the format alone, 0 if that is not possible: of a record that is otherwise beyond this program.
func formatOf(data []byte) int {
	var head struct {
		Format int `json:"format"`
	}
	if json.Unmarshal(data, &head) != nil {
		return 0
	}
	return head.Format
}

// jsonError adds the line to an error of the decoder, which knows only bytes; a person looks for lines.
func jsonError(data []byte, err error) string {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	at := int64(-1)
	switch {
	case errors.Is(err, io.ErrUnexpectedEOF), errors.Is(err, io.EOF):
		return "ends before its end"
	case errors.As(err, &syntax):
		at = syntax.Offset
	case errors.As(err, &kind):
		at = kind.Offset
	}
	if at < 0 || at > int64(len(data)) {
		return "not a record: " + err.Error()
	}
	return fmt.Sprintf("line %d: not a record: %v", 1+bytes.Count(data[:at], []byte("\n")), err)
}
