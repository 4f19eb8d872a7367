package tabular

import (
	"fmt"
	"strings"
	"testing"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// show writes a table as text: headings, rows with their line, findings.
func show(t Table, err error) string {
	if err != nil {
		return "error " + err.Error()
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%d %s\n", t.Heading.Line, strings.Join(t.Heading.Cells, "|"))
	for _, row := range t.Rows {
		fmt.Fprintf(&b, "%d %s\n", row.Line, strings.Join(row.Cells, "|"))
	}
	for _, f := range t.Findings {
		fmt.Fprintf(&b, "! %d %s\n", f.Line, f.What)
	}
	return b.String()
}

func idOrName(heading string) bool {
	return heading == "id" || heading == "name" || heading == "step 1"
}

// Quotes after RFC 4180; where they are not closed no row is lost, and the line is named.
func TestReadTable(t *testing.T) {
	check := func(name, text, want string) {
		t.Helper()
		if got := show(ReadTable([]byte(text), Options{Known: idOrName})); got != want {
			t.Errorf("%s: %q gives\n%swant\n%s", name, text, got, want)
		}
	}
	check("plain", "id,name\nA1,Ann\n", "1 id|name\n2 A1|Ann\n")
	check("line ends", "id,name\r\n\r\nA1,Ann\rA2,Bo", "1 id|name\n3 A1|Ann\n4 A2|Bo\n")
	check("semicolons", "id;name\nA1;Example, Ann\n", "1 id|name\n2 A1|Example, Ann\n")
	check("tabs", "id\tname\tx\nA1\t\ty\n", "1 id|name|x\n2 A1||y\n")
	check("more commas than semicolons", "id;name;a, b, c\nA1;Ann;\n", "1 id|name|a, b, c\n2 A1|Ann|\n")
	check("separator said", "sep=;\nid;name\nA1;Ann\n", "2 id|name\n3 A1|Ann\n")
	check("quotes", "id,name\n\"A1\",\"Ann \"\"Sparky\"\" E\n2nd, line\" \nA2,Bo\n",
		"1 id|name\n2 A1|Ann \"Sparky\" E\n2nd, line\n4 A2|Bo\n")
	check("an open quote", "id,name\nA1,Ann\nA2,\"Bo\nA3,Cy\n\"A4\",Dee\n",
		"1 id|name\n2 A1|Ann\n4 A3|Cy\n5 A4|Dee\n! 3 "+openQuote+"\n")
	check("a quote too many", "id,name\nA1,\"Ann\"x\nA2,B\"o\nA3,Cy\n",
		"1 id|name\n4 A3|Cy\n! 2 "+openQuote+"\n! 3 "+bareQuote+"\n")
	check("too many cells", "id,name\nA1,Example, Ann\nA2,Bo,,\nA3\n",
		"1 id|name\n3 A2|Bo\n4 A3|\n! 2 3 cells, but only 2 headings; a cell with the separator ',' in it needs "+
			"quotes around it\n")
	check("apostrophes", "id,name\n'-1,''=2\n 't Aart,'\n", "1 id|name\n2 -1|'=2\n3 't Aart|'\n")
	check("blank rows", "\n,,\nid,name\n , \nA1,Ann\n", "3 id|name\n5 A1|Ann\n")
	check("empty", "", "0 \n! 0 is empty; the first line has to name the columns\n")
	check("not a text", "id,name\x00\n", "error is not a text file; save it as CSV, UTF-8")
}

// The same text in the encodings that spreadsheets write, with a mark and without.
func TestEncodings(t *testing.T) {
	const text = "id,name\nA1,Zo\u00eb \u0152uvr\u00e9 \u2013 \u20ac\n"
	const want = "1 id|name\n2 A1|Zo\u00eb \u0152uvr\u00e9 \u2013 \u20ac\n"
	check := func(encoding string, data []byte, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		table, err := ReadTable(data, Options{})
		if got := show(table, err); got != want || table.Encoding != encoding {
			t.Errorf("%q gives %s as %q, want %s as %q", data, got, table.Encoding, want, encoding)
		}
	}
	check("", []byte(text), nil)
	check("", []byte("\ufeff"+text), nil)
	data, err := charmap.Windows1252.NewEncoder().Bytes([]byte(text))
	check("Windows-1252", data, err)
	for _, order := range []unicode.Endianness{unicode.LittleEndian, unicode.BigEndian} {
		for _, mark := range []unicode.BOMPolicy{unicode.UseBOM, unicode.IgnoreBOM} {
			data, err = unicode.UTF16(order, mark).NewEncoder().Bytes([]byte(text))
			check("UTF-16", data, err)
		}
	}
	// 0x80 is the euro sign in Windows-1252, a control character in ISO 8859-1
	// (WHATWG Encoding Standard, index windows-1252).
	if got, _, _ := decode([]byte("\x80")); got != "\u20ac" {
		t.Errorf("0x80 became %q", got)
	}
}

func TestBounds(t *testing.T) {
	check := func(text string, opts Options, rows, columns int, cut bool) {
		t.Helper()
		got, err := Read([]byte(text), opts)
		if err != nil {
			t.Fatal(err)
		}
		widest := 0
		for _, row := range got.Rows {
			widest = max(widest, len(row.Cells))
		}
		if len(got.Rows) != rows || widest != columns || got.Cut != cut {
			t.Errorf("%q: %d rows, %d columns, cut %v; want %d, %d, %v", text, len(got.Rows), widest, got.Cut, rows,
				columns, cut)
		}
	}
	check("a,b\nc\nd\n", Options{Rows: 2, Columns: 2}, 2, 2, true)
	check("a,b\nc\n", Options{Rows: 2, Columns: 2}, 2, 2, false)
	check("a,b,c\nc\n", Options{Rows: 2, Columns: 2}, 2, 2, true)
	check("a,b,,\nc\n", Options{Rows: 2, Columns: 2}, 2, 2, false)
}

func TestHeadings(t *testing.T) {
	check := func(got, want any) {
		t.Helper()
		if got != want {
			t.Errorf("got %v, want %v", got, want)
		}
	}
	check(Fold(" Large_Print\u200b "), "large print")
	check(Fold("\uff29\uff24"), "id")
	check(Find([]string{"Student ID", "ID "}, []string{"id", "student id"}), 1)
	check(Find([]string{"x"}, []string{"id"}), -1)
	check(Ask([]string{"notes", "repiar"}, []string{"repair", "id"}), `; did you mean "repair"?`)
	check(Ask([]string{"notes"}, []string{"repair", "id"}), "")
	check(CellName(7, 6), "F7")
	check(CellName(1, 26), "Z1")
	check(CellName(2, 27), "AA2")
	check(CellName(3, 702), "ZZ3")
	check(CellName(3, 703), "AAA3")
}

// No bytes bring the reader down; what it keeps is trimmed, and every row has its place in the text.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{"id,name\nA1,\"Ann\n", "sep=;\nid;\"a\"\"\"", "\xff\xfei\x00d\x00,\x00",
		"a\t'=1\r\r\"\"\"", "\"\n\"\"\n\","} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		text, err := Read(data, Options{Known: idOrName, Rows: 50, Columns: 9})
		if err != nil {
			return
		}
		line := 0
		for _, row := range text.Rows {
			if row.Line <= line || len(row.Cells) == 0 || len(row.Cells) > 9 {
				t.Fatalf("row %+v after line %d", row, line)
			}
			line = row.Line
		}
		for _, finding := range text.Findings {
			if finding.Line < 1 || finding.What == "" {
				t.Fatalf("finding %+v", finding)
			}
		}
	})
}
