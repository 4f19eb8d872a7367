package submission

import (
	"archive/zip"
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"nospark/scenarios/testrun"

	"github.com/xuri/excelize/v2"
)

// workbook builds an .xlsx file; fill gets the file and the name of its only sheet.
func workbook(t testing.TB, sheet string, fill func(f *excelize.File, set func(cell string, value any))) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	if err := f.SetSheetName("Sheet1", sheet); err != nil {
		t.Fatal(err)
	}
	fill(f, func(cell string, value any) {
		t.Helper()
		if err := f.SetCellValue(sheet, cell, value); err != nil {
			t.Fatal(err)
		}
	})
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// entryForm is a form as a class fills it in, with what spreadsheets do to ids.
func entryForm(t testing.TB) []byte {
	return workbook(t, "Entry", func(f *excelize.File, set func(string, any)) {
		set("A1", "Week 5: one row per student.")
		set("A2", "Write steps like 214KQ+.")
		for i, name := range []string{"id", "name", "sheet", "repair", "reasoning", "safe", "step 1", "step 2",
			"step 3"} {
			cell, _ := excelize.CoordinatesToCellName(i+1, 4)
			set(cell, name)
		}
		set("A5", "0042") // text keeps its zeros
		set("C5", "K7PX")
		set("D5", "12HM")
		set("E5", 3)
		set("F5", true)
		set("G5", "214KQ+")
		set("H5", "305 hm \u2212")
		set("I5", "21KQ+")
		set("A6", 42) // a number that its format shows with zeros
		zeros, err := f.NewStyle(&excelize.Style{CustomNumFmt: new("0000")})
		if err != nil {
			t.Fatal(err)
		}
		if err := f.SetCellStyle("Entry", "A6", "A6", zeros); err != nil {
			t.Fatal(err)
		}
		set("A7", 900123456789) // a number too long for the general format
		set("G7", "001BB")
		thousands, err := f.NewStyle(&excelize.Style{NumFmt: 3}) // #,##0
		if err != nil {
			t.Fatal(err)
		}
		set("A8", 12345)
		if err := f.SetCellStyle("Entry", "A8", "A8", thousands); err != nil {
			t.Fatal(err)
		}
		set("D8", "07BC")
		// What an office does to forms: a merged heading, a colored column down to the last row.
		if err := f.MergeCell("Entry", "A1", "F1"); err != nil {
			t.Fatal(err)
		}
	})
}

const entryFormRows = `entry.xlsx, row 5: 0042|K7PX|12HM|214KQ+ 305HM- ?21KQ+?|3|1
entry.xlsx, row 6: 0042||||-1|-1
entry.xlsx, row 7: 900123456789|||001BB|-1|-1
entry.xlsx, row 8: 12345||07BC||-1|-1
! entry.xlsx, I5: '21KQ+' is not a step: a line has three digits, as in 021KQ+; write three digits, two letters and + or -, like 214KQ+
`

func TestReadWorkbook(t *testing.T) {
	if got := show(ReadWorkbook("entry.xlsx", entryForm(t))); got != entryFormRows {
		t.Errorf("got:\n%s\nwant:\n%s", got, entryFormRows)
	}
}

// LibreOffice writes other XML than the library does: other cell types, shared strings, formats for whole columns.
func TestReadWorkbookFromLibreOffice(t *testing.T) {
	testrun.Long(t, "starts LibreOffice")
	soffice := testrun.Program(t, "soffice")
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "entry.xlsx"), entryForm(t), 0o600); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(dir, "out")
	cmd := exec.Command(soffice, "-env:UserInstallation=file://"+filepath.Join(dir, "profile"), "--headless",
		"--convert-to", "xlsx",
		"--outdir", out, filepath.Join(dir, "entry.xlsx"))
	if text, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("soffice: %v\n%s", err, text)
	}
	data, err := os.ReadFile(filepath.Join(out, "entry.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	if got := show(ReadWorkbook("entry.xlsx", data)); got != entryFormRows {
		t.Errorf("got:\n%s\nwant:\n%s", got, entryFormRows)
	}
}

