package page

import (
	"errors"
	"fmt"
	"time"

	"nospark/printouts/page/canvas"
	"nospark/printouts/page/pdf"
	"nospark/printouts/page/typeset"
)

// Options fix a document.
type Options struct {
	Paper      string    // "letter" or "a4"; "" means letter
	Title      string    // shown by viewers
	Subject    string    // optional
	Language   string    // language tag; "" means "en"
	LargePrint bool      // all sections in large print
	FrontPages bool      // every section begins on the front of a sheet when printed on both sides
	Date       time.Time // printed into the file as its date; required, so that the same document is the same file
	Fonts      *Fonts    // to share between documents; nil means the document loads its own
}

// Document is a PDF in the making. It is for one goroutine; several documents can be made at the same time.
type Document struct {
	options   Options
	width     float64 // of the paper upright, mm
	height    float64
	fonts     *Fonts
	file      *pdf.Writer
	section   *Flow                       // still open
	list      canvas.DisplayList          // memory of the section before, used again
	templates map[*Template]*usedTemplate // drawn so far
	pages     int                         // complete
	err       error                       // the first one
}

// New begins a document. Wrong options are reported by [Document.Bytes].
func New(o Options) *Document {
	if o.Language == "" {
		o.Language = "en"
	}
	d := &Document{options: o, fonts: o.Fonts, templates: map[*Template]*usedTemplate{}}
	switch o.Paper {
	case "", "letter":
		d.width, d.height = 215.9, 279.4
	case "a4":
		d.width, d.height = 210, 297
	default:
		d.width, d.height = 215.9, 279.4
		d.fail(fmt.Errorf("paper %q: must be letter or a4", o.Paper))
	}
	info := pdf.Info{Title: o.Title, Subject: o.Subject, Language: o.Language, Date: o.Date}
	d.fail(info.Check())
	if d.fonts == nil {
		fonts, err := LoadFonts()
		if err != nil {
			d.fail(err)
			fonts = new(Fonts)
		}
		d.fonts = fonts
	}
	d.guard(func() error { d.file = pdf.New(info); return nil })
	return d
}

// fail keeps the first error.
func (d *Document) fail(err error) {
	if d.err == nil && err != nil {
		d.err = err
	}
}

// guard runs what calls the PDF library, whose panics become errors: one strange name must not stop a class.
func (d *Document) guard(work func() error) {
	if d.err != nil {
		return
	}
	defer func() {
		if cause := recover(); cause != nil {
			d.fail(fmt.Errorf("the document cannot be printed: %v", cause))
		}
	}()
	d.fail(work())
}

// Bytes completes the document. It can be called once; nothing can be added afterwards.
func (d *Document) Bytes() ([]byte, error) {
	d.close()
	if d.err == nil && d.pages == 0 {
		d.fail(errors.New("the document has no pages"))
	}
	var out []byte
	d.guard(func() (err error) {
		out, err = d.file.Bytes()
		return err
	})
	if d.err != nil {
		return nil, d.err
	}
	d.err = errors.New("the document is complete already")
	return out, nil
}

// Section begins a part with its own running head and page numbers, on a new page: a student's sheet, the diagram, the
// key. The section before is complete then.
func (d *Document) Section(frame Frame) *Flow {
	d.close()
	setter := &typeset.Setter{Sizes: typeset.SizesFor(frame.Size, frame.Large || d.options.LargePrint), Fonts: d.fonts}
	f := newFlow(setter, frame, d.width, d.height, d.list)
	f.templates, f.fail = d.templates, d.fail
	d.section = f
	return f
}

// close prints the open section.
func (d *Document) close() {
	f := d.section
	if f == nil {
		return
	}
	d.section = nil
	f.settle()
	f.complete = true
	d.guard(func() error {
		if d.options.FrontPages && d.pages%2 == 1 {
			d.file.Page(f.pageW, f.pageH)
			d.pages++
		}
		return f.write(d.file)
	})
	d.pages += len(f.pages)
	clear(f.list[:cap(f.list)]) // frees the texts
	d.list = f.list[:0]
}
