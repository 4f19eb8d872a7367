// Package printouts knows which documents exist: for whom each of them is, under which name it is written, who may
// read it, and what it is made from. All that is one table in documents.go; [AtBuild], [AtReprint], [AtGrading]
// and [AtSummary] walk it. Nothing here writes a file.
//
// What a document says is content (package content and, one family each, handouts, debrief and instructor).
// Package paper prints content; worksheets, readings sheets, debriefs and charts have packages of their own below
// it, because their parts have fixed places.
//
// It decides nothing: what is hidden and what it is worth comes from packages scenarios and grading. Nothing of a
// Handout can depend on a fault except the texts of the readings, and no place, size or number of pages depends on
// those texts: a readings sheet has as many columns and pages as its number of lines asks for, and a text that is
// too long becomes smaller where it stands. Key, chart, overview and debriefs know the faults; they are no
// handouts.
package printouts
