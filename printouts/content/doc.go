// Package content says what a document holds, as plain values: sections of blocks such as headings, paragraphs,
// tables and forms.
//
// Start with [Document]. A block says what it means, and never how it is drawn: a heading has its level, a table
// the heads of its columns, a figure a text that tells the same, a field its label. Renderers make of the same
// blocks a PDF (package page), or plain text ([Text]). They say the same words in the same order. Hints for paper,
// such as [Columns] and [Look], are free to be ignored.
//
// Texts may hold words between pairs of **, which are stressed.
package content
