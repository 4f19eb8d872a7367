package scenarios

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"slices"
	"strconv"

	"nospark/scenarios/draw"
)

// Sealing is what a lab's seal says about its content.
type Sealing uint8

// A lab is as it was built, or changed since by hand or by a program with another key; one of another term has another key, so nothing can
// be said about it.
const (
	Sealed Sealing = iota
	Changed
	NotCheckable
	OtherKey // term.key is not the one that the lab was built with
)

// String gives the word for messages.
func (s Sealing) String() string {
	switch s {
	case Sealed:
		return "sealed"
	case Changed:
		return "changed since it was built"
	case OtherKey:
		return "built with another " + KeyFile
	}
	return "of another term, so its seal cannot be checked"
}

// seal is HMAC-SHA-256 over the lab as compact JSON with an empty seal, under a key of its own made from the term's key, in hexadecimal.
func (l *Lab) seal(key Key) string {
	bare := *l
	bare.Seal = ""
	text, err := json.Marshal(&bare)
	if err != nil {
		panic("scenarios: a lab that cannot be written: " + err.Error()) // a number that JSON lacks, which Build never stores
	}
	own := hmac.New(sha256.New, key[:])
	own.Write([]byte("seal"))
	mac := hmac.New(sha256.New, own.Sum(nil))
	mac.Write(text)
	return hex.EncodeToString(mac.Sum(nil))
}

// Verify compares the seal of a lab with its content.
func (l *Lab) Verify(term Term, key Key) Sealing {
	switch {
	case l.Term != term.ID:
		return NotCheckable
	case hmac.Equal([]byte(l.Seal), []byte(l.seal(key))):
		return Sealed
	case !l.drawnWith(key):
		return OtherKey
	}
	return Changed
}

// drawnWith tells whether the check letters of any sheet are those that a key gives: nobody changes all of them by hand.
func (l *Lab) drawnWith(key Key) bool {
	spares := 0
	for _, s := range l.Sheets {
		who := person{id: s.Student}
		if s.Student == "" {
			spares++
			who = person{id: strconv.Itoa(spares), spare: true}
		}
		letters := draw.New(key[:], who.labels(l.Name, "letters")...)
		if !slices.ContainsFunc(s.Lines, func(line Line) bool { return line.Letters != letters.Letters(2) }) {
			return true
		}
	}
	return len(l.Sheets) == 0
}
