// Package page makes the PDFs on which everything is printed: fonts, page frame, running text, tables, cautions and a vocabulary of
// drawing. It alone knows the PDF library.
//
// Start with [New], open a [Document.Section] for each sheet, and add blocks to the [Flow] that it gives; [Document.Bytes] completes
// the file. Blocks go from top to bottom and begin a new page when they must. [Flow.Together], [Flow.Beside] and [Flow.Columns] take
// a function that adds blocks and arrange what it added. [Flow.Draw] gives a [Canvas] to draw on.
//
// All lengths are millimeters, x to the right and y down; sizes of text are points. All text may come from outside: it is cleaned,
// and a character that the typeface lacks is printed as a box (ask [Fonts.Legible] beforehand). The same calls give the same
// bytes. Errors, also those of the library, come out of Bytes once; no method in between needs checking.
//
// What is printed is readable without color, after copying, and in the right order by a screen reader; sizes below 8 pt do not
// occur. The library cannot write tagged PDF, so no document is accessible in the sense of PDF/UA.
//
// It knows nothing of labs, circuits or marks, decides nothing, and reads no clock.
package page
