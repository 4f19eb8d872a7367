package journal

import (
	"bytes"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"unicode/utf8"

	"nospark/grading/attempt"
	"nospark/scenarios/draw"
)

// File is where the journal lies in the folder of a lab.
const File = "entries/bench.journal"

// Limit bounds the file: two thousand sheets of two hundred steps have some 200 MB.
const Limit = 1 << 28

// Format is the version of the journal that this program writes.
const Format = 1

// KeyFor is the key of a lab's journal. It follows from the term's and is of no use for anything else.
func KeyFor(term []byte, lab string) []byte {
	s := draw.New(term, "bench journal", lab)
	var key []byte
	for range 4 {
		v := s.Uint64()
		for shift := 56; shift >= 0; shift -= 8 {
			key = append(key, byte(v>>shift))
		}
	}
	return key
}

// head is the first line.
type head struct {
	Seq    int    `json:"seq"`
	Format int    `json:"bench"`
	Lab    string `json:"lab"`
	Term   string `json:"term"`
}

// numbered is any other line without its chain.
type numbered struct {
	Seq int `json:"seq"`
	attempt.Event
}

const (
	chainBytes = 16
	chainKey   = `,"chain":"`
	chainTail  = len(chainKey) + 2*chainBytes + len(`"}`)
)

// chain links a line to all before it.
func chain(key, before, body []byte) []byte {
	mac := hmac.New(sha256.New, key)
	mac.Write(before)
	mac.Write(body)
	return mac.Sum(nil)[:chainBytes]
}

// encode makes a line of a value and gives the chain that the next line continues.
func encode(key, before []byte, value any) (line, link []byte, err error) {
	body, err := json.Marshal(value)
	if err != nil {
		return nil, nil, err
	}
	link = chain(key, before, body)
	line = append(body[:len(body)-1:len(body)-1], chainKey...)
	line = append(hex.AppendEncode(line, link), "\"}\n"...)
	return line, link, nil
}

// split takes a line apart. It is false for what no line of a journal looks like.
func split(line []byte) (body, link []byte, ok bool) {
	at := len(line) - chainTail
	if at < 1 || !bytes.HasPrefix(line[at:], []byte(chainKey)) || !bytes.HasSuffix(line, []byte(`"}`)) {
		return nil, nil, false
	}
	link, err := hex.DecodeString(string(line[at+len(chainKey) : len(line)-2]))
	if err != nil {
		return nil, nil, false
	}
	return append(line[:at:at], '}'), link, true
}

// Content is what a journal says.
type Content struct {
	Room    *attempt.Room
	Lines   int  // whole ones, the head not counted
	Torn    bool // the last line was not whole and is not part of it
	Checked bool // against the lab's key

	size int    // bytes of the whole lines
	link []byte // of the last
}

// Lab names a lab for its journal. Without a key nothing can be said about changes.
type Lab struct {
	Name, Term string
	Key        []byte
}

// Decode reads a journal; file is its name for messages. The error names the first line that is not as it was written.
func Decode(file string, data []byte, lab Lab) (Content, error) {
	c := Content{Room: attempt.NewRoom(), Checked: lab.Key != nil}
	bad := func(line int, format string, args ...any) error {
		return fmt.Errorf("%s:%d: %s; restore the journal from a copy, or move it out of the folder and key the "+
			"sheets in",
			file, line, fmt.Sprintf(format, args...))
	}
	for n := 0; len(data) > 0; n++ {
		end := bytes.IndexByte(data, '\n')
		if end < 0 {
			c.Torn = true
			break
		}
		line := data[:end]
		data = data[end+1:]
		body, link, ok := split(line)
		if !ok || !utf8.Valid(line) {
			return Content{}, bad(n+1, "was changed: it is no line of a journal")
		}
		if lab.Key != nil && !hmac.Equal(link, chain(lab.Key, c.link, body)) {
			return Content{}, bad(n+1, "was changed, or a line before it is missing")
		}
		if err := c.add(n, body, lab); err != nil {
			return Content{}, bad(n+1, "%v", err)
		}
		c.link = link
		c.size += end + 1
	}
	return c, nil
}

// add takes a line over whose chain fits.
func (c *Content) add(n int, body []byte, lab Lab) error {
	if n == 0 {
		var h head
		if err := strictly(body, &h); err != nil {
			return err
		}
		switch {
		case h.Format > Format:
			return fmt.Errorf("has format %d, this program knows formats up to %d; use the newer nospark that wrote it",
				h.Format, Format)
		case h.Format < 1:
			return errors.New("is not the first line of a journal")
		case h.Lab != lab.Name || h.Term != lab.Term:
			return fmt.Errorf("belongs to lab %q of another folder", h.Lab)
		}
		return nil
	}
	var e numbered
	if err := strictly(body, &e); err != nil {
		return err
	}
	if e.Seq != n {
		return fmt.Errorf("has number %d, want %d: lines are missing or swapped", e.Seq, n)
	}
	if err := c.Room.Apply(e.Event); err != nil {
		return err
	}
	c.Lines = n
	return nil
}

// strictly decodes one JSON object whose fields are all known.
func strictly(body []byte, into any) error {
	d := json.NewDecoder(bytes.NewReader(body))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return fmt.Errorf("cannot be read: %w", err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return errors.New("goes on after its end")
	}
	return nil
}

// Without gives a journal without some of its events: numbered and chained anew under the lab's key, as if they had
// never been written down. It also gives those that were left out. A torn last line is left out as well.
func Without(file string, data []byte, lab Lab, drop func(attempt.Event) bool) (kept []byte, gone []attempt.Event,
	err error) {
	if lab.Key == nil {
		return nil, nil, fmt.Errorf("%s: cannot be written without the key of its term", file)
	}
	if _, err := Decode(file, data, lab); err != nil {
		return nil, nil, err
	}
	var link []byte
	add := func(value any) error {
		line, next, err := encode(lab.Key, link, value)
		kept, link = append(kept, line...), next
		return err
	}
	seq := 0
	for n, line := range bytes.SplitAfter(data, []byte("\n")) {
		body, _, ok := split(bytes.TrimSuffix(line, []byte("\n")))
		if !ok || !bytes.HasSuffix(line, []byte("\n")) {
			break // Decode has looked: it is the torn one, or nothing
		}
		var e numbered
		switch {
		case n == 0:
			err = add(head{Format: Format, Lab: lab.Name, Term: lab.Term})
		default:
			err = strictly(body, &e)
		}
		switch {
		case err != nil:
			return nil, nil, err
		case n == 0:
		case drop(e.Event):
			gone = append(gone, e.Event)
		default:
			seq++
			if err := add(numbered{seq, e.Event}); err != nil {
				return nil, nil, err
			}
		}
	}
	_, err = Decode(file, kept, lab)
	return kept, gone, err
}
