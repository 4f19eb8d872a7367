// Package page lays documents out on paper: running text, tables, boxes, cautions and drawings, from top to bottom of
// as many pages as it takes.
//
// Start with [New], open a [Document.Section] for each sheet, and add blocks to the [Flow] that it gives;
// [Document.Bytes] completes the file. Blocks go from top to bottom and begin a new page when they must.
// [Flow.Together], [Flow.Beside] and [Flow.Columns] take a function that adds blocks and arrange what it added.
// [Flow.Draw] gives a [Canvas] to draw on.
//
// Below it, package typeset measures and breaks text, package canvas draws, and package pdf writes what was drawn.
//
// All lengths are millimeters, x to the right and y down; sizes of text are points. All text may come from outside: it
// is cleaned, and a character that the typeface lacks is printed as a box (ask [Fonts.Legible] beforehand). The same
// calls give the same bytes. Errors, also those of the PDF library, come out of Bytes once; no method in between needs
// checking.
//
// What is printed is readable without color, after copying, and in the right order by a screen reader; sizes below 8 pt
// do not occur. The PDF library cannot write tagged PDF, so no document is accessible in the sense of PDF/UA.
//
// It knows nothing of labs, circuits or marks, decides nothing, and reads no clock.
package page