func TestReadWorkbookOtherSheetName(t *testing.T) {
	data := workbook(t, "Class B", func(_ *excelize.File, set func(string, any)) {
		set("A1", "id")
		set("B1", "repair")
		set("A2", "1001")
		set("B2", "12HM")
	})
	want := "b.xlsx, row 2: 1001||12HM||-1|-1\n"
	if got := show(ReadWorkbook("b.xlsx", data)); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// repack replaces parts of a package, to make files that no spreadsheet program writes.
func repack(t testing.TB, data []byte, parts map[string]string) []byte {
	t.Helper()
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, part := range archive.File {
		to, err := w.Create(part.Name)
		if err != nil {
			t.Fatal(err)
		}
		if text, ok := parts[part.Name]; ok {
			_, err = to.Write([]byte(text))
		} else {
			from, openErr := part.Open()
			if openErr != nil {
				t.Fatal(openErr)
			}
			var old bytes.Buffer
			_, err = old.ReadFrom(from)
			if err == nil {
				_, err = to.Write(old.Bytes())
			}
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

const sheetXML = `<?xml version="1.0" encoding="UTF-8"?><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>%s</sheetData></worksheet>`

func inline(cell, text string) string {
	return fmt.Sprintf(`<c r="%s" t="inlineStr"><is><t>%s</t></is></c>`, cell, text)
}

// goodRows is a header and one entry, as raw XML.
func goodRows() string {
	return `<row r="1">` + inline("A1", "id") + inline("B1", "repair") + inline("C1", "step 1") + `</row>` +
		`<row r="2">` + inline("A2", "1001") + inline("B2", "12HM") + inline("C2", "214KQ+") + `</row>`
}

func hostile(t testing.TB, sheetData string) []byte {
	return repack(t, entryForm(t), map[string]string{"xl/worksheets/sheet1.xml": fmt.Sprintf(sheetXML, sheetData)})
}

// Each of these files is small and would cost gigabytes, or a crash, if it were believed.
func TestReadWorkbookHostile(t *testing.T) {
	const good = "entry.xlsx, row 2: 1001||12HM|214KQ+|-1|-1\n"
	check := func(name string, data []byte, want string) {
		t.Helper()
		if len(data) > 1<<20 {
			t.Fatalf("%s: the file is not small", name)
		}
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		got := show(ReadWorkbook("entry.xlsx", data))
		runtime.ReadMemStats(&after)
		allocated := after.TotalAlloc - before.TotalAlloc
		if !strings.HasPrefix(got, want) {
			t.Errorf("%s\n got: %s\nwant: %s", name, got, want)
		}
		if allocated > 400<<20 {
			t.Errorf("%s: %d MB allocated", name, allocated>>20)
		}
	}
	check("plain", hostile(t, goodRows()), good)
	check("an empty last row and last column",
		hostile(t, goodRows()+`<row r="3"><c r="XFD3" s="1"/></row><row r="1048576"/>`), good)
	wide := strings.Builder{}
	for r := 3; r < 5000; r++ {
		fmt.Fprintf(&wide, `<row r="%d"><c r="XFD%d"><v>1</v></c></row>`, r, r)
	}
	check("the last column in every row", hostile(t, goodRows()+wide.String()),
		good+"! entry.xlsx: something stands below row 5000 or right of column 200; it was not read;")
	check("a value in the last row", hostile(t, goodRows()+`<row r="1048576"><c r="A1048576"><v>1</v></c></row>`),
		good+"! entry.xlsx: something stands below row 5000")
	check("rows and cells without numbers", hostile(t, strings.NewReplacer(` r="1"`, "", ` r="2"`, "", ` r="A1"`, "",
		` r="B2"`, "").Replace(goodRows())), good)
	check("a shared string that does not exist", hostile(t, goodRows()+`<row r="3">`+inline("A3",
		"1002")+`<c r="C3" t="s"><v>999999</v></c></row>`),
		good+"entry.xlsx, row 3: 1002|||?#cell??|-1|-1\n")
	check("rows in no order", hostile(t, `<row r="2"/><row r="1"/>`), "! entry.xlsx: the workbook cannot be read")
	check("another encoding", repack(t, entryForm(t), map[string]string{
		"xl/worksheets/sheet1.xml": strings.Replace(fmt.Sprintf(sheetXML, goodRows()), "UTF-8", "UTF-16LE", 1),
	}), "! entry.xlsx: the workbook cannot be read")
	check("an unpacked size beyond all bounds", repack(t, entryForm(t), map[string]string{
		"xl/worksheets/sheet1.xml": fmt.Sprintf(sheetXML, strings.Repeat(" ", maxUnpacked)),
	}), "! entry.xlsx: the workbook cannot be read")
	check("large styles", repack(t, entryForm(t), map[string]string{"xl/styles.xml": strings.Repeat("<xf/>", 1<<20)}),
		"! entry.xlsx: the workbook cannot be read")
	check("cut off", entryForm(t)[:2000], "! entry.xlsx: the workbook cannot be read")
	check("not a workbook", []byte("id,repair\n"), "! entry.xlsx: the workbook cannot be read")
	check("empty", nil, "! entry.xlsx: the workbook cannot be read")
	check("old format", []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"),
		"! entry.xlsx: the file is an old .xls workbook or protected by a password")
}

func TestReadFolder(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write("b.csv", "id,repair\n2,12HM\n")
	write("a.csv", "id,repair\n1,12HM\n")
	write("late.ods", "")
	write("~$entry.xlsx", "")
	write(".~lock.entry.xlsx#", "")
	write("entry.xlsx", string(hostile(t, goodRows())))
	rows, remarks, err := ReadFolder(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	want := `entry.xlsx, row 2: 1001||12HM|214KQ+|-1|-1
a.csv, row 2: 1||12HM||-1|-1
b.csv, row 2: 2||12HM||-1|-1
! late.ods: the file is neither .xlsx nor .csv and was not read; save it as .xlsx or .csv
`
	if got := show(rows, remarks); got != want {
		t.Errorf("got:\n%s\nwant:\n%s", got, want)
	}
	rows, remarks, err = ReadFolder(t.Context(), filepath.Join(dir, "none"))
	if rows != nil || remarks != nil || err != nil {
		t.Errorf("a folder that does not exist: %v, %v, %v", rows, remarks, err)
	}
	if _, _, err = ReadFolder(t.Context(), filepath.Join(dir, "a.csv")); err == nil {
		t.Error("a file in place of the folder is no error")
	}
}

// The seeds change one worksheet of a real form; the zip around it is left whole, so that the fuzzer reaches the cells.
func FuzzReadWorkbook(f *testing.F) {
	form := entryForm(f)
	f.Add([]byte(fmt.Sprintf(sheetXML, goodRows())))
	f.Add([]byte(`<x:worksheet xmlns:x="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><x:sheetData><x:row><x:c t="str"><x:v>id</x:v></x:c></x:row></x:sheetData></x:worksheet>`))
	f.Add([]byte(`<worksheet><sheetData><row r="0"><c r="A0" t="s"><v>-1</v></c></row></sheetData>`))
	f.Fuzz(func(t *testing.T, sheet []byte) {
		rows, remarks := ReadWorkbook("entry.xlsx",
			repack(t, form, map[string]string{"xl/worksheets/sheet1.xml": string(sheet)}))
		checkSane(t, rows, remarks)
	})
}
