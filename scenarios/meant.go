package scenarios

import (
	"strconv"
	"strings"
)

// meant is the hint for a misspelt word: `; did you mean "idle"?`, or "" when nothing is near. Near is an edit distance of at most a
// third of the word's length, at least 1, and less than the whole word; of several equally near words the first wins.
func meant(word string, words []string) string {
	best, at := min(max(1, len(word)/3), len(word)-1)+1, ""
	for _, w := range words {
		if d := distance(strings.ToLower(word), strings.ToLower(w), best); d < best {
			best, at = d, w
		}
	}
	if at == "" {
		return ""
	}
	return "; did you mean " + strconv.Quote(at) + "?"
}

// distance is Levenshtein's edit distance in bytes, or limit if it is not below that.
func distance(a, b string, limit int) int {
	if max(len(a)-len(b), len(b)-len(a)) >= limit {
		return limit
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return min(row[len(b)], limit)
}

// quoted joins words for an error: "a", "b", "c".
func quoted(words []string) string {
	all := make([]string, len(words))
	for i, w := range words {
		all[i] = strconv.Quote(w)
	}
	return strings.Join(all, ", ")
}
