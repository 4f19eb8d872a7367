package submission

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strconv"

	"github.com/xuri/excelize/v2"
)

// extent is how far the cells of a worksheet reach. cut reports that something stood outside of maxRows and maxColumns.
type extent struct {
	rows, columns int
	cut           bool
}

// trimSheet returns the XML of a worksheet reduced to its cells that hold something, within maxRows and maxColumns.
//
// Reading a worksheet costs memory for every cell up to the last row and column that it mentions, and a file of a few
// kilobytes, or an honest one in which a whole column was colored, mentions a million. Everything beside the cells
// (merged ranges, formats, drop-down lists) goes as well: what was written is still shown the same.
func trimSheet(data []byte) (trimmed []byte, size extent, err error) {
	d := xml.NewDecoder(bytes.NewReader(data))
	d.CharsetReader = onlyUTF8
	t := trimmer{d: d, data: data}
	if err := t.run(); err != nil {
		return nil, extent{}, err
	}
	return t.out.Bytes(), t.size, nil
}

// trimmer copies byte ranges of data, found by the decoder's offsets, so that what it keeps stays as written.
type trimmer struct {
	d    *xml.Decoder
	data []byte
	out  bytes.Buffer
	size extent
}

// rawStart returns a start tag as written, never as an empty element.
func rawStart(tag []byte) []byte {
	if bytes.HasSuffix(tag, []byte("/>")) {
		return append(bytes.Clone(tag[:len(tag)-2]), '>')
	}
	return tag
}

// endTag closes an element under the prefix it was opened with.
func endTag(n xml.Name) string {
	if n.Space != "" {
		return "</" + n.Space + ":" + n.Local + ">"
	}
	return "</" + n.Local + ">"
}

// run copies the root, and in it the first sheetData.
func (t *trimmer) run() error {
	var root xml.StartElement
	for {
		from := t.d.InputOffset()
		token, err := t.d.RawToken()
		if err != nil {
			if err == io.EOF {
				err = errors.New("no cells")
			}
			return err
		}
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch {
		case root.Name.Local == "":
			root = start.Copy()
			t.out.Write(rawStart(t.data[from:t.d.InputOffset()]))
		case start.Name.Local == "sheetData":
			name := start.Name
			t.out.Write(rawStart(t.data[from:t.d.InputOffset()]))
			if err := t.rows(); err != nil {
				return err
			}
			t.out.WriteString(endTag(name) + endTag(root.Name))
			return nil
		}
	}
}

// rows copies the rows until sheetData ends.
func (t *trimmer) rows() error {
	row := 0
	for {
		token, err := t.d.RawToken()
		if err != nil {
			return err
		}
		switch token := token.(type) {
		case xml.EndElement:
			return nil
		case xml.StartElement:
			if token.Name.Local != "row" {
				return fmt.Errorf("<%s> where a row belongs", token.Name.Local)
			}
			number := row + 1 // a row without number follows the one before
			if r := attribute(token, "r"); r != "" {
				if number, err = strconv.Atoi(r); err != nil || number <= row {
					return fmt.Errorf("row %q after row %d", r, row)
				}
			}
			row = number
			if err := t.row(token.Name, number); err != nil {
				return fmt.Errorf("row %d: %w", number, err)
			}
		}
	}
}

// row copies the cells of a row that hold something. Every kept row and cell gets its number, which the file may
// leave out.
func (t *trimmer) row(name xml.Name, number int) error {
	column, kept := 0, false
	for {
		token, err := t.d.RawToken()
		if err != nil {
			return err
		}
		switch token := token.(type) {
		case xml.EndElement:
			if kept {
				t.out.WriteString(endTag(name))
			}
			return nil
		case xml.StartElement:
			if token.Name.Local != "c" {
				if _, err := t.skip(); err != nil {
					return err
				}
				continue
			}
			at := column + 1
			if r := attribute(token, "r"); r != "" {
				c, rowOfCell, err := excelize.CellNameToCoordinates(r)
				if err != nil || rowOfCell != number || c <= column {
					return fmt.Errorf("cell %q after column %d", r, column)
				}
				at = c
			}
			column = at
			from := t.d.InputOffset()
			full, err := t.skip()
			if err != nil {
				return err
			}
			if !full {
				continue
			}
			if number > maxRows || column > maxColumns {
				t.size.cut = true
				continue
			}
			if !kept {
				t.out.WriteString(openTag(name, "r", strconv.Itoa(number)))
				kept = true
			}
			t.cell(token, column, number, t.data[from:t.d.InputOffset()])
		}
	}
}

// cell writes a cell: its own start tag with type and style only, then its content as written.
func (t *trimmer) cell(start xml.StartElement, column, row int, content []byte) {
	t.size.rows, t.size.columns = max(t.size.rows, row), max(t.size.columns, column)
	name, _ := excelize.CoordinatesToCellName(column, row) // both are within bounds
	attributes := []string{"r", name}
	for _, a := range []string{"s", "t"} {
		if v := attribute(start, a); v != "" {
			attributes = append(attributes, a, v)
		}
	}
	t.out.WriteString(openTag(start.Name, attributes...))
	t.out.Write(content)
}

// openTag writes a start tag; attributes are pairs of name and value.
func openTag(name xml.Name, attributes ...string) string {
	var b bytes.Buffer
	b.WriteByte('<')
	if name.Space != "" {
		b.WriteString(name.Space + ":")
	}
	b.WriteString(name.Local)
	for i := 0; i < len(attributes); i += 2 {
		b.WriteString(" " + attributes[i] + `="`)
		_ = xml.EscapeText(&b, []byte(attributes[i+1])) // a Buffer does not fail
		b.WriteByte('"')
	}
	b.WriteByte('>')
	return b.String()
}

// attribute gives the value of an attribute without namespace, "" if there is none.
func attribute(e xml.StartElement, local string) string {
	for _, a := range e.Attr {
		if a.Name.Space == "" && a.Name.Local == local {
			return a.Value
		}
	}
	return ""
}

// skip passes over the rest of an element, its end included. full reports that a value or text stood in it.
func (t *trimmer) skip() (full bool, err error) {
	depth, inFormula := 1, 0
	for depth > 0 {
		token, err := t.d.RawToken()
		if err != nil {
			return false, err
		}
		switch token := token.(type) {
		case xml.StartElement:
			depth++
			if token.Name.Local == "f" && inFormula == 0 {
				inFormula = depth
			}
		case xml.EndElement:
			if inFormula == depth {
				inFormula = 0
			}
			depth--
		case xml.CharData:
			full = full || inFormula == 0 && len(bytes.TrimSpace(token)) > 0
		}
	}
	return full, nil
}
