// Package screen makes pages for a browser of content: semantic HTML that stands by itself, with its style sheet and
// its drawings inside, without scripts, and with nothing that a browser would load.
//
// Start with [New]. [Screen.Page] makes a whole document; [Screen.Fragment] makes blocks that stand among others, and
// [Screen.Frame] the page around what somebody else has made. [Style] is the style sheet of all of them.
//
// A page says the same words in the same order as plain text and paper do. It knows no PDF, no spreadsheet and no
// network, because it is compiled for browsers too.
package screen
