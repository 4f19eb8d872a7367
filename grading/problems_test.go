package grading

import (
	"fmt"
	"testing"
)

// A file of junk fills no list: what was said of the others is still there.
func TestFewerProblems(t *testing.T) {
	var all []Problem
	for i := range 5000 {
		all = append(all, Problem{fmt.Sprintf("junk.csv, row %d", i+2), "nobody", "look"})
	}
	all = append(all, Problem{"entry.xlsx, D7", "no repair", "look"}, Problem{"adjust.toml:3", "broad", "look"})
	got := fewer(all)
	if len(got) != mostProblems+2 || got[len(got)-1].Place != "adjust.toml:3" ||
		got[len(got)-2].Place != "entry.xlsx, D7" {
		t.Fatalf("%d problems, the last %v", len(got), got[len(got)-2:])
	}
	if last := got[mostProblems-1]; last.Place != "junk.csv" || last.What != "4801 more things to look at" {
		t.Errorf("the rest is told as %v", last)
	}
	if few := fewer(all[:mostProblems]); len(few) != mostProblems || few[mostProblems-1].What != "nobody" {
		t.Errorf("%d problems of as many as are told", len(few))
	}
}
