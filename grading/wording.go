package grading

import (
	"fmt"
	"slices"
	"strings"
)

// count words a number of things.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// listed joins words: "a", "a and b", "a, b and c".
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// join puts reasons into one line; empty ones vanish.
func join(reasons ...string) string {
	return strings.Join(slices.DeleteFunc(reasons, func(s string) bool { return s == "" }), "; ")
}

// clipped keeps what somebody wrote instead of a code from filling a page.
func clipped(text string) string {
	const most = 20
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}
