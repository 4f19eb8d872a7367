package competency

import (
	"crypto/hmac"
	"crypto/sha256"
	"fmt"
	"slices"

	"nospark/scenarios/term"
)

// codeLetters have no vowels, so that no code is a word, and none that look alike.
const codeLetters = "BCDFGHJKLMNPQRSTVWXZ"

// nameCodes gives every student a code, KQTM-HRBX: from the key, so that whoever has the class list but not the key
// cannot tell whose it is, and the same in every workbook of the term. Two students with one code are as good as
// impossible; then the second gets another.
func (t *Term) nameCodes(key term.Key) {
	taken := map[string]bool{}
	order := make([]int, len(t.Students))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { // so that who has to give way does not depend on names
		if t.Students[a].ID < t.Students[b].ID {
			return -1
		}
		return 1
	})
	for _, i := range order {
		s := &t.Students[i]
		for try := 0; s.Code == "" || taken[s.Code]; try++ {
			s.Code = nameCode(key, s.ID, try)
		}
		taken[s.Code] = true
	}
}

// nameCode draws eight letters from HMAC-SHA-256 under the key, so that trying ids without the key is no use: 20^8
// codes, of which two students of a school hardly ever share one. try counts from 0. Two bytes per letter keep the draw
// even enough: 65536 is no multiple of 20, which favors some letters by less than one in 3000.
func nameCode(key term.Key, id string, try int) string {
	mac := hmac.New(sha256.New, key[:])
	fmt.Fprintf(mac, "student code %d of %s", try, id)
	sum := mac.Sum(nil)
	var code []byte
	for i := range 8 {
		if i == 4 {
			code = append(code, '-')
		}
		code = append(code, codeLetters[(int(sum[2*i])<<8|int(sum[2*i+1]))%len(codeLetters)])
	}
	return string(code)
}
