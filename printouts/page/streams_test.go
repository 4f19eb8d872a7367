package page

import (
	"bytes"
	"compress/zlib"
	"io"
	"testing"
)

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
