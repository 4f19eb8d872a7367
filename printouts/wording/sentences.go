package wording

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Join puts the texts that are not empty one after the other.
func Join(between string, texts ...string) string {
	var some []string
	for _, t := range texts {
		if t != "" {
			some = append(some, t)
		}
	}
	return strings.Join(some, between)
}

// List joins words as in a sentence: "a", "a and b", "a, b and c".
func List(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// Sentences makes one text of remarks, each with its full stop.
func Sentences(remarks []string) string {
	var all []string
	for _, r := range remarks {
		if r != "" && !strings.HasSuffix(r, ".") && !strings.HasSuffix(r, "?") {
			r += "."
		}
		all = append(all, r)
	}
	return strings.Join(all, " ")
}

// Capital makes the first letter of a text a capital.
func Capital(text string) string {
	if text == "" {
		return ""
	}
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[size:]
}

// KeepSigns keeps a lone sign with the word before it: a line never begins with the minus of "battery -".
func KeepSigns(text string) string {
	words := strings.Split(text, " ")
	for i := len(words) - 1; i > 0; i-- {
		if word := strings.TrimRight(words[i], ",;:"); word == "-" || word == "+" {
			words[i-1] += "\u00a0" + words[i]
			words = append(words[:i], words[i+1:]...)
		}
	}
	return strings.Join(words, " ")
}
