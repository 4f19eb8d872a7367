// Package pdf writes display lists into a PDF. It alone knows the PDF library, and it steps around what the library
// gets wrong: pages are counted by us, its cells and tables are not used, all text it sees is clean, and its memory of
// colors and fonts is not trusted across pages and rotations.
//
// Start with [New]; [Writer.Page] begins a page, [Writer.Draw] fills it, [Writer.Bytes] completes the file. The library
// can panic on what it cannot print; callers recover.
package pdf
