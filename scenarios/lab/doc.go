// Package lab is a lab as it was frozen when it was built: one sheet per student with a hidden fault of known
// difficulty, every reading of it, and the matrix that grades it.
//
// Start at Lab (lab.go). Read and Decode (file.go) give a sound one: no index in it leads outside (sound.go). Problem
// and Suspects (problem.go) are what the solver of best play sees. Detail (detail.go) and Specs (specs.go) follow from
// the text of the pack that the lab keeps. Printing and grading need nothing else, so a lab graded years later gives
// the same marks.
//
// A lab knows everything that is hidden. What students may see of it is made by package handout, and labs are made by
// package build.
package lab
