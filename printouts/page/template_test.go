package page

import (
	"bytes"
	"testing"
)

// TestTemplate: what many pages bear is drawn once and stands in the file once.
func TestTemplate(t *testing.T) {
	drawn := 0
	form := NewTemplate(func(c Canvas) {
		drawn++
		c.Rect(10, 10, c.W-20, c.H-20, Stroke(1))
		c.Text(20, 20, "bold", Style{Bold: true})
	})
	d := New(Options{Date: sampleDate})
	for _, name := range []string{"one", "two", "three"} {
		f := d.Section(Frame{Name: name})
		f.Template(form)
		f.Overlay(func(c Canvas) { c.Text(20, 40, name, Style{}) })
	}
	pdf, err := d.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	if forms := bytes.Count(pdf, []byte("/Subtype /Form")); drawn != 1 || forms != 1 {
		t.Errorf("drawn %d times, %d times in the file, want once", drawn, forms)
	}
	uses := 0
	for _, s := range streams(t, pdf) {
		if bytes.Contains([]byte(s), []byte("/TPL")) {
			uses++
		}
	}
	if uses != 3 {
		t.Errorf("%d pages bear it, want 3", uses)
	}
}

// A template that cannot be drawn is an error of the document.
func TestStampNowhere(t *testing.T) {
	d := New(Options{Date: sampleDate})
	f := d.Section(Frame{})
	f.Template(NewTemplate(func(c Canvas) { c.Line(0, 0, 1/(c.W-c.W), 0, Stroke(1)) }))
	f.Para("a")
	if _, err := d.Bytes(); err == nil {
		t.Error("a line to nowhere is printed")
	}
}
