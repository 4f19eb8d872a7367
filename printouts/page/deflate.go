package page

import (
	"bytes"
	"cmp"
	"compress/zlib"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
)

// The library makes a new compressor, a megabyte of memory, for every page, and that takes longer than drawing the page. So it writes pages
// uncompressed, and here one compressor does for all of them. What is read is what the library writes, not any PDF: one table of objects
// and no encryption (ISO 32000-1, 7.3.8 and 7.5.4).

var (
	tableOfObjects = regexp.MustCompile(`(?s)^xref\n0 (\d+)\n(.*?)(trailer\n.*startxref\n)\d+(\n%%EOF\n)$`)
	placeOfTable   = regexp.MustCompile(`startxref\n(\d+)\n%%EOF\n$`)
	lengthOfStream = regexp.MustCompile(`/Length \d+`)
)

// entryBytes is the length of an entry of the table: ten digits of a place, five of a generation, a letter.
const entryBytes = len("0000000000 00000 n \n")

// object is where an object begins in a file.
type object struct{ number, place int }

var errUnknownFile = errors.New("the PDF library wrote a file that is not understood")

// deflated compresses what is not compressed in a file of the library.
func deflated(pdf []byte) ([]byte, error) {
	objects, table, err := readTable(pdf)
	if err != nil {
		return nil, err
	}
	var out, packed bytes.Buffer
	out.Grow(len(pdf))
	packer, err := zlib.NewWriterLevel(&packed, zlib.BestSpeed)
	if err != nil {
		return nil, err
	}
	out.Write(pdf[:objects[0].place])
	places := make([]int, len(objects)+1) // by number
	for i, o := range objects {
		end := table.place
		if i+1 < len(objects) {
			end = objects[i+1].place
		}
		places[o.number] = out.Len()
		if err := deflate(&out, pdf[o.place:end], packer, &packed); err != nil {
			return nil, err
		}
	}
	start := out.Len()
	fmt.Fprintf(&out, "xref\n0 %d\n0000000000 65535 f \n", len(places))
	for _, place := range places[1:] {
		fmt.Fprintf(&out, "%010d 00000 n \n", place)
	}
	fmt.Fprintf(&out, "%s%d%s", table.trailer, start, table.end)
	return out.Bytes(), nil
}

// deflate writes an object, its stream compressed if it has one that is not.
func deflate(out *bytes.Buffer, object []byte, packer *zlib.Writer, packed *bytes.Buffer) error {
	dict, rest, hasStream := bytes.Cut(object, []byte("\nstream\n"))
	end := bytes.LastIndex(rest, []byte("\nendstream\n"))
	if !hasStream || bytes.Contains(dict, []byte("/Filter")) {
		out.Write(object)
		return nil
	}
	if end < 0 {
		return errUnknownFile
	}
	packed.Reset()
	packer.Reset(packed)
	if _, err := packer.Write(rest[:end]); err != nil {
		return err
	}
	if err := packer.Close(); err != nil {
		return err
	}
	out.Write(lengthOfStream.ReplaceAll(dict, fmt.Appendf(nil, "/Filter /FlateDecode /Length %d", packed.Len())))
	out.WriteString("\nstream\n")
	out.Write(packed.Bytes())
	out.Write(rest[end:])
	return nil
}

// objectTable is what stands behind the objects of a file.
type objectTable struct {
	place        int
	trailer, end []byte
}

// readTable lists the objects of a file in their order.
func readTable(pdf []byte) ([]object, objectTable, error) {
	at := placeOfTable.FindSubmatch(pdf[max(0, len(pdf)-64):])
	if at == nil {
		return nil, objectTable{}, errUnknownFile
	}
	table := objectTable{}
	table.place, _ = strconv.Atoi(string(at[1])) // digits
	if table.place > len(pdf) {
		return nil, table, errUnknownFile
	}
	parts := tableOfObjects.FindSubmatch(pdf[table.place:])
	if parts == nil || len(parts[2])%entryBytes != 0 || len(parts[2]) < 2*entryBytes {
		return nil, table, errUnknownFile
	}
	table.trailer, table.end = parts[3], parts[4]
	var objects []object
	for number, entry := range slices.Collect(slices.Chunk(parts[2], entryBytes)) {
		place, err := strconv.Atoi(string(entry[:10]))
		if err != nil || place > table.place {
			return nil, table, errUnknownFile
		}
		if number > 0 { // the first entry is the head of the list of free ones
			objects = append(objects, object{number, place})
		}
	}
	slices.SortFunc(objects, func(a, b object) int { return cmp.Compare(a.place, b.place) })
	return objects, table, nil
}
