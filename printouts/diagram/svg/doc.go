// Package svg makes of a scene an image that stands by itself in a page for a browser: no scripts, no style sheet, no
// files.
//
// Start with [Render]; lay the scene out with [Width] as its measure. Lines and letters have the color of the text
// around the image, so that it serves dark pages and light ones; what hides something below has the color of the page,
// the property --paper where the page sets it. Text stays text. Every line of text is held to the width for which room
// was found, whatever typeface the browser has.
//
// It knows no PDF and embeds no typeface, because it is compiled for browsers too.
package svg
