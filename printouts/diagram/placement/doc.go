// Package placement finds places for a diagram whose author gave none: start at [Find].
//
// Feeds come above, grounds below, and in between everything is upright. A node where three or more things meet becomes
// a bar, a level line at a height of its own; what lies between two bars hangs in a column of its own, so that nothing
// ever lies on something else. Parts with more than two pins are boxes in a row of their own; bars stand above or below
// that row, and a pin leaves its box towards its bar. Lines may cross a bar that they are not joined to; there is no
// dot then.
//
// It is for the circuit of a lamp or a horn. The places of a whole ignition, given by a person who knows it, read
// better.
package placement
