package submission

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"strconv"
	"strings"
)

// book is a workbook (ECMA-376, a zip of XML parts), opened as far as entries need it: names of worksheets, shared
// texts and number formats. Charts, pictures, formulas and macros are never looked at.
type book struct {
	parts   map[string]*zip.File // by lower-case path
	left    int                  // bytes that may still be unpacked
	sheets  []worksheet
	texts   []string
	zeros   []int // by style: how many digits its number format shows at least
	isDates []bool
	days    bool // dates are shown as days, 2026-12-04
	from04  bool // and count from 1904
}

// worksheet is a name and the path of its part.
type worksheet struct{ name, part string }

// openBook reads everything but the worksheets.
func openBook(data []byte) (*book, error) {
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, err
	}
	if len(archive.File) > maxParts {
		return nil, fmt.Errorf("%d parts, at most %d expected", len(archive.File), maxParts)
	}
	b := &book{parts: map[string]*zip.File{}, left: maxUnpacked}
	for _, part := range archive.File {
		b.parts[partName("", part.Name)] = part
	}
	main := "xl/workbook.xml"
	roots, err := b.relations("")
	if err != nil {
		return nil, err
	}
	for _, r := range roots {
		if r.kind == "officeDocument" {
			main = r.part
		}
	}
	links, err := b.relations(main)
	if err != nil {
		return nil, err
	}
	byID := map[string]relation{}
	for _, r := range links {
		byID[r.id] = r
		switch r.kind {
		case "sharedStrings":
			err = b.readTexts(r.part)
		case "styles":
			err = b.readStyles(r.part)
		}
		if err != nil {
			return nil, err
		}
	}
	return b, b.readSheets(main, byID)
}

// partName is the path of a part that a relation of the folder dir names. Writers differ in slashes and case.
func partName(dir, target string) string {
	target = strings.ReplaceAll(target, `\`, "/")
	if !strings.HasPrefix(target, "/") {
		target = dir + "/" + target
	}
	return strings.ToLower(strings.TrimPrefix(path.Clean("/"+target), "/"))
}

// unpack returns a part of at most limit bytes; nil for one that is not there.
func (b *book) unpack(name string, limit int) ([]byte, error) {
	part, ok := b.parts[name]
	if !ok {
		return nil, nil
	}
	from, err := part.Open()
	if err != nil {
		return nil, err
	}
	defer from.Close()
	data, err := io.ReadAll(io.LimitReader(from, int64(min(limit, b.left))+1))
	switch {
	case err != nil:
		return nil, err
	case len(data) > limit:
		return nil, fmt.Errorf("part %s has more than %d bytes", name, limit)
	case len(data) > b.left:
		return nil, fmt.Errorf("its parts have more than %d bytes", maxUnpacked)
	}
	b.left -= len(data)
	return data, nil
}

// each calls visit for the start of every element of a part, in order.
func (b *book) each(name string, limit int, visit func(d *xml.Decoder, e xml.StartElement) error) error {
	data, err := b.unpack(name, limit)
	if err != nil || data == nil {
		return err
	}
	d := decoder(data)
	for {
		token, err := d.RawToken()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		if e, ok := token.(xml.StartElement); ok {
			if err := visit(d, e); err != nil {
				return err
			}
		}
	}
}

// relation leads from one part to another.
type relation struct{ id, kind, part string }

// relations reads where a part leads to.
func (b *book) relations(part string) ([]relation, error) {
	dir, file := path.Split(part)
	var list []relation
	err := b.each(dir+"_rels/"+file+".rels", maxSmallPart, func(_ *xml.Decoder, e xml.StartElement) error {
		if e.Name.Local == "Relationship" && !strings.EqualFold(attribute(e, "TargetMode"), "External") {
			target := partName(strings.TrimSuffix(dir, "/"), attribute(e, "Target"))
			list = append(list, relation{attribute(e, "Id"), path.Base(attribute(e, "Type")), target})
		}
		return nil
	})
	return list, err
}

// readSheets lists the worksheets in their order.
func (b *book) readSheets(main string, byID map[string]relation) error {
	return b.each(main, maxSmallPart, func(_ *xml.Decoder, e xml.StartElement) error {
		if e.Name.Local == "workbookPr" {
			day := attribute(e, "date1904")
			b.from04 = day == "1" || strings.EqualFold(day, "true")
		}
		if e.Name.Local != "sheet" {
			return nil
		}
		if len(b.sheets) == maxSheets {
			return fmt.Errorf("more worksheets, at most %d expected", maxSheets)
		}
		for _, a := range e.Attr {
			// The id of the relation has a prefix, which is the writer's to choose.
			if r, ok := byID[a.Value]; ok && a.Name.Local == "id" && r.kind == "worksheet" {
				b.sheets = append(b.sheets, worksheet{attribute(e, "name"), r.part})
				break
			}
		}
		return nil
	})
}

// readTexts reads the shared texts.
func (b *book) readTexts(part string) error {
	return b.each(part, maxPart, func(d *xml.Decoder, e xml.StartElement) error {
		if e.Name.Local != "si" {
			return nil
		}
		if len(b.texts) == maxTexts {
			return fmt.Errorf("more than %d texts", maxTexts)
		}
		text, _, err := content(d)
		b.texts = append(b.texts, text)
		return err
	})
}

// readStyles reads what matters of number formats: leading zeros, which may belong to an id, and dates.
func (b *book) readStyles(part string) error {
	codes := map[string]string{}
	list := "" // of styles; cells count in one of the two
	return b.each(part, maxSmallPart, func(_ *xml.Decoder, e xml.StartElement) error {
		switch name := e.Name.Local; {
		case name == "numFmt":
			codes[attribute(e, "numFmtId")] = attribute(e, "formatCode")
		case name == "cellXfs", name == "cellStyleXfs":
			list = name
		case name == "xf" && list == "cellXfs":
			if len(b.zeros) == maxTexts {
				return fmt.Errorf("more than %d styles", maxTexts)
			}
			id := attribute(e, "numFmtId")
			code, own := codes[id]
			b.zeros = append(b.zeros, zerosOf(code))
			b.isDates = append(b.isDates, own && isDate(code) || !own && isDateID(id))
		}
		return nil
	})
}

// index reads a number that counts from 0 into a list of n; -1 if it leads nowhere.
func index(text string, n int) int {
	i, err := strconv.Atoi(strings.TrimSpace(text))
	if err != nil || i < 0 || i >= n {
		return -1
	}
	return i
}
