// Command scale measures nospark beside other programs on this machine and prints a table. testdata/scale/run.sh builds
// what it needs.
//
// It is no part of nospark: a benchmark that needs a typesetter, a simulator and a spreadsheet library of another
// language. Every comparison gives both programs the same content in the same run.
package main

import (
	"fmt"
	"os"
	"runtime"
	"time"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: scale FOLDER (see testdata/scale/run.sh)")
		os.Exit(2)
	}
	folder := os.Args[1]
	fmt.Printf("%s/%s, %d processors, %s\n\n", runtime.GOOS, runtime.GOARCH, runtime.NumCPU(), runtime.Version())
	failed := false
	for _, part := range []struct {
		title string
		run   func(folder string) error
	}{
		{"Operating points", points}, {"Best play", solvers}, {"Worksheets", typeset}, {"Results workbook", workbooks},
		{"From the plan to the marks", schools},
	} {
		fmt.Println(part.title)
		if err := part.run(folder); err != nil {
			fmt.Printf("  failed: %v\n", err)
			failed = true
		}
		fmt.Println()
	}
	if failed {
		os.Exit(1)
	}
}

// row prints a line of the table: ours beside another's, for one of many.
func row(what string, ours time.Duration, other string, theirs time.Duration, least float64) {
	ratio := float64(theirs) / float64(ours)
	verdict := ""
	if least > 0 {
		verdict = fmt.Sprintf("   bar %.0f: met", least)
		if ratio < least {
			verdict = fmt.Sprintf("   bar %.0f: missed", least)
		}
	}
	fmt.Printf("  %-58s %12v   %-24s %12v   ratio %8.1f%s\n", what, short(ours), other, short(theirs), ratio, verdict)
}

// short rounds to four digits.
func short(d time.Duration) time.Duration {
	unit := time.Duration(1)
	for d/unit > 9999 {
		unit *= 10
	}
	return d.Round(unit)
}
