// Package typeset knows the typefaces of everything printed: which characters they have, how wide a text is, and where
// its lines break. It prints nothing.
//
// Start with [LoadFonts] and a [Setter]. All text may come from outside: it is cleaned before it is measured, and a
// character that the typefaces lack becomes a box; ask [Fonts.Legible] beforehand.
package typeset
