package workbook

import (
	"archive/zip"
	"bytes"
	"cmp"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"
	"time"
)

// contentTypes is the part that names the types of all others; readers expect it first.
const contentTypes = "[Content_Types].xml"

// parts writes the parts of a workbook so that equal workbooks give equal bytes: the library hands parts over, and lists content types, in
// the order of maps. So the parts are kept until Close, which sorts them and gives all the same time.
type parts struct {
	to   io.Writer
	body map[string]*bytes.Buffer
}

func newParts(to io.Writer) *parts { return &parts{to: to, body: map[string]*bytes.Buffer{}} }

// Create begins a part.
func (p *parts) Create(name string) (io.Writer, error) {
	if p.body[name] != nil {
		return nil, fmt.Errorf("part %s is there twice", name)
	}
	p.body[name] = new(bytes.Buffer)
	return p.body[name], nil
}

// AddFS is asked for by the library's interface, which never calls it.
func (p *parts) AddFS(fs.FS) error {
	return errors.New("parts of a workbook are not copied from files")
}

// Close writes the package.
func (p *parts) Close() error {
	if types := p.body[contentTypes]; types != nil {
		sorted, err := sortTypes(types.Bytes())
		if err != nil {
			return err
		}
		p.body[contentTypes] = bytes.NewBuffer(sorted)
	}
	var names []string
	for name := range p.body {
		names = append(names, name)
	}
	slices.Sort(names) // "[" stands before every small letter, so the content types come first
	w := zip.NewWriter(p.to)
	for _, name := range names {
		header := zip.FileHeader{Name: name, Method: zip.Deflate, Modified: time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)} // the first date a zip can hold
		part, err := w.CreateHeader(&header)
		if err != nil {
			return err
		}
		if _, err := part.Write(honestBars(name, p.body[name].Bytes())); err != nil {
			return err
		}
	}
	return w.Close()
}

// honestBars makes the bars behind numbers begin at zero length. By default a bar is never shorter than a tenth of the cell (ECMA-376
// part 1, dataBar), so that 0 looks like 10 of 100, and the library cannot set that.
func honestBars(name string, part []byte) []byte {
	if !strings.HasPrefix(name, "xl/worksheets/") {
		return part
	}
	return bytes.ReplaceAll(part, []byte("<dataBar "), []byte(`<dataBar minLength="0" maxLength="100" `))
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
