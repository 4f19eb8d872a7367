// Package scenarios holds no code: it is the house of everything that comes before a mark.
//
// Data flows from pack (what a vehicle is, and what can go wrong with it) through vehicle (what every meter shows) and
// build (what each sheet hides) into lab, the frozen value from which printing and grading work alone. handout is what
// of a lab students may see. term is the folder, the key and the plan of an instructor; isolation proves best play;
// circuit solves networks. The other rooms read and write files, draw random numbers and find misspelled words.
package scenarios
