package submission

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"nospark/scenarios/testrun"
)

// handedIn is a hostile or broken file and a word of what must be said about it.
type handedIn struct {
	name string
	make func(t testing.TB) []byte
	word string
}

// These files are small, and each would stop a class if it were believed: it is read or set aside within 5 seconds and
// 512 MB, and told.
func TestCorpus(t *testing.T) {
	testrun.Slow(t, "makes hostile files of many megabytes")
	corpus := slices.Concat(hostileWorkbooks(), hostilePackages(), hostileTexts())
	if len(corpus) < 60 {
		t.Errorf("the corpus has %d files", len(corpus))
	}
	var all time.Duration
	for _, file := range corpus {
		data := file.make(t)
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		start := time.Now()
		_, remarks := readData(file.name, data)
		took := time.Since(start)
		runtime.ReadMemStats(&after)
		if took > 5*time.Second { // others may be using the machine: once more
			start = time.Now()
			readData(file.name, data)
			took = time.Since(start)
		}
		all += took
		said := ""
		for _, r := range remarks {
			said += r.Place + ": " + r.What + "\n"
			if len(r.What) > 1000 || strings.ContainsAny(r.What, "\r\n\x1b") {
				t.Errorf("%s: a remark of %d bytes: %.200q", file.name, len(r.What), r.What)
			}
		}
		if !strings.Contains(said, file.word) || len(remarks) == 0 || len(remarks) > maxRemarks {
			t.Errorf("%s: %d remarks without %q: %.300q", file.name, len(remarks), file.word, said)
		}
		if used := (after.TotalAlloc - before.TotalAlloc) >> 20; took > 5*time.Second || used > 512 {
			t.Errorf("%s: %v and %d MB", file.name, took, used)
		}
	}
	if t.Logf("%d files in %v", len(corpus), all); all > time.Minute {
		t.Errorf("%d files took %v", len(corpus), all)
	}
}

// readData reads a file by its name, as ReadFolder does.
func readData(name string, data []byte) ([]Row, []Remark) {
	if filepath.Ext(name) == ".xlsx" {
		return ReadWorkbook(name, data)
	}
	return ReadCSV(name, data)
}

// parts of the smallest workbook; tests change one of them.
func plainParts() map[string]string {
	return map[string]string{
		"[Content_Types].xml": `<Types/>`,
		"_rels/.rels":         `<Relationships><Relationship Id="r1" Type="x/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
		"xl/workbook.xml":     `<workbook xmlns:r="r"><sheets><sheet name="Entry" sheetId="1" r:id="r1"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels": `<Relationships><Relationship Id="r1" Type="x/worksheet" Target="worksheets/sheet1.xml"/>` +
			`<Relationship Id="r2" Type="x/styles" Target="styles.xml"/><Relationship Id="r3" Type="x/sharedStrings" Target="sharedStrings.xml"/></Relationships>`,
		"xl/styles.xml":            `<styleSheet><cellXfs><xf numFmtId="0"/></cellXfs></styleSheet>`,
		"xl/sharedStrings.xml":     `<sst><si><t>id</t></si></sst>`,
		"xl/worksheets/sheet1.xml": sheetOf(""),
	}
}

// sheetOf is a worksheet with a header, a good entry and more rows.
func sheetOf(rows string) string { return fmt.Sprintf(sheetXML, goodRows()+rows) }

