// Package diagram draws a circuit and oscilloscope traces as lines and curves.
//
// Start at [Layout], which turns a handout.Diagram and a frame into a scene: shapes and texts with their places in
// millimeters, and the same circuit as a table for whoever does not see it. [Trace] does so for the picture of an
// oscilloscope. A canvas of package printouts/page puts a scene on paper, package svg makes an image for a browser of
// it. In between nothing is known of PDF or SVG, so a test can ask a layout whether a label lies across a wire. Symbols
// follow the forms of IEC 60617 where that standard has one for the part, and are boxes with named pins otherwise.
//
// It decides nothing about the circuit: places, corners and the sides of labels come with the diagram. It only looks
// for room.
package diagram
