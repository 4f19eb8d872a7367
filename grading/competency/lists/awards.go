package lists

import (
	"bytes"
	"cmp"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"nospark/grading/evidence"
	"nospark/scenarios/tabular"
	"nospark/scenarios/term"
)

// AwardsFile is the register of awards in the folder of a term.
const AwardsFile = "awards.csv"

// Award is a decision that a student is competent, frozen with what it rests on; or its withdrawal by a person. A
// register is only ever added to: what follows from later evidence or another rule is a proposal.
type Award struct {
	Place      string // "awards.csv:7"
	Date       string // of the decision, 2006-01-02
	Student    string // id
	Competency string // id
	What       string // Awarded or Withdrawn
	By         string
	Rule       string // in words; of a withdrawal the reason
	Evidence   string // the opportunities of the window: lab, sheet, sign
	Hash       string // chains the line to those before it, keyed
}

// What a line of the register does.
const (
	Awarded   = "award"
	Withdrawn = "withdraw"
)

// nobody stands in the cell of an award that nobody signed, because the rule asks for no signature.
const nobody = "-"

var awardHeader = []string{"date", "id", "competency", "what", "by", "rule", "evidence", "hash"}

// Signed tells that somebody signed when it was awarded.
func (a *Award) Signed() bool { return a.By != "" && a.By != nobody }

// fields are the cells of a line before its hash.
func (a *Award) fields() []string {
	return []string{a.Date, a.Student, a.Competency, a.What, a.By, a.Rule, a.Evidence}
}

// hash is HMAC-SHA-256 over the hash of the line before and the cells of this one, under a key of its own made from the
// term's: somebody without the key can neither change a line nor put one in, nor take one out but at the end.
func (a *Award) hash(key term.Key, before string) string {
	own := hmac.New(sha256.New, key[:])
	own.Write([]byte("awards"))
	mac := hmac.New(sha256.New, own.Sum(nil))
	for _, text := range append([]string{before}, a.fields()...) {
		fmt.Fprintf(mac, "%d:%s", len(text), text) // the length keeps two cells from passing for one
	}
	return hex.EncodeToString(mac.Sum(nil))
}

// ParseAwards reads a register; file is its name for errors. It gives the lines up to the first that is wrong, and what
// is wrong with that one.
func ParseAwards(file string, data []byte, key term.Key) ([]Award, error) {
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff"))))
	r.FieldsPerRecord = len(awardHeader)
	var list []Award
	before := ""
	for first := true; ; first = false {
		c, err := r.Read()
		var syntax *csv.ParseError
		switch {
		case errors.Is(err, io.EOF) && first:
			return nil, fmt.Errorf("%s: is empty; its first line is %s", file, strings.Join(awardHeader, ","))
		case errors.Is(err, io.EOF):
			return list, nil
		case errors.As(err, &syntax):
			return list, fmt.Errorf("%s:%d: %w; restore the file from a copy", file, syntax.Line, syntax.Err)
		}
		line, _ := r.FieldPos(0)
		place := fmt.Sprintf("%s:%d", file, line)
		for i := range c {
			c[i] = tabular.Original(strings.TrimSpace(c[i]))
		}
		if first {
			if !slices.Equal(c, awardHeader) {
				return nil, fmt.Errorf("%s: heading %q; want %s", place, strings.Join(c, ","),
					strings.Join(awardHeader, ","))
			}
			continue
		}
		a := Award{Place: place, Date: c[0], Student: c[1], Competency: c[2], What: c[3], By: c[4], Rule: c[5],
			Evidence: c[6], Hash: c[7]}
		if !hmac.Equal([]byte(a.Hash), []byte(a.hash(key, before))) {
			return list, fmt.Errorf("%s: this line, or one before it, was changed or taken out; restore the "+
				"file from a copy", place)
		}
		before = a.Hash
		list = append(list, a)
	}
}

// AddAwards gives the register with more lines; data is what is in the file, nil for none. Nothing of it changes.
func AddAwards(file string, data []byte, key term.Key, more []Award) ([]byte, error) {
	before, out := "", bytes.Clone(data)
	var rows [][]string
	if len(data) == 0 {
		rows = append(rows, awardHeader)
	} else {
		have, err := ParseAwards(file, data, key)
		if err != nil {
			return nil, err
		}
		if n := len(have); n > 0 {
			before = have[n-1].Hash
		}
		if !bytes.HasSuffix(data, []byte("\n")) {
			out = append(out, '\n')
		}
	}
	for _, a := range more {
		for _, text := range []*string{&a.Date, &a.Student, &a.Competency, &a.What, &a.By, &a.Rule, &a.Evidence} {
			*text = cmp.Or(strings.Join(strings.Fields(*text), " "), nobody) // one line, no empty cell
			if len(*text) > evidence.LongestText {                           // it could not be read again
				return nil, fmt.Errorf("%s: %q for student %s has more than %d bytes; say it shorter", file,
					(*text)[:40]+"...", a.Student, evidence.LongestText)
			}
		}
		before = a.hash(key, before)
		rows = append(rows, append(a.fields(), before))
	}
	return append(out, tabular.Encode(rows, false)...), nil
}
