// Package workbook writes spreadsheets: cells, styles, tables, charts and the settings of a page. It knows nothing of
// labs; the packages below it do: entry makes the form in which an instructor types what was handed in, results the
// results of a lab, rollup who can do what at the end of a term. It is the only user of the spreadsheet library besides
// their tests, and reads no workbook; package submission does.
//
// Start at Book (book.go), which collects sheets. A Sheet (sheet.go) collects cells, widths and print settings in
// memory; a Style (style.go) is how a cell is drawn; a table (table.go) is a heading row with rows below it. Equal
// values give equal bytes (package.go). Text from outside is written as text cells, never as a formula, so that a name
// like "=1+1" stays a name (text.go).
package workbook
