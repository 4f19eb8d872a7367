// Package competency tells from the records of a term who can do what, on how much evidence.
//
// Start at Read, which gathers the records of a folder into a Term. standing.go applies the rule of mastery to one
// student, awards.go keeps what was decided. Package outcomes sums up. It prints nothing; printouts and its workbooks
// render a Term.
package competency
