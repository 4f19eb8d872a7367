package submission

import (
	"fmt"
	"runtime"
	"strings"
	"testing"
)

// cheap reads a file and wants it to cost no more memory than a full class does.
func cheap(t *testing.T, name string, read func() string) string {
	t.Helper()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	got := read()
	runtime.ReadMemStats(&after)
	if allocated := (after.TotalAlloc - before.TotalAlloc) >> 20; allocated > 600 {
		t.Errorf("%s: %d MB allocated", name, allocated)
	}
	return got
}

// Entities of XML that would grow, or fetch a file: the parser knows none, so the file is refused or the entity stays
// empty. Source of the attacks: OWASP, "XML External Entity Prevention Cheat Sheet".
func TestWorkbookEntities(t *testing.T) {
	laughs := `<!DOCTYPE w [<!ENTITY a "lol">`
	for c := 'b'; c <= 'k'; c++ {
		laughs += fmt.Sprintf(`<!ENTITY %c "%s">`, c, strings.Repeat(fmt.Sprintf("&%c;", c-1), 10))
	}
	laughs += `]>`
	check := func(name, doctype, entity string) {
		t.Helper()
		xml := strings.Replace(fmt.Sprintf(sheetXML, goodRows()+`<row r="3">`+inline("A3", entity)+inline("B3",
			"12HM")+`</row>`), `?>`, `?>`+doctype, 1)
		data := repack(t, entryForm(t), map[string]string{"xl/worksheets/sheet1.xml": xml})
		got := cheap(t, name, func() string { return show(ReadWorkbook("entry.xlsx", data)) })
		if strings.Contains(got, "lollol") || strings.Contains(got, "root:") || !strings.Contains(got, "! entry.xlsx") {
			t.Errorf("%s gives %.300q", name, got)
		}
	}
	check("an entity that grows", laughs, "&k;")
	check("an entity of its own", `<!DOCTYPE w [<!ENTITY a "lol">]>`, "&a;")
	check("a file", `<!DOCTYPE w [<!ENTITY x SYSTEM "file:///etc/passwd">]>`, "&x;")
	check("an address", `<!DOCTYPE w [<!ENTITY x SYSTEM "http://localhost:1/x">]>`, "&x;")
	check("an unknown entity", "", "&nothing;")

	// The same in the shared strings, which another parser reads.
	shared := `<?xml version="1.0" encoding="UTF-8"?>` + laughs +
		`<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si><t>&k;</t></si></sst>`
	data := repack(t, entryForm(t), map[string]string{"xl/sharedStrings.xml": shared,
		"xl/worksheets/sheet1.xml": fmt.Sprintf(sheetXML,
			goodRows()+`<row r="3"><c r="A3" t="s"><v>0</v></c>`+inline("B3", "12HM")+`</row>`)})
	if got := cheap(t, "shared strings",
		func() string { return show(ReadWorkbook("entry.xlsx", data)) }); strings.Contains(got, "lol") {
		t.Errorf("shared strings give %.300q", got)
	}
}

// What a worksheet claims of its size is not believed.
func TestWorkbookDimensions(t *testing.T) {
	const good = "entry.xlsx, row 2: 1001||12HM|214KQ+|-1|-1\n"
	check := func(name, before, after string) {
		t.Helper()
		xml := strings.NewReplacer("<sheetData>", before+"<sheetData>", "</sheetData>",
			"</sheetData>"+after).Replace(fmt.Sprintf(sheetXML, goodRows()))
		data := repack(t, entryForm(t), map[string]string{"xl/worksheets/sheet1.xml": xml})
		if got := cheap(t, name, func() string { return show(ReadWorkbook("entry.xlsx", data)) }); got != good {
			t.Errorf("%s gives %.300q", name, got)
		}
	}
	check("all cells there are", `<dimension ref="A1:XFD1048576"/>`, "")
	check("more cells than there are", `<dimension ref="A1:ZZZZZZ99999999999"/>`, "")
	check("no cell", `<dimension ref="Z9:A1"/>`, "")
	check("columns of all widths", `<cols><col min="1" max="16384" width="1e308"/></cols>`, "")
	check("everything merged", "", `<mergeCells count="1"><mergeCell ref="A9:XFD1048576"/></mergeCells>`)
}

// A file beyond the limit is refused; in any other a huge cell is cut, its row and those around it are kept. Grading
// then finds that the repair is none.
func TestHugeCells(t *testing.T) {
	huge := strings.Repeat("9", 10<<20)
	got := cheap(t, "CSV", func() string {
		return show(ReadCSV("a.csv", []byte("id,repair,step 1\n1001,12HM,214KQ+\n1002,"+huge+",305HM-\n")))
	})
	if len(got) > 10_000 || !strings.Contains(got, "! a.csv") {
		t.Errorf("CSV gives %d bytes: %.200q", len(got), got)
	}
	below := strings.Repeat("9", maxFileBytes-200)
	got = cheap(t, "CSV below the limit", func() string {
		return show(ReadCSV("a.csv", []byte("id,repair,step 1\n1001,12HM,214KQ+\n1002,"+below+",305HM-\n")))
	})
	want := "row 2: 1001||12HM|214KQ+|-1|-1\n%s, row 3: 1002||" + strings.Repeat("9", maxFieldRunes) + "|305HM-|-1|-1\n"
	if got != "a.csv, "+fmt.Sprintf(want, "a.csv") {
		t.Errorf("CSV below the limit gives %d bytes: %.200q", len(got), got)
	}
	data := hostile(t, goodRows()+`<row r="3">`+inline("A3", "1002")+inline("B3", huge)+inline("C3", "305HM-")+`</row>`)
	got = cheap(t, "workbook", func() string { return show(ReadWorkbook("entry.xlsx", data)) })
	if got != "entry.xlsx, "+fmt.Sprintf(want, "entry.xlsx") {
		t.Errorf("workbook gives %d bytes: %.200q", len(got), got)
	}
}
