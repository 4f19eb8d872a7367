package submission

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"nospark/scenarios/roster"
)

// ReadCSV reads the rows of a CSV file. name is used in places only. It understands UTF-8, UTF-16 and Windows-1252; commas, semicolons
// or tabs; any order of columns. Every row that can be read is returned, everything else is remarked.
func ReadCSV(name string, data []byte) ([]Row, []Remark) {
	if len(data) > maxFileBytes {
		return nil, []Remark{tooLarge(name)}
	}
	text := decode(data)
	var best table
	var cut bool
	found := -1
	for _, delimiter := range []byte{',', ';', '\t'} {
		rows, more := splitCSV(text, delimiter)
		// The delimiter is the one that yields most of our columns; on a tie the comma.
		if n := findHeader(rows).columns(); n > found {
			best, cut, found = table{file: name, rows: rows}, more, n
		}
	}
	rows, remarks := best.read()
	if cut {
		remarks = append(remarks, Remark{name, fmt.Sprintf("the file goes on after row %d or column %d; the rest was not read", maxRows, maxColumns),
			"split the file"})
	}
	return rows, remarks
}

// tooLarge refuses a file before anything of it is read.
func tooLarge(name string) Remark {
	return Remark{name, fmt.Sprintf("the file has more than %d MB and was not read", maxFileBytes>>20), "remove what is not an entry"}
}

// columns counts the columns that were recognised; 0 when there is no header.
func (h header) columns() int {
	if h.row == 0 {
		return 0
	}
	n := len(h.steps)
	for _, column := range []int{h.id, h.name, h.sheet, h.repair, h.reasoning, h.safe} {
		if column > 0 {
			n++
		}
	}
	return n
}

// decode turns the bytes of a text file into UTF-8. Without a byte order mark, text that is no valid UTF-8 is taken for Windows-1252,
// as spreadsheets on Windows write it, or for UTF-16 if every other byte of its beginning is zero.
func decode(data []byte) string {
	start := data[:min(len(data), 64)]
	zeros := bytes.Count(start, []byte{0})
	switch {
	case bytes.HasPrefix(data, []byte{0xef, 0xbb, 0xbf}):
		data = data[3:]
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}), zeros > len(start)/3 && start[0] != 0:
		return decodeUTF16(data, unicode.LittleEndian)
	case bytes.HasPrefix(data, []byte{0xfe, 0xff}), zeros > len(start)/3:
		return decodeUTF16(data, unicode.BigEndian)
	}
	if utf8.Valid(data) {
		return string(data)
	}
	if text, err := charmap.Windows1252.NewDecoder().Bytes(data); err == nil {
		return string(text)
	}
	return strings.ToValidUTF8(string(data), "?")
}

// decodeUTF16 lets a byte order mark overrule the order that was guessed.
func decodeUTF16(data []byte, order unicode.Endianness) string {
	text, err := unicode.UTF16(order, unicode.UseBOM).NewDecoder().Bytes(data)
	if err != nil {
		return strings.ToValidUTF8(string(data), "?")
	}
	return string(text)
}

// splitCSV splits text into records and fields after RFC 4180, with one difference: where a quotation mark is never properly closed, it
// is taken as a plain character instead of swallowing the rows that follow. cut reports that there was more than is read.
func splitCSV(text string, delimiter byte) (rows [][]string, cut bool) {
	for text != "" {
		if len(rows) == maxRows {
			return rows, true
		}
		var record []string
		for {
			field, rest, end := nextField(text, delimiter)
			if len(record) < maxColumns {
				record = append(record, roster.Original(field))
			} else {
				cut = cut || field != ""
			}
			text = rest
			if end {
				break
			}
		}
		rows = append(rows, record)
	}
	return rows, cut
}

// nextField takes a field and what ends it from the front of text; end reports the end of its record.
func nextField(text string, delimiter byte) (field, rest string, end bool) {
	if quoted, after, ok := quotedField(text, delimiter); ok {
		field, text = quoted, after
	} else {
		n := strings.IndexAny(text, "\r\n"+string(rune(delimiter)))
		if n < 0 {
			n = len(text)
		}
		field, text = text[:n], text[n:]
	}
	switch {
	case text == "":
		return field, "", true
	case text[0] == delimiter:
		return field, text[1:], false
	case strings.HasPrefix(text, "\r\n"):
		return field, text[2:], true
	}
	return field, text[1:], true
}

// quotedField reads a field in quotation marks; ok is false if there is none or it does not end before a delimiter or an end of line.
func quotedField(text string, delimiter byte) (field, rest string, ok bool) {
	text = strings.TrimLeft(text, " ")
	if !strings.HasPrefix(text, `"`) {
		return "", "", false
	}
	var b strings.Builder
	for i := 1; i < len(text); {
		n := strings.IndexByte(text[i:], '"')
		if n < 0 {
			break
		}
		b.WriteString(text[i : i+n])
		rest := text[i+n+1:]
		next := strings.TrimLeft(rest, " ")
		switch {
		case next == "", next[0] == delimiter, next[0] == '\r', next[0] == '\n':
			return b.String(), next, true
		case rest[0] != '"':
			return "", "", false
		}
		b.WriteByte('"')
		i += n + 2
	}
	return "", "", false
}
