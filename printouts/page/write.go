package page

import "nospark/printouts/page/pdf"

// write hands the section's pages to the file, each with its head and foot around the body, in reading order.
func (f *Flow) write(w *pdf.Writer) error {
	for i, parts := range f.pages {
		w.Page(f.pageW, f.pageH)
		if i == 0 {
			w.Bookmark(f.frame.Name)
		}
		from := len(f.list)
		f.frame.head(f.paper())
		between := len(f.list)
		f.frame.foot(f.paper(), i+1, len(f.pages))
		if err := w.Draw(f.list[from:between], 0, 0); err != nil {
			return err
		}
		for _, part := range parts {
			if err := f.writePart(w, part); err != nil {
				return err
			}
		}
		if err := w.Draw(f.list[between:], 0, 0); err != nil {
			return err
		}
		f.list = f.list[:from]
	}
	return nil
}

// writePart puts a part on the current page of the file.
func (f *Flow) writePart(w *pdf.Writer, p part) error {
	if p.template == nil {
		return w.Draw(f.list[p.from:p.to], p.x, p.y)
	}
	if !p.template.written {
		made, err := w.Template(p.template.list, f.pageW, f.pageH)
		if err != nil {
			return err
		}
		p.template.made, p.template.written = made, true
	}
	return w.Use(p.template.made)
}
