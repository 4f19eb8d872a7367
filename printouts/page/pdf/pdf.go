package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"time"

	"github.com/go-pdf/fpdf"

	"nospark/printouts/page/canvas"
	"nospark/printouts/page/typeset"
)

// Info is what a file says of itself.
type Info struct {
	Title    string
	Subject  string    // optional
	Language string    // language tag, like "en"
	Date     time.Time // printed into the file as its date; required, so that the same document is the same file
}

// Check finds what the library would accept and spoil.
func (i Info) Check() error {
	if i.Date.IsZero() || i.Date.Year() < 1 || i.Date.Year() > 9999 {
		return errors.New("the document has no date: " + i.Date.Format(time.DateOnly))
	}
	for _, r := range i.Language {
		if (r < 'a' || r > 'z') && (r < 'A' || r > 'Z') && (r < '0' || r > '9') && r != '-' {
			return fmt.Errorf("language %q: must be letters, digits and hyphens, like \"en\" or \"en-US\"", i.Language)
		}
	}
	return nil
}

// Writer writes a PDF page by page.
type Writer struct {
	out       painter
	drawn     bool // something stands on the current page
	bookmarks []bookmark
}

type bookmark struct {
	name   string
	page   int
	height float64 // of its page, mm
}

// Template is a drawing that stands in the file once and on many pages.
type Template struct{ made fpdf.Template }

// New begins a file.
func New(i Info) *Writer {
	pdf := fpdf.New("P", "mm", "A4", "")
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(i.Date.UTC())
	pdf.SetModificationDate(i.Date.UTC())
	pdf.SetProducer("nospark", true)
	pdf.SetTitle(typeset.Clean(i.Title, 200), true)
	if i.Subject != "" {
		pdf.SetSubject(typeset.Clean(i.Subject, 200), true)
	}
	pdf.SetLang(i.Language)
	pdf.SetLineJoinStyle("round")
	return &Writer{out: painter{pdf: pdf}}
}

// Page begins a page of the given size in mm.
func (w *Writer) Page(width, height float64) {
	pdf := w.out.pdf
	if w.drawn || pdf.PageNo() == 0 {
		w.out.level()
	}
	w.drawn = false
	if width > height {
		pdf.AddPageFormat("L", fpdf.SizeType{Wd: height, Ht: width})
	} else {
		pdf.AddPageFormat("P", fpdf.SizeType{Wd: width, Ht: height})
	}
	w.out.height = height
	w.out.told = told{}
}

// Bookmark puts the current page into the outline.
func (w *Writer) Bookmark(name string) {
	if name != "" {
		w.bookmarks = append(w.bookmarks, bookmark{typeset.Clean(name, 120), w.out.pdf.PageNo(), w.out.height})
	}
}

// Draw puts a display list on the current page, moved by (dx, dy).
func (w *Writer) Draw(list canvas.DisplayList, dx, dy float64) error {
	w.drawn = true
	return w.out.draw(list, dx, dy)
}

// Template makes a template of a display list on paper of the given size (a form XObject, ISO 32000-1, 8.10).
func (w *Writer) Template(list canvas.DisplayList, width, height float64) (Template, error) {
	var err error
	made := w.out.pdf.CreateTemplateCustom(fpdf.PointType{}, fpdf.SizeType{Wd: width, Ht: height}, func(t *fpdf.Tpl) {
		// the typefaces are shared with the document, all other state is not
		inner := painter{pdf: &t.Fpdf, height: height, loaded: w.out.loaded}
		inner.level()
		err = inner.draw(list, 0, 0)
		w.out.loaded = inner.loaded
	})
	return Template{made}, err
}

// Use puts a template on the current page.
func (w *Writer) Use(t Template) error {
	w.drawn = true
	w.out.pdf.UseTemplate(t.made)
	return w.out.pdf.Error()
}

// Bytes completes the file.
func (w *Writer) Bytes() ([]byte, error) {
	pdf := w.out.pdf
	if w.drawn {
		w.out.level()
	}
	last := pdf.PageNo()
	for _, b := range w.bookmarks {
		// The library measures every destination from the foot of its last page.
		pdf.SetPage(b.page)
		pdf.Bookmark(b.name, 0, w.out.height-b.height)
	}
	if len(w.bookmarks) > 0 {
		pdf.SetPage(last) // the library prints no page beyond the current one
	}
	var out bytes.Buffer
	if err := pdf.Output(&out); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}
