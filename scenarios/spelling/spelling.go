// Package spelling finds the known name that somebody meant who wrote one that is not known.
//
// Start at Suggest, which words the end of an error, or at Nearest for the name alone. The package knows no
// language: names are compared letter by letter, without regard to case.
package spelling

import (
	"fmt"
	"strconv"
	"strings"
)

// Nearest gives the known name that needs the fewest slips to become name, "" when none is near. Near is at most a
// third of the name's length, at least 1, and less than the whole name; of several equally near ones the first
// wins. Empty names are passed over.
func Nearest(name string, known []string) string {
	found, limit := "", 1+min(max(1, len(name)/3), len(name)-1)
	for _, k := range known {
		if k == "" || len(name) > 2*len(k)+3 {
			continue // too long to be near, and slow to compare
		}
		if d := distance(strings.ToLower(name), strings.ToLower(k)); d < limit {
			found, limit = k, d
		}
	}
	return found
}

// Ask is the end of a message about name: `; did you mean "idle"?`, or "" when nothing is near.
func Ask(name string, known []string) string {
	near := Nearest(name, known)
	if near == "" {
		return ""
	}
	return "; did you mean " + strconv.Quote(near) + "?"
}

// Suggest is the hint for a name that is not known: the nearest known name, or the known names when none is near.
func Suggest(name string, known []string) string {
	known = distinct(known)
	near := Nearest(name, known)
	switch {
	case near != "":
		return fmt.Sprintf("did you mean %q?", near)
	case len(known) == 0:
		return "there is none"
	}
	return "known: " + Enumerate(known)
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

// Enumerate lists names, the first dozen of many.
func Enumerate(names []string) string {
	const most = 12
	var shown []string
	for _, name := range names[:min(len(names), most)] {
		shown = append(shown, Plain(name))
	}
	list := strings.Join(shown, ", ")
	if len(names) > most {
		list = fmt.Sprintf("%s and %d more", list, len(names)-most)
	}
	return list
}

// Plain is the name as it stands in a message: quoted where it has characters that would break the line or the
// terminal.
func Plain(name string) string {
	if quoted := strconv.Quote(name); quoted != `"`+name+`"` {
		return quoted
	}
	return name
}

// distance counts the insertions, deletions, substitutions and swaps of neighbors that turn a into b, no part of
// the text being changed twice (optimal string alignment). Source: textbook dynamic programming.
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
