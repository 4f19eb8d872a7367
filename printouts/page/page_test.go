package page

import (
	"bytes"
	"math"
	"strings"
	"sync"
	"testing"
	"time"

	"nospark/printouts/page/canvas"
)

func TestSameCallsGiveTheSameBytes(t *testing.T) {
	want := sample(t, Options{})
	fonts, err := LoadFonts()
	if err != nil {
		t.Fatal(err)
	}
	// At the same time and with shared fonts, because documents of one class are made so.
	var group sync.WaitGroup
	for range 3 {
		group.Go(func() {
			if !bytes.Equal(sample(t, Options{Fonts: fonts}), want) {
				t.Error("two documents from the same calls differ")
			}
		})
	}
	group.Wait()
}

func TestErrorsComeOutOfBytes(t *testing.T) {
	good := Options{Date: sampleDate}
	check := func(name string, o Options, build func(*Document), want string) {
		t.Helper()
		d := New(o)
		build(d)
		out, err := d.Bytes()
		if err == nil || out != nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: error %v and %d bytes, want an error with %q", name, err, len(out), want)
		}
	}
	one := func(d *Document) { d.Section(Frame{}).Para("one") }
	check("paper", Options{Date: sampleDate, Paper: "folio"}, one, `"folio"`)
	check("date", Options{}, one, "no date")
	check("language", Options{Date: sampleDate, Language: "e)n"}, one, `"e)n"`)
	check("empty", good, func(*Document) {}, "no pages")
	check("number", good, func(d *Document) {
		d.Section(Frame{}).Draw(10, func(c Canvas) { c.Line(0, math.NaN(), 1, 1, Stroke(1)) })
	}, "nowhere")
	check("number in a path", good, func(d *Document) {
		d.Section(Frame{}).Draw(10, func(c Canvas) { c.Polyline(Stroke(1), Point{}, Point{X: math.Inf(1)}) })
	}, "nowhere")
	check("old section", good, func(d *Document) {
		old := d.Section(Frame{})
		d.Section(Frame{}).Para("new")
		old.Para("late")
	}, "complete")
	check("twice", good, func(d *Document) {
		one(d)
		if _, err := d.Bytes(); err != nil {
			t.Error(err)
		}
	}, "complete already")
}

func TestLibraryPanicBecomesAnError(t *testing.T) {
	d := New(Options{Date: sampleDate})
	f := d.Section(Frame{})
	f.Para("one")
	// past the cleaner: the library cannot take it
	f.list = append(f.list, canvas.Item{Kind: canvas.Text, Text: "\xff\xe0", Size: 10, Narrow: 1})
	f.pages[0] = append(f.pages[0], part{from: len(f.list) - 1, to: len(f.list)})
	if _, err := d.Bytes(); err == nil || !strings.Contains(err.Error(), "cannot be printed") {
		t.Errorf("error %v", err)
	}
}

func TestFileDates(t *testing.T) {
	d := New(Options{Date: time.Date(2026, 3, 2, 23, 0, 0, 0, time.FixedZone("", -5*3600)), Language: "en-US"})
	d.Section(Frame{}).Para("one")
	out, err := d.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"/CreationDate (D:20260303040000)", "/ModDate (D:20260303040000)", "/Lang (en-US)"} {
		if !bytes.Contains(out, []byte(want)) {
			t.Errorf("the file lacks %q", want)
		}
	}
}
