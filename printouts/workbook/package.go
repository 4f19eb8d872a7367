package workbook

import (
	"archive/zip"
	"bytes"
	"cmp"
	"compress/flate"
	"encoding/xml"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"io/fs"
	"maps"
	"slices"
	"strings"
)

// contentTypes is the part that names the types of all others; readers expect it first.
const contentTypes = "[Content_Types].xml"

// packageWriter writes the parts of a workbook so that equal workbooks give equal bytes. The library does not: it hands
// parts over, and lists content types, in the order of maps wherever there is a chart or more than one streamed sheet,
// and has no setting for it. So the parts are kept until Close, which sorts them and gives all the same time. They are
// kept compressed, because the rows of a whole school would take hundreds of megabytes.
type packageWriter struct {
	to    io.Writer
	parts map[string]*part
	open  *part // the one being written; it is complete when the next begins, as with any zip
}

func newPackageWriter(to io.Writer) *packageWriter {
	return &packageWriter{to: to, parts: map[string]*part{}}
}

// Create begins a part.
func (p *packageWriter) Create(name string) (io.Writer, error) {
	if p.parts[name] != nil {
		return nil, fmt.Errorf("part %s is there twice", name)
	}
	if err := p.finish(); err != nil {
		return nil, err
	}
	x, err := newPart(name)
	p.parts[name], p.open = x, x
	return x, err
}

// finish completes the part that is open.
func (p *packageWriter) finish() error {
	x := p.open
	p.open = nil
	if x == nil {
		return nil
	}
	return x.close()
}

// AddFS is asked for by the library's interface, which never calls it.
func (p *packageWriter) AddFS(fs.FS) error {
	return errors.New("parts of a workbook are not copied from files")
}

// Close writes the package.
func (p *packageWriter) Close() error {
	if err := p.finish(); err != nil {
		return err
	}
	w := zip.NewWriter(p.to)
	// "[" stands before every small letter, so the content types come first
	for _, name := range slices.Sorted(maps.Keys(p.parts)) {
		x := p.parts[name]
		raw, err := w.CreateRaw(&x.header)
		if err != nil {
			return err
		}
		if _, err := raw.Write(x.compressed.Bytes()); err != nil {
			return err
		}
	}
	return w.Close()
}

// firstDay is the first date that a zip can hold, 1 January 1980, in its own notation.
const firstDay = 1<<5 | 1

// part compresses one part as it comes. What is to be changed in it is changed on the way.
type part struct {
	header     zip.FileHeader
	compressed bytes.Buffer // compressed
	deflate    *flate.Writer
	held       []byte // of a worksheet: what may be the beginning of a bar; of the content types: all
}

func newPart(name string) (*part, error) {
	//lint:ignore SA1019 CreateRaw takes the time from these fields alone
	x := &part{header: zip.FileHeader{Name: name, Method: zip.Deflate, ModifiedDate: firstDay}}
	var err error
	x.deflate, err = flate.NewWriter(&x.compressed, flate.DefaultCompression)
	return x, err
}

// By default a bar behind a number is never shorter than a tenth of the cell (ECMA-376 part 1, dataBar), so that 0
// looks like 10 of 100. The library can set that only in the extension of 2009, and then scales the bars to the data
// instead of to the ends that were asked for; so the attribute is added on the way.
const (
	anyBar    = "<dataBar "
	honestBar = `<dataBar minLength="0" maxLength="100" `
)

// Write takes the next bytes of the part.
func (x *part) Write(data []byte) (int, error) {
	n := len(data)
	switch {
	case x.header.Name == contentTypes:
		x.held = append(x.held, data...)
		return n, nil
	case !strings.HasPrefix(x.header.Name, "xl/worksheets/"):
		return n, x.compress(data)
	}
	data = append(x.held, data...)
	for {
		before, after, found := bytes.Cut(data, []byte(anyBar))
		if !found {
			break
		}
		if err := errors.Join(x.compress(before), x.compress([]byte(honestBar))); err != nil {
			return 0, err
		}
		data = after
	}
	keep := min(len(data), len(anyBar)-1)
	x.held = slices.Clone(data[len(data)-keep:])
	return n, x.compress(data[:len(data)-keep])
}

// compress compresses bytes that are final.
func (x *part) compress(data []byte) error {
	x.header.CRC32 = crc32.Update(x.header.CRC32, crc32.IEEETable, data)
	x.header.UncompressedSize64 += uint64(len(data))
	_, err := x.deflate.Write(data)
	return err
}

func (x *part) close() error {
	rest := x.held
	if x.header.Name == contentTypes {
		var err error
		if rest, err = sortTypes(rest); err != nil {
			return err
		}
	}
	err := errors.Join(x.compress(rest), x.deflate.Close())
	x.header.CompressedSize64 = uint64(x.compressed.Len())
	return err
}

// typeList is the content of the part [Content_Types].xml (ECMA-376 part 2, content types).
type typeList struct {
	XMLName   xml.Name   `xml:"http://schemas.openxmlformats.org/package/2006/content-types Types"`
	Defaults  []typeItem `xml:"Default"`
	Overrides []typeItem `xml:"Override"`
}

// typeItem gives the type of all parts with an extension, or of one part.
type typeItem struct {
	Extension   string `xml:",attr,omitempty"`
	PartName    string `xml:",attr,omitempty"`
	ContentType string `xml:",attr"`
}

func sortTypes(data []byte) ([]byte, error) {
	var list typeList
	if err := xml.Unmarshal(data, &list); err != nil {
		return nil, fmt.Errorf("%s: %w", contentTypes, err)
	}
	order := func(a, b typeItem) int {
		return cmp.Or(cmp.Compare(a.Extension, b.Extension), cmp.Compare(a.PartName, b.PartName))
	}
	slices.SortFunc(list.Defaults, order)
	slices.SortFunc(list.Overrides, order)
	sorted, err := xml.Marshal(list)
	return append([]byte(xml.Header), sorted...), err
}
