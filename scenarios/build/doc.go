// Package build makes a lab of a plan, a roster, a pack and the term's key, or adds sheets to one.
//
// Start at Load (load.go), which gathers what a plan needs, and at Lab (build.go). Which case a sheet begins with and
// what it hides is decided in choose and row (deal.go); the vehicle that shows it is drawn in vehicle.go. Everything
// random comes from the term's key through named streams, so equal inputs give an equal lab.
//
// It computes no circuit and gives no mark: packages vehicle and grading do.
package build
