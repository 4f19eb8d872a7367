// Package printouts makes everything that a person reads on paper.
//
// For students, before the lab: Reference, Worksheets and Readings, which turn a handout.Handout into PDFs, and their plain-text twins
// WorksheetText and ReadingsText. After it: Debriefs. For the instructor: Pairing, HowTo, Key and Chart before the lab, Overview after it.
// A function here takes values and gives bytes; it writes no file.
//
// It decides nothing: what is hidden and what it is worth comes from packages scenarios and grading. Nothing of a Handout can depend on a
// fault except the texts of the readings, and no place, size or number of pages depends on those texts: a readings sheet has as many columns
// and pages as its number of lines asks for, and a text that is too long becomes smaller where it stands. Key, Chart, Overview and Debriefs
// know the faults; they are no handouts.
package printouts
