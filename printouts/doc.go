// Package printouts makes everything that a person reads: the class reference, worksheets, readings sheets and their plain-text twins.
//
// Start at Reference, Worksheets and Readings, which turn a scenarios.Handout into PDFs, and at WorksheetText and ReadingsText. A
// function here takes values and gives bytes; it writes no file.
//
// It decides nothing. Nothing it prints for students can depend on a fault except through the texts of the readings, because a
// Handout has no room for one, and no place, size or number of pages depends on those texts: a readings sheet has as many columns and
// pages as its number of lines asks for, and a text that is too long becomes smaller where it stands.
package printouts
