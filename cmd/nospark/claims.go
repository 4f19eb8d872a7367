package main

import (
	"nospark/cmd/internal/web"
	"nospark/printouts"
	"nospark/scenarios/draw"
	"nospark/scenarios/lab"
	"nospark/scenarios/tabular"
	"nospark/scenarios/term"
)

// claimWord is the word with which a sheet is claimed. It follows from the term's key, so it needs no file, and it can
// be said and typed: six letters, consonant and vowel in turn. There are some 275,000, and a sheet stands five wrong
// ones a minute.
func claimWord(key term.Key, lab, sheet string) string {
	const heads, tails = "bdhjlmnrstvwz", "aeiou"
	s := draw.New(key[:], "bench claim", lab, sheet)
	var word []byte
	for range 3 {
		word = append(word, heads[s.Intn(len(heads))], tails[s.Intn(len(tails))])
	}
	return string(word)
}

// writeClaims writes the strips and the list of what claims the sheets of a lab. Bench is its address, "" where it is
// not known yet.
func writeClaims(l *lab.Lab, key term.Key, bench, folder string) error {
	word := func(sheet string) string { return claimWord(key, l.Name, sheet) }
	var picture func(code, word string) [][]bool
	if bench != "" { // the part behind # stays on the phone, where a script of the page fills the form with it
		picture = func(code, word string) [][]bool { return squares(bench + web.ClaimPath + "#" + code + "&" + word) }
	}
	strips, err := printouts.Claims(l, word, picture)
	if err != nil {
		return err
	}
	rows := [][]string{{"sheet", "student", "word"}}
	for _, s := range l.Sheets {
		rows = append(rows, []string{s.Code, s.Student, word(s.Code)})
	}
	return writeDocuments(folder, []printouts.File{strips,
		{Path: "instructor/claims.csv", Mode: forInstructor, Data: tabular.Encode(rows, false)}})
}

// squares is the QR code of a text without its margin, which a strip has anyway.
func squares(text string) [][]bool {
	all, err := modules(text)
	if err != nil {
		return nil // too long for a code; the words say the same
	}
	var inner [][]bool
	for _, row := range all[quiet : len(all)-quiet] {
		inner = append(inner, row[quiet:len(row)-quiet])
	}
	return inner
}
