package grading

import (
	"fmt"

	"nospark/grading/submission"
)

// mostProblems bounds what is told of one file: nobody reads thousands, and what made them is one thing.
const mostProblems = 200

// fewer keeps the first problems of each file and says how many more there are.
func fewer(problems []Problem) []Problem {
	seen := map[string]int{}
	for _, p := range problems {
		seen[submission.FileAt(p.Place)]++
	}
	var kept []Problem
	told := map[string]int{}
	for _, p := range problems {
		file := submission.FileAt(p.Place)
		told[file]++
		switch more := seen[file] - mostProblems + 1; {
		case seen[file] <= mostProblems || told[file] < mostProblems:
			kept = append(kept, p)
		case told[file] == mostProblems:
			kept = append(kept, Problem{file, fmt.Sprintf("%d more things to look at", more),
				"mend those above and grade again"})
		}
	}
	return kept
}
