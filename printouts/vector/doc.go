// Package vector says what drawings are made of, without drawing them: points, paths, pens, colors, styles of text, and
// the [Scene], a complete drawing as a value.
//
// A scene knows nothing of the paper or the screen that shows it. Package printouts/page puts one into a PDF, package
// printouts/diagram/svg makes an image for a browser of it, and a test can ask it whether two labels overlap.
//
// All lengths are millimeters, x to the right and y down; sizes of text are points.
package vector
