package main

import (
	"nospark/scenarios/draw"
	"nospark/scenarios/term"
)

// claimWord is the word with which a sheet is claimed. It follows from the term's key, so it needs no file, and it can be
// said and typed: six letters, consonant and vowel in turn. There are some 275,000, and a sheet stands five wrong ones a
// minute.
func claimWord(key term.Key, lab, sheet string) string {
	const heads, tails = "bdhjlmnrstvwz", "aeiou"
	s := draw.New(key[:], "bench claim", lab, sheet)
	var word []byte
	for range 3 {
		word = append(word, heads[s.Intn(len(heads))], tails[s.Intn(len(tails))])
	}
	return string(word)
}
