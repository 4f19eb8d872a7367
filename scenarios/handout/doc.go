// Package handout is what of a lab may be given to students.
//
// Of makes a Handout from a frozen lab. None of its types has room for a fault, a suspect or a band; only ReadingsSheet
// depends on what is hidden, and only through the texts of its readings. That is why printing handouts takes this value
// and not the lab.
package handout
