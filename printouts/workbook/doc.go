// Package workbook makes the spreadsheets: of a lab the form in which an instructor types what was handed in, and the results; of a term
// who can do what.
//
// Start at Entry, EntryCSV, Results and Competency: values go in, the bytes of a file come out. Nothing is decided here; what a workbook
// counts or averages is only how it shows what grading found. Results calls a method for each of its sheets, each in a file of its name
// (scores.go, steps.go, ...), and so does Competency (competency*.go).
//
// Below them stands a small core that any workbook of the project can be made with. A book (book.go) collects sheets; a sheet (sheet.go)
// collects cells, widths and print setup in memory; a look (look.go) is how a cell is drawn; a table (table.go) is a heading row with
// rows below it. Equal values give equal bytes (parts.go). Text from outside is written as text cells, never as a formula, so that a name
// like "=1+1" stays a name (clean.go).
//
// It reads no workbook; package submission does.
package workbook
