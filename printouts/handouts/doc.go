// Package handouts says what the papers of a lab hold that students work with: the worksheet, the readings sheet
// that the partner has, and the booklet. It makes content of a handout.Handout, in which no fault has
// room, so nothing here can tell one.
//
// The words stand in words.go, once for every renderer and for the hand that places the parts of a worksheet.
package handouts
