package workbook

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"time"

	"github.com/xuri/excelize/v2"
)

// Book is a workbook being made. The first error is kept and ends everything after it, so that the code which fills
// sheets reads as a list; Bytes returns it.
type Book struct {
	file   *excelize.File
	paper  int           // as the file format numbers papers: 1 is letter, 9 is A4
	footer string        // at the left of each page's foot
	styles map[Style]int // numbers of the styles used so far, so that each is in the file once
	sheets []*Sheet      // in the order of their tabs
	err    error         // the first
}

// New begins a workbook. paper is "letter" or "a4"; title goes into the properties and the foot of each page, date
// (2026-10-05) into the properties.
func New(title, paper, date string) *Book {
	b := &Book{file: excelize.NewFile(), paper: 1, footer: clean(title), styles: map[Style]int{}}
	if paper == "a4" {
		b.paper = 9
	}
	b.file.SetZipWriter(func(to io.Writer) excelize.ZipWriter { return newPackageWriter(to) })
	b.check(b.file.SetDefaultFont(fontName))
	// The library would write a date and an author of its own.
	props := excelize.DocProperties{Title: b.footer, Creator: "nospark"}
	if _, err := time.Parse(time.DateOnly, date); err == nil {
		props.Created, props.Modified = date+"T00:00:00Z", date+"T00:00:00Z"
	}
	b.check(b.file.SetDocProps(&props))
	// Values are stored beside the formulas; a program that opens the file shall still work them out itself.
	b.check(b.file.SetCalcProps(&excelize.CalcPropsOptions{FullCalcOnLoad: new(true)}))
	return b
}

// check keeps the first error and reports whether all is well.
func (b *Book) check(err error) bool {
	if b.err == nil {
		b.err = err
	}
	return b.err == nil
}

// styleID returns the number of a style in the file.
func (b *Book) styleID(l Style) int {
	id, ok := b.styles[l]
	if !ok && b.err == nil {
		var err error
		id, err = b.file.NewStyle(l.native())
		b.check(err)
		b.styles[l] = id
	}
	return id
}

// DefineName gives a range a name that formulas, lists and formats of every sheet can use. Rules for formats need one
// to speak of another sheet: a plain reference is refused there by older programs.
func (b *Book) DefineName(name, ref string) {
	b.check(b.file.SetDefinedName(&excelize.DefinedName{Name: name, RefersTo: ref}))
}

// Bytes finishes the workbook. It opens on the sheet of that name.
func (b *Book) Bytes(open string) (data []byte, err error) {
	defer func() {
		if closeErr := b.file.Close(); err == nil && closeErr != nil {
			data, err = nil, closeErr
		}
	}()
	if b.err == nil && len(b.sheets) == 0 {
		b.err = errors.New("no sheet")
	}
	index, err := b.file.GetSheetIndex(open)
	if b.check(err) {
		b.file.SetActiveSheet(index)
	}
	// Rows are streamed, and a setting made after that is lost without a word: so all settings come first.
	for _, s := range b.sheets {
		s.applySettings()
	}
	for _, s := range b.sheets {
		s.writeRows()
	}
	if b.err != nil {
		return nil, fmt.Errorf("workbook: %w", b.err)
	}
	var out bytes.Buffer
	if err := b.file.Write(&out); err != nil {
		return nil, fmt.Errorf("workbook: %w", err)
	}
	return out.Bytes(), nil
}
