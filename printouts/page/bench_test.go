package page

import "testing"

// BenchmarkDocument is what a document costs before its first sheet: fonts and outline.
func BenchmarkDocument(b *testing.B) {
	for b.Loop() {
		d := New(Options{Date: sampleDate})
		d.Section(Frame{}).Para("a")
		if _, err := d.Bytes(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSheet is what one more sheet of two pages costs in a class's document.
func BenchmarkSheet(b *testing.B) {
	d := New(Options{Date: sampleDate})
	for b.Loop() {
		sampleSheet(d)
	}
	if _, err := d.Bytes(); err != nil {
		b.Fatal(err)
	}
}

// BenchmarkReadings is what one more readings sheet costs.
func BenchmarkReadings(b *testing.B) {
	d := New(Options{Date: sampleDate})
	for b.Loop() {
		sampleReadings(d)
	}
	if _, err := d.Bytes(); err != nil {
		b.Fatal(err)
	}
}

func BenchmarkLoadFonts(b *testing.B) {
	for b.Loop() {
		if _, err := LoadFonts(); err != nil {
			b.Fatal(err)
		}
	}
}
