package submission

import (
	"fmt"
	"strings"
	"testing"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// show writes rows and remarks as lines, so that an expectation can be read and compared as text.
func show(rows []Row, remarks []Remark) string {
	var b strings.Builder
	for _, r := range rows {
		fmt.Fprintf(&b, "%s: %s|%s|%s|", r.Place, r.Student, r.Sheet, r.Repair)
		for i, s := range r.Steps {
			if i > 0 {
				b.WriteByte(' ')
			}
			b.WriteString(plain(s))
		}
		fmt.Fprintf(&b, "|%d|%d\n", r.Reasoning, r.Safe)
	}
	for _, r := range remarks {
		fmt.Fprintf(&b, "! %s: %s; %s\n", r.Place, r.What, r.Do)
	}
	return b.String()
}

func TestReadCSV(t *testing.T) {
	check := func(name, data, want string) {
		t.Helper()
		got := show(ReadCSV("a.csv", []byte(data)))
		if want = strings.TrimLeft(want, "\n"); got != want {
			t.Errorf("%s\n got:\n%s\nwant:\n%s", name, got, want)
		}
	}
	check("every column", "id,name,sheet,repair,reasoning,safe,step 1,step 2\n1001,Ada,K7PX,12HM,3,yes,214KQ+,305HM-\n", `
a.csv, row 2: 1001|K7PX|12HM|214KQ+ 305HM-|3|1
`)
	check("columns shuffled, steps out of order", "step 2,repair,id,step 1\n305HM-,12HM,1001,214KQ+\n", `
a.csv, row 2: 1001||12HM|214KQ+ 305HM-|-1|-1
`)
	check("trailing columns without names", "id,repair\n1001,12HM,214KQ+,305HM-\n1002,07BC,,001BB\n", `
a.csv, row 2: 1001||12HM|214KQ+ 305HM-|-1|-1
a.csv, row 3: 1002||07BC|001BB|-1|-1
`)
	check("ten steps sort by number", "id,repair,step 10,step 2,step 1\n1,12HM,010BB,002BB,001BB\n", `
a.csv, row 2: 1||12HM|001BB 002BB 010BB|-1|-1
`)
	check("semicolons, carriage returns, quotes", "id;repair;steps\r\n\"1001\";12HM;\"214KQ+; 305HM-\"\r\n", `
a.csv, row 2: 1001||12HM|214KQ+ 305HM-|-1|-1
`)
	check("tabs and old Macintosh line ends", "id\trepair\tstep 1\r1001\t12HM\t214KQ+\r", `
a.csv, row 2: 1001||12HM|214KQ+|-1|-1
`)
	check("comma within quotes, doubled quotes, line break within quotes", "name,id,repair,step 1\n\"Doe, \"\"J\"\"\nsecond line\",1001,12HM,214KQ+\n", `
a.csv, row 2: 1001||12HM|214KQ+|-1|-1
`)
	check("an open quotation mark swallows no row", "name,id,repair,step 1\n\"Doe,1001,12HM,214KQ+\n\"Roe\",1002,07BC,305HM-\nPoe,1003,07BC,\"001BB\n", `
a.csv, row 2: 1001||12HM|214KQ+|-1|-1
a.csv, row 3: 1002||07BC|305HM-|-1|-1
a.csv, row 4: 1003||07BC|?"001BB?|-1|-1
! a.csv, line 2: a cell begins with a quote but does not end with one; close it, and double quotes inside it; look at that row; nothing, if it was read as it was meant
! a.csv, line 4: a cell begins with a quote but does not end with one; close it, and double quotes inside it; look at that row; nothing, if it was read as it was meant
! a.csv, D4: '"001BB' is not a step; write three digits, two letters and + or -, like 214KQ+
`)
	check("instructions before the header, empty rows between", "Week 5\n\nFill in.\nID, Repair ,STEP 1\n\n1001,12 hm,214 kq \u2013\n,,\n1002,,\n", `
a.csv, row 6: 1001||12HM|214KQ-|-1|-1
a.csv, row 8: 1002||||-1|-1
`)
	check("a bad field loses nothing else", "id,repair,reasoning,safe,step 1,step 2,step 3\n1001,12HM,5,maybe,214KQ+,21KQ+,305HM-\n", `
a.csv, row 2: 1001||12HM|214KQ+ ?21KQ+? 305HM-|-1|-1
! a.csv, F2: '21KQ+' is not a step: a line has three digits, as in 021KQ+; write three digits, two letters and + or -, like 214KQ+
! a.csv, C2: reasoning '5' is not a whole number from 0 to 4; write 0, 1, 2, 3 or 4, or leave it empty
! a.csv, D2: safe 'maybe' is neither yes nor no; write yes or no, or leave it empty
`)
	check("a protective apostrophe", "id,repair,step 1\n'-7,12HM,214KQ+\n", `
a.csv, row 2: -7||12HM|214KQ+|-1|-1
`)
	check("an unknown column", "id,repair,notes,step 1\n1001,12HM,late,214KQ+\n", `
a.csv, row 2: 1001||12HM|214KQ+|-1|-1
! a.csv, C1: column 'notes' is not known and was not read; nothing, if it holds notes of your own; columns are id, name, sheet, repair, reasoning, safe, step 1, step 2, ...
`)
	check("columns that are nearly known", "id,repiar,step1,setp 2\n1001,12HM,214KQ+,305HM-\n", `
a.csv, row 2: 1001|||214KQ+|-1|-1
! a.csv, B1: column 'repiar' is not known and was not read; did you mean "repair"?; nothing, if it holds notes of your own; columns are id, name, sheet, repair, reasoning, safe, step 1, step 2, ...
! a.csv, D1: column 'setp 2' is not known and was not read; did you mean "step 2"?; nothing, if it holds notes of your own; columns are id, name, sheet, repair, reasoning, safe, step 1, step 2, ...
! a.csv, row 1: there is no column repair; if it was deleted, take the file from a copy
`)
	check("headings as other programs write them", "Student_ID;Sheet-Code;Repair Code;STEP 1\n1001;K7PX;12HM;214KQ+\n", `
a.csv, row 2: 1001|K7PX|12HM|214KQ+|-1|-1
`)
	check("a picture", "\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", `
! a.csv: the file is not a text file; save it as CSV, UTF-8; open it in a spreadsheet program and save it as CSV, UTF-8
`)
	check("no header", "1001,12HM,214KQ+\n", `
! a.csv: no header found in the first 20 rows; name the columns in one row: id, name, sheet, repair, reasoning, safe, step 1, step 2, ...
`)
	check("empty", "", `
! a.csv: the file is empty; nothing, if nobody handed in
`)
	check("a row without id is kept", "id,sheet,repair,step 1\n,K7PX,12HM,214KQ+\n,,12HM,\n", `
a.csv, row 2: |K7PX|12HM|214KQ+|-1|-1
a.csv, row 3: ||12HM||-1|-1
`)
}

func TestReadCSVEncodings(t *testing.T) {
	const text = "id,name,repair,step 1\nÅ1,Zoë,12HM,214KQ–\n"
	want := "a.csv, row 2: Å1||12HM|214KQ-|-1|-1\n"
	check := func(name, data string) {
		t.Helper()
		if got := show(ReadCSV("a.csv", []byte(data))); got != want {
			t.Errorf("%s: got %q, want %q", name, got, want)
		}
	}
	encode := func(e *encoding.Encoder) string {
		t.Helper()
		s, err := e.String(text)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	check("UTF-8", text)
	check("UTF-8 with byte order mark", "\ufeff"+text)
	check("Windows-1252", encode(charmap.Windows1252.NewEncoder()))
	check("UTF-16 little-endian with mark", encode(unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder()))
	check("UTF-16 big-endian with mark", encode(unicode.UTF16(unicode.BigEndian, unicode.UseBOM).NewEncoder()))
	check("UTF-16 little-endian without mark",
		encode(unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM).NewEncoder()))
	check("UTF-16 big-endian without mark", encode(unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM).NewEncoder()))
}

