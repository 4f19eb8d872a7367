package lab

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"

	"nospark/scenarios/draw"
)

// Sealing is what a lab's seal says about its content.
type Sealing uint8

// A lab is as it was built, or changed since by hand or by a program with another key; one of another term has another
// key, so nothing can be said about it.
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
		return "built with another term.key"
	}
	return "of another term, so its seal cannot be checked"
}

// SealUnder is HMAC-SHA-256 over the lab as compact JSON with an empty seal, under a key of its own made from the
// term's key, in hexadecimal.
func (l *Lab) SealUnder(key []byte) string {
	bare := *l
	bare.Seal = ""
	text, err := json.Marshal(&bare)
	if err != nil {
		// a number that JSON lacks, which Build never stores
		panic("scenarios: a lab that cannot be written: " + err.Error())
	}
	own := hmac.New(sha256.New, key)
	own.Write([]byte("seal"))
	mac := hmac.New(sha256.New, own.Sum(nil))
	mac.Write(text)
	return hex.EncodeToString(mac.Sum(nil))
}

// Verify compares the seal of a lab with its content, under the id and the key of a term.
func (l *Lab) Verify(term string, key []byte) Sealing {
	switch {
	case l.Term != term:
		return NotCheckable
	case hmac.Equal([]byte(l.Seal), []byte(l.SealUnder(key))):
		return Sealed
	case !l.drawnWith(key):
		return OtherKey
	}
	return Changed
}

// drawnWith tells whether most check letters of the repairs are those that a key gives: nobody changes all of them by
// hand, and another key meets a pair once in 400.
func (l *Lab) drawnWith(key []byte) bool {
	signs, met := l.repairSigns(key), 0
	for i, r := range l.Repairs {
		if r.Letters == signs[i].Letters {
			met++
		}
	}
	return 2*met >= len(l.Repairs)
}

// repairSigns gives what a key makes of the lab's repairs, in their order. Labs before format 4 drew letters of their
// own.
func (l *Lab) repairSigns(key []byte) []RepairSign {
	if l.Format >= FirstWithBooklet {
		ids := make([]string, len(l.Repairs))
		for i, r := range l.Repairs {
			ids[i] = r.ID
		}
		return RepairSigns(l.Pack.Name, ids, key)
	}
	signs := make([]RepairSign, len(l.Repairs))
	letters := draw.New(key, "lab", l.Name, "repair letters")
	for i := range signs {
		signs[i].Letters = letters.Letters(2)
	}
	return signs
}
