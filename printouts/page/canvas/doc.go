// Package canvas draws: lines, shapes, text, scenes and line charts, on a rectangle of paper. It turns what is drawn
// into a [DisplayList], which package printouts/page arranges on pages and package printouts/page/pdf writes.
//
// Start with [New]. All text is cleaned; see package typeset.
package canvas
