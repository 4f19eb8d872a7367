package page

import (
	"bytes"
	"compress/zlib"
	"io"
	"testing"

	"github.com/go-pdf/fpdf"
)

// plain is a small file as the library writes it without compression.
func plain(t testing.TB) []byte {
	t.Helper()
	pdf := fpdf.New("P", "mm", "A4", "")
	pdf.SetCompression(false)
	for range 3 {
		pdf.AddPage()
		pdf.Line(10, 10, 100, 100)
	}
	var out bytes.Buffer
	if err := pdf.Output(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// streams gives what stands between the words of a file, unpacked where it is packed.
func streams(t testing.TB, pdf []byte) (all []string) {
	t.Helper()
	for {
		_, after, more := bytes.Cut(pdf, []byte("\nstream\n"))
		if !more {
			return all
		}
		content, rest, _ := bytes.Cut(after, []byte("\nendstream\n"))
		pdf = rest
		if r, err := zlib.NewReader(bytes.NewReader(content)); err == nil {
			if content, err = io.ReadAll(r); err != nil {
				t.Fatal(err)
			}
		}
		all = append(all, string(content))
	}
}

func TestDeflated(t *testing.T) {
	before := plain(t)
	after, err := deflated(before)
	if err != nil {
		t.Fatal(err)
	}
	a, b := streams(t, before), streams(t, after)
	if len(a) != 3 || len(b) != 3 {
		t.Fatalf("%d streams became %d, want 3 pages", len(a), len(b))
	}
	for i := range a {
		if a[i] != b[i] || !bytes.Contains(before, []byte(a[i])) || bytes.Contains(after, []byte(a[i])) {
			t.Errorf("stream %d: %q became %q", i, a[i], b[i])
		}
	}
	objects, table, err := readTable(after)
	if err != nil || !bytes.HasPrefix(after[table.place:], []byte("xref\n")) {
		t.Fatalf("table at %d: %v", table.place, err)
	}
	for _, o := range objects {
		if !bytes.Contains(after[o.place:o.place+12], []byte(" 0 obj\n")) {
			t.Errorf("object %d is not at %d: %q", o.number, o.place, after[o.place:o.place+12])
		}
	}
	if again, err := deflated(after); err != nil || !bytes.Equal(again, after) {
		t.Errorf("what is compressed already changed: %v", err)
	}
}

func TestDeflatedRefusesWhatItDoesNotKnow(t *testing.T) {
	whole := plain(t)
	for _, cut := range []int{0, 1, 40, len(whole) / 2, len(whole) - 1} {
		if _, err := deflated(whole[:cut]); err == nil {
			t.Errorf("the first %d of %d bytes are taken for a file", cut, len(whole))
		}
	}
	if _, err := deflated(bytes.Replace(whole, []byte("xref\n0"), []byte("xref\n1"), 1)); err == nil {
		t.Error("a table that begins elsewhere is taken for one")
	}
}