// zipped packs parts as small as they get.
func zipped(t testing.TB, parts map[string]string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	w.RegisterCompressor(zip.Deflate, func(out io.Writer) (io.WriteCloser, error) {
		return flate.NewWriter(out,
			flate.BestSpeed)
	})
	for _, name := range slices.Sorted(maps.Keys(parts)) {
		part, err := w.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(part, parts[name]); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// with makes a workbook of which one part is another.
func with(part string, text func() string) func(t testing.TB) []byte {
	return func(t testing.TB) []byte {
		parts := plainParts()
		parts[part] = text()
		return zipped(t, parts)
	}
}

// onSheet makes a workbook with more rows.
func onSheet(rows func() string) func(t testing.TB) []byte {
	return with("xl/worksheets/sheet1.xml", func() string { return sheetOf(rows()) })
}

// rowsOf makes rows from 3 on, each of n cells.
func rowsOf(rows, n int, cell func(name string) string) string {
	var b strings.Builder
	for r := 3; r < 3+rows; r++ {
		fmt.Fprintf(&b, `<row r="%d">`, r)
		for c := 1; c <= n; c++ {
			b.WriteString(cell(fmt.Sprintf("%s%d", columnLetters(c), r)))
		}
		b.WriteString(`</row>`)
	}
	return b.String()
}

func columnLetters(n int) string {
	if n <= 26 {
		return string(rune('A' + n - 1))
	}
	return columnLetters((n-1)/26) + string(rune('A'+(n-1)%26))
}

func styled(format string) string {
	return `<styleSheet><numFmts><numFmt numFmtId="200" formatCode="` + format +
		`"/></numFmts><cellXfs><xf numFmtId="200"/></cellXfs></styleSheet>`
}

// hostileWorkbooks have worksheets that cost time or memory.
func hostileWorkbooks() []handedIn {
	const big, aside = "more than", "cannot be read"
	sheet := "xl/worksheets/sheet1.xml"
	number := func(name string) string { return `<c r="` + name + `" s="0"><v>7</v></c>` }
	formats := func(format string) func(t testing.TB) []byte {
		return func(t testing.TB) []byte {
			parts := plainParts()
			parts["xl/styles.xml"] = styled(format)
			parts[sheet] = sheetOf(rowsOf(100, 9, number))
			return zipped(t, parts)
		}
	}
	return []handedIn{
		{"a number format of 40,000 characters.xlsx", formats(strings.Repeat("0", 40_000)), "'7' is not a step"},
		{"a number format of sections.xlsx", formats(strings.Repeat("0;", 40_000)), "'7' is not a step"},
		{"a number format of brackets.xlsx", formats(strings.Repeat("[", 40_000)), "'7' is not a step"},
		{"one text of a megabyte in 40,000 cells.xlsx", func(t testing.TB) []byte {
			parts := plainParts()
			parts["xl/sharedStrings.xml"] = `<sst><si><t>` + strings.Repeat("214KQ+ ", 150_000) + `</t></si></sst>`
			parts[sheet] = sheetOf(rowsOf(400, 100, func(name string) string {
				return `<c r="` + name +
					`" t="s"><v>0</v></c>`
			}))
			return zipped(t, parts)
		}, big},
		{"900,000 junk cells.xlsx",
			onSheet(func() string { return rowsOf(4500, 200, func(string) string { return `<c><v>9</v></c>` }) }), big},
		{"junk cells just below the bound.xlsx", onSheet(func() string {
			return rowsOf(1000, 199, func(string) string { return `<c t="str"><v>x y</v></c>` })
		}), "more things to look at"},
		{"words in every cell.xlsx", onSheet(func() string {
			return rowsOf(1900, 1, func(name string) string {
				return inline(strings.Replace(name, "A", "C", 1), strings.Repeat("a,", 2000))
			})
		}), "more things to look at"},
		{"empty cells without end.xlsx",
			onSheet(func() string { return strings.Repeat(`<row>`+strings.Repeat(`<c/>`, 1000)+`</row>`, 5000) }), big},
		{"empty rows without end.xlsx", onSheet(func() string { return strings.Repeat(`<row/>`, 3_000_000) }), big},
		{"columns at the far end.xlsx", onSheet(func() string {
			return rowsOf(4900, 1, func(name string) string { return `<c r="XFD` + name[1:] + `"><v>1</v></c>` })
		}), "right of column 200"},
		{"a row at the far end.xlsx", onSheet(func() string {
			return `<row r="1048576">` + inline("A1048576", "x") +
				`</row>`
		}), "below row 5000"},
		{"a row beyond numbers.xlsx", onSheet(func() string { return `<row r="99999999999999999999"/>` }), aside},
		{"a negative row.xlsx", onSheet(func() string { return `<row r="-1"/>` }), aside},
		{"a column beyond letters.xlsx",
			onSheet(func() string { return `<row r="3"><c r="ZZZZZZZZZZZZZZZ3"><v>1</v></c></row>` }), aside},
		{"a cell of another row.xlsx", onSheet(func() string { return `<row r="3"><c r="A4"><v>1</v></c></row>` }),
			aside},
		{"cells in no order.xlsx", onSheet(func() string {
			return `<row r="3">` + inline("B3", "x") +
				inline("A3", "y") + `</row>`
		}), aside},
		{"elements within elements.xlsx", onSheet(func() string {
			return `<row r="3"><c r="A3" t="inlineStr">` + strings.Repeat(`<is>`, 500_000) + strings.Repeat(`</is>`,
				500_000) + `</c>` + inline("C3", "x") + `</row>`
		}), "'x' is not a step"},
		{"attributes without end.xlsx", onSheet(func() string {
			return `<row r="3"><c ` + strings.Repeat(`a="b" `, 500_000) + `/>` + inline("C3", "x") + `</row>`
		}), "'x' is not a step"},
		{"a cell of 10 MB.xlsx", onSheet(func() string {
			return `<row r="3">` + inline("A3", "1002") + inline("C3", strings.Repeat("9", 10<<20)) + `</row>`
		}), "is not a step"},
		{"a comment of 10 MB.xlsx", onSheet(func() string {
			return `<!--` + strings.Repeat("x", 10<<20) + `--><row r="3">` + inline("C3", "x") + `</row>`
		}), "'x' is not a step"},
		{"spaces of 30 MB.xlsx", onSheet(func() string { return strings.Repeat(" ", 30<<20) }), big},
		{"a text that does not exist.xlsx",
			onSheet(func() string { return `<row r="3"><c r="C3" t="s"><v>99</v></c></row>` }), "is not a step"},
		{"a negative text.xlsx", onSheet(func() string { return `<row r="3"><c r="C3" t="s"><v>-1</v></c></row>` }),
			"is not a step"},
		{"a style that does not exist.xlsx",
			onSheet(func() string { return `<row r="3"><c r="C3" s="99"><v>7</v></c></row>` }), "'7' is not a step"},
		{"a number without end.xlsx", onSheet(func() string { return `<row r="3"><c r="C3"><v>1e999</v></c></row>` }),
			"is not a step"},
		{"escape sequences.xlsx",
			onSheet(func() string { return `<row r="3"><c r="C3" t="str"><v>_x001B_[2J_x202E_214KQ</v></c></row>` }),
			"is not a step"},
		{"an error in place of an id.xlsx",
			onSheet(func() string { return `<row r="3"><c r="C3" t="e"><v>#N/A</v></c></row>` }),
			"'#N/A' is not a step"},
		{"a date in place of an id.xlsx", func(t testing.TB) []byte {
			parts := plainParts()
			parts["xl/styles.xml"] = styled("d/m/yy")
			parts[sheet] = sheetOf(`<row r="3"><c r="C3" s="0"><v>46000</v></c></row>`)
			return zipped(t, parts)
		}, "'#date?' is not a step"},
		{"an entity that grows.xlsx",
			with(sheet, func() string { return laughing(sheetOf(`<row r="3">` + inline("A3", "&k;") + `</row>`)) }),
			aside},
		{"a file from outside.xlsx", with(sheet, func() string {
			return `<!DOCTYPE w [<!ENTITY x SYSTEM "file:///etc/passwd">]>` +
				sheetOf(`<row r="3">`+inline("A3", "&x;")+`</row>`)
		}), aside},
		{"another encoding.xlsx", with(sheet, func() string {
			return strings.Replace(sheetOf(""), "UTF-8", "UTF-7",
				1)
		}), aside},
		{"UTF-16.xlsx", with(sheet, func() string { return wide(sheetOf("")) }), aside},
		{"cut off in a cell.xlsx", with(sheet, func() string { return sheetOf("")[:400] }), aside},
		{"no cells.xlsx", with(sheet, func() string { return `<worksheet/>` }), aside},
		{"no text.xlsx", with(sheet, func() string { return "" }), aside},
		{"not XML.xlsx", with(sheet, func() string { return "id,repair\n" }), aside},
	}
}

// laughing puts entities in front that each stand for ten of the one before (OWASP, "XML External Entity Prevention
// Cheat Sheet").
func laughing(xml string) string {
	laughs := `<!DOCTYPE w [<!ENTITY a "lol">`
	for c := 'b'; c <= 'k'; c++ {
		laughs += fmt.Sprintf(`<!ENTITY %c "%s">`, c, strings.Repeat(fmt.Sprintf("&%c;", c-1), 10))
	}
	return strings.Replace(xml, "?>", "?>"+laughs+"]>", 1)
}

// wide is a text in UTF-16 with a mark.
func wide(text string) string {
	var b strings.Builder
	b.WriteString("\xff\xfe")
	for _, unit := range utf16.Encode([]rune(text)) {
		b.WriteByte(byte(unit))
		b.WriteByte(byte(unit >> 8))
	}
	return b.String()
}

// hostilePackages are broken around the worksheet.
func hostilePackages() []handedIn {
	const aside = "cannot be read"
	lacking := func(part string) func(t testing.TB) []byte {
		return func(t testing.TB) []byte {
			parts := plainParts()
			delete(parts, part)
			return zipped(t, parts)
		}
	}
	return []handedIn{
		{"a thousand parts more.xlsx", func(t testing.TB) []byte {
			parts := plainParts()
			for i := range 1001 {
				parts[fmt.Sprintf("xl/media/%d.png", i)] = ""
			}
			return zipped(t, parts)
		}, "parts, at most 1000"},
		{"texts without end.xlsx", with("xl/sharedStrings.xml", func() string {
			return `<sst>` + strings.Repeat(`<si/>`,
				2_000_000) + `</sst>`
		}), "more than"},
		{"texts of a gigabyte.xlsx", with("xl/sharedStrings.xml",
			func() string { return strings.Repeat(" ", 200<<20) }), "more than"},
		{"styles without end.xlsx", with("xl/styles.xml", func() string {
			return `<cellXfs>` + strings.Repeat(`<xf/>`,
				500_000)
		}), "more than"},
		{"large styles.xlsx", with("xl/styles.xml", func() string { return strings.Repeat("<xf/>", 1<<20) }),
			"more than"},
		{"worksheets without end.xlsx", func(t testing.TB) []byte {
			parts := plainParts()
			parts["xl/workbook.xml"] = `<workbook><sheets>` + strings.Repeat(`<sheet name="Entry" r:id="r1"/>`,
				100_000) + `</sheets></workbook>`
			return zipped(t, parts)
		}, "worksheets, at most"},
		{"no worksheet.xlsx", with("xl/workbook.xml", func() string { return `<workbook/>` }),
			"no worksheet named Entry"},
		{"a worksheet that is not there.xlsx", lacking("xl/worksheets/sheet1.xml"), aside},
		{"no workbook part.xlsx", lacking("xl/workbook.xml"), aside},
		{"no relations.xlsx", lacking("xl/_rels/workbook.xml.rels"), aside},
		{"relations that climb out.xlsx", with("xl/_rels/workbook.xml.rels", func() string {
			return `<R><Relationship Id="r1" Type="x/worksheet" Target="../../../../etc/passwd"/></R>`
		}), aside},
		{"relations to the outside.xlsx", with("xl/_rels/workbook.xml.rels", func() string {
			return `<R><Relationship Id="r1" Type="x/worksheet" TargetMode="External" Target="http://localhost:1/x"/></R>`
		}), aside},
		{"cut off.xlsx", func(t testing.TB) []byte { return zipped(t, plainParts())[:700] }, aside},
		{"bytes changed.xlsx", func(t testing.TB) []byte {
			data := zipped(t, plainParts())
			for i := 100; i < len(data)-200; i += 50 {
				data[i] ^= 0x55
			}
			return data
		}, aside},
		{"not a zip.xlsx", func(testing.TB) []byte { return []byte("PK\x03\x04 and nonsense") }, aside},
		{"nothing.xlsx", func(testing.TB) []byte { return nil }, aside},
		{"old format.xlsx", func(testing.TB) []byte { return []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1") },
			"old .xls workbook"},
		{"beyond the limit.xlsx", func(testing.TB) []byte { return make([]byte, maxFileBytes+1) }, "more than 8 MB"},
	}
}

// hostileTexts are CSV files.
func hostileTexts() []handedIn {
	const head = "id,repair,step 1\n1001,12HM,214KQ+\n"
	text := func(s func() string) func(testing.TB) []byte { return func(testing.TB) []byte { return []byte(s()) } }
	return []handedIn{
		{"beyond the limit.csv", text(func() string { return head + strings.Repeat("9", 8<<20) }), "more than 8 MB"},
		{"junk cells.csv", text(func() string { return head + strings.Repeat(strings.Repeat("x,", 199)+"\n", 4900) }),
			"more than 200000 filled cells"},
		{"words in every cell.csv", text(func() string { return head + strings.Repeat(`1,2,"`+strings.Repeat("a,", 2000)+"\"\n", 1900) }), "more things to look at"},
		{"rows without end.csv", text(func() string { return head + strings.Repeat("\n", 7<<20) }), "goes on after row 5000"},
		{"columns without end.csv", text(func() string { return head + strings.Repeat(",", 6<<20) + "x\n" }), "column 200"},
		{"open quotes.csv", text(func() string { return head + strings.Repeat("\"a,\"b,\"c\n", 60_000) }), "begins with a quote"},
		{"doubled quotes.csv", text(func() string { return head + strings.Repeat(`"`, 7<<20+1) }), "begins with a quote"},
		{"quotes and commas.csv", text(func() string { return head + `"a` + strings.Repeat(`,"",b`, 1<<20) }), "begins with a quote"},
		{"a quote in each line.csv", text(func() string { return head + strings.Repeat("\"\"\"x\n", 1<<20) }), "begins with a quote"},
		{"zero bytes.csv", text(func() string { return head + "\x00" }), "is not a text file"},
		{"a picture.csv", text(func() string { return "\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR" }), "is not a text file"},
		{"a workbook by name only.csv", func(t testing.TB) []byte { return zipped(t, plainParts()) }, "is not a text file"},
		{"half of a UTF-16 character.csv", text(func() string { return wide(head+"1,2,\ud7ff\n") + "\x00" }), "is not a step"},
		{"another code page.csv", text(func() string { return head + "1002,12HM,\x81\x8d\xff\n" }), "is not a step"},
		{"escape sequences.csv", text(func() string { return head + "1002,12HM,\x1b[2J\x1b]0;x\x07\u202egnp\n" }), "is not a step"},
		{"formulas.csv", text(func() string { return head + "1002,12HM,=cmd|' /C calc'!A0\n" }), "is not a step"},
		{"two headers.csv", text(func() string { return "id,repair,id,repair,step 1\n1,2,3,4,214KQ+\n" }), "is not known"},
		{"headings alone without names.csv", text(func() string { return strings.Repeat(",", 300) + "\n" }), "empty"},
		{"nothing.csv", text(func() string { return "" }), "empty"},
		{"a mark and nothing.csv", text(func() string { return "\xff\xfe" }), "empty"},
		{"no header.csv", text(func() string { return strings.Repeat("1001,12HM,214KQ+\n", 5000) }), "no header found"},
		{"headings of a megabyte.csv", text(func() string { return "id,repair," + strings.Repeat("step ", 1<<18) + "\n1,2,x\n" }), "is not known"},
	}
}