func TestReadCSVBounds(t *testing.T) {
	long := "id,repair,step 1\n" + strings.Repeat("1001,12HM,214KQ+\n", maxRows)
	rows, remarks := ReadCSV("a.csv", []byte(long))
	if len(rows) != maxRows-1 || len(remarks) != 1 {
		t.Errorf("long file: %d rows, remarks %v", len(rows), remarks)
	}
	wide := "id,repair\n1001,12HM" + strings.Repeat(",214KQ+", 500) + "\n"
	rows, remarks = ReadCSV("a.csv", []byte(wide))
	if len(rows) != 1 || len(rows[0].Steps) != maxColumns-2 || len(remarks) != 1 {
		t.Errorf("wide file: %d rows with %d steps, remarks %v", len(rows), len(rows[0].Steps), remarks)
	}
	rows, remarks = ReadCSV("a.csv", make([]byte, maxFileBytes+1))
	if rows != nil || len(remarks) != 1 || !strings.Contains(remarks[0].What, "more than 8 MB") {
		t.Errorf("large file: %v, %v", rows, remarks)
	}
}

func FuzzReadCSV(f *testing.F) {
	for _, seed := range []string{
		"id,repair,step 1\n1001,12HM,214KQ+\n", "id;repair\r\n\"1;\"\"\";12HM;214KQ+ 305HM-\r\n",
		"\xff\xfei\x00d\x00,\x00", "id,repair\n\"\n\"\"\n\",",
		"id,repair,reasoning,safe\n1,2,3,4\n", "\xef\xbb\xbfid\trepair\t\r\r\r1\t\t",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		rows, remarks := ReadCSV("a.csv", data)
		checkSane(t, rows, remarks)
	})
}

// checkSane checks what holds of any file: places name it, values are in range, and every entry that is no step is
// remarked.
func checkSane(t *testing.T, rows []Row, remarks []Remark) {
	t.Helper()
	remarked := map[string]bool{}
	for _, r := range remarks {
		if r.Place == "" || r.What == "" || r.Do == "" {
			t.Fatalf("incomplete remark %+v", r)
		}
		remarked[r.Place] = true
	}
	for _, row := range rows {
		if row.Reasoning < -1 || row.Reasoning > 4 || row.Safe < -1 || row.Safe > 1 || len(row.Steps) > maxSteps {
			t.Fatalf("row out of range: %+v", row)
		}
		for _, s := range row.Steps {
			if s.Line < -1 || s.Line > 999 || s.Line == -1 && !remarked[s.Place] && len(remarks) < maxRemarks {
				t.Fatalf("step %+v", s)
			}
		}
	}
}

// TestFromStep: a row may say from which step it goes on; anything but the first step is a step, or none.
func TestFromStep(t *testing.T) {
	check := func(cells string, from, steps int) {
		t.Helper()
		rows, _ := ReadCSV("class.csv", []byte("id,repair,step 1,step 2,step 3\n1001,12HM,"+cells+"\n"))
		if len(rows) != 1 || rows[0].From != from || len(rows[0].Steps) != steps {
			t.Errorf("%q: %+v", cells, rows)
		}
	}
	check("from step 3,214KQ+,", 3, 1)
	check("From  Step 12,214KQ+,305HM-", 12, 2)
	check("214KQ+,from step 3,", 0, 2) // too late: it is no step, and remarked
	check("from step 0,,", 0, 1)
	check("from step,,", 0, 1)
	check("214KQ+,305HM-,", 0, 2)
}
