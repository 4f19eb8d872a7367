// Package cases finds how the sheets of a lab may begin: which readings somebody may have taken already, so that every
// sheet is a problem of its own and all of them are about equally hard.
//
// Start at Find. It tries every set of one or two quick tests (enumerate.go), and keeps a state, the suspects that are
// left by one outcome of such a set, when it is a fair problem: enough repairs, none of them too likely, about as long
// as the others for best play, about as hard for somebody who walks from point to point (walk.go), and not solved by
// following the chart of the empty-handed start (chart.go).
//
// It depends on a lab's matrix, checks and rubric alone, never on a term's key, so everybody who has the pack can work
// out the same cases. Which of them a sheet gets, and which row of the matrix it then hides, is decided in package
// build.
package cases
