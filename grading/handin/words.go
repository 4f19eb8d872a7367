package handin

import (
	"fmt"
	"strings"
)

// Count words a number of things.
func Count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// List joins words: "a", "a and b", "a, b and c".
func List(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// Clipped keeps what somebody wrote instead of a code from filling a page.
func Clipped(text string) string {
	const most = 20
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}

// fewNames joins the first few of a list and says how many more there are.
func fewNames(list []string) string {
	const most = 3
	if len(list) <= most+1 {
		return strings.Join(list, " and ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(list[:most], ", "), len(list)-most)
}
