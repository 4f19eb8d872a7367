// Package proof tells what must have been looked at before a repair may be sold: which checks the repair of each row of
// a pack's matrix needs, and which of the pack's tests make them. Both follow from the kinds of the parts, from the
// wiring and from the simulated vehicle.
//
// Start at Of. A part is bad when its own feed, ground and inputs are good and its output or its own test is not
// (rules.go); a wire, a fuse or a switch when one end is good and a reading on it is not (path.go). A test proves a pin
// when it would have shown it, had the vehicle with this very fault lost that pin as well: cut.go tries that out.
// Nothing is wrong when the results that the customer misses are there (result.go). A pack adds checks and takes some
// away (declared.go).
//
// Lint lists what of all this a pack cannot do, and proofs that take too long. Of a built lab it knows nothing: which
// tests a plan leaves out, who is given what and what a skipped check costs is decided elsewhere. For Lint it makes up
// a lab of every test, to let best play show how long the proofs are.
package proof
