package pack

import (
	"fmt"
	"strings"
)

// suggest gives the hint for a name that is not known: the nearest known name, or the known names when none is near.
func suggest(name string, known []string) string {
	known = distinct(known)
	best, nearest := "", 1+max(1, len(name)/3)
	for _, k := range known {
		if len(name) > 2*len(k)+3 {
			continue // too long to be near, and slow to compare
		}
		if d := distance(strings.ToLower(name), strings.ToLower(k)); d < nearest {
			best, nearest = k, d
		}
	}
	switch {
	case best != "":
		return fmt.Sprintf("did you mean %q?", best)
	case len(known) == 0:
		return "there is none"
	}
	return "known: " + enumerate(known)
}

// distinct leaves out empty and repeated names, which are mistakes of their own.
func distinct(known []string) []string {
	var list []string
	seen := map[string]bool{"": true}
	for _, k := range known {
		if !seen[k] {
			seen[k] = true
			list = append(list, k)
		}
	}
	return list
}

// enumerate lists names, the first dozen of many.
func enumerate(known []string) string {
	const most = 12
	if len(known) > most {
		return fmt.Sprintf("%s and %d more", strings.Join(known[:most], ", "), len(known)-most)
	}
	return strings.Join(known, ", ")
}

// distance counts the insertions, deletions, substitutions and swaps of neighbours that turn a into b, no part of the text being
// changed twice (optimal string alignment). Source: textbook dynamic programming.
func distance(a, b string) int {
	var before []int
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		next := make([]int, len(b)+1)
		next[0] = i
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			next[j] = min(row[j]+1, next[j-1]+1, row[j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				next[j] = min(next[j], before[j-2]+1)
			}
		}
		before, row = row, next
	}
	return row[len(b)]
}

// Suggest is the second half of an error about an unknown name: the nearest known ones, or all of a few.
func Suggest(name string, known []string) string { return suggest(name, known) }
