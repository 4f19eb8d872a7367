// Package practicefile puts practice at home into one HTML file: the program compiled for browsers, the shelves with
// vehicles, the style sheet and one small script. The file opens from a memory stick or from any web address, and asks
// nobody for anything.
//
// Start at [Make]. The program itself is cmd/practice; [Compile] makes it with Go.
package practicefile
