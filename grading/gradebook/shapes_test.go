package gradebook

import (
	"bytes"
	"encoding/binary"
	"strings"
	"testing"
	"unicode/utf16"
)

// utf16le writes a text as spreadsheets save "Unicode text": little-endian, with a mark.
func utf16le(text string) string {
	var b bytes.Buffer
	for _, unit := range utf16.Encode([]rune("\ufeff" + text)) {
		binary.Write(&b, binary.LittleEndian, unit)
	}
	return b.String()
}

// shape is an export as some kind of school system writes it, with what becomes of it.
type shape struct {
	name      string
	columns   Columns
	template  string
	want      string
	remarks   string
	knownMark string // a heading near to which the mark column is asked for, and the hint
	hint      string
}

// Six shapes of exports: headings, points, encodings, separators and oddities are those that gradebooks of colleges and
// schools write (common practice, no source); all people, numbers and marks are invented. Ann 0101 has 87.5 (so 88),
// Bert 0102 a zero, Cy 0103 handed nothing in, Dee 0104 is excused, Eve 0105 has 71.
var shapes = []shape{
	{name: "college: a byte order mark, points in a second row, numbers behind the titles, columns that cannot be " +
		"filled",
		columns: Columns{ID: "SIS User ID", Mark: "Lab 1 (48211)"}, knownMark: "Lab 1",
		hint: `did you mean "Lab 1 (48211)"?`,
		template: "\ufeffStudent,ID,SIS User ID,SIS Login ID,Section,Lab 1 (48211),Lab 10 (48299),Current Score\r\n" +
			"    Points Possible,,,,,20.00,100.00,(read only)\r\n" +
			"\"Quill, Ann\",501,0101,quill,A,,90.00,90.00\r\n\"Ostrow, Bert\",502,0102,ostrow,A,,,\r\n" +
			"\"Vale, Cy\",503,0103,vale,A,,,\r\n\"Wren, Dee\",504,0104,wren,A,0.00,,0.00\r\n" +
			"\"Yarrow, Eve\",505,0105,yarrow,A,14.20,,71.00\r\n\"Student, Test\",599,,,A,,,\r\n",
		want: "\ufeffStudent,ID,SIS User ID,SIS Login ID,Section,Lab 1 (48211),Lab 10 (48299),Current Score\r\n" +
			"    Points Possible,,,,,20.00,100.00,(read only)\r\n" +
			"\"Quill, Ann\",501,0101,quill,A,17.6,90.00,90.00\r\n\"Ostrow, Bert\",502,0102,ostrow,A,0,,\r\n" +
			"\"Vale, Cy\",503,0103,vale,A,,,\r\n\"Wren, Dee\",504,0104,wren,A,,,0.00\r\n" +
			"\"Yarrow, Eve\",505,0105,yarrow,A,14.20,,71.00\r\n\"Student, Test\",599,,,A,,,\r\n",
		remarks: `column "Lab 1 (48211)" is worth 20 points; a mark of 100 is written as that
line 6: mark of "0104" was "0.00" and is cleared: excused; look whether your gradebook takes an empty cell for that`},
	{name: "college: UTF-16 with tabs and quotes, points in the heading",
		columns: Columns{ID: "Student ID", Mark: "Lab 1 [Total Pts: 50 Score] |48211"}, knownMark: "Lab 1",
		hint: `did you mean "Lab 1 [Total Pts: 50 Score] |48211"?`,
		template: utf16le("\"Last Name\"\t\"First Name\"\t\"Student ID\"\t\"Lab 1 [Total Pts: 50 Score] |48211\"\r\n" +
			"\"Quill\"\t\"Zoë\"\t\"0101\"\t\"\"\r\n\"Ostrow\"\t\"Bert\"\t\"0102\"\t\"\"\r\n\"Vale\"\t\"Cy\"\t\"0103\"\t\"\"\r\n" +
			"\"Wren\"\t\"Dee\"\t\"0104\"\t\"\"\r\n\"Yarrow\"\t\"Eve\"\t\"0105\"\t\"12\"\r\n"),
		want: utf16le("\"Last Name\"\t\"First Name\"\t\"Student ID\"\t\"Lab 1 [Total Pts: 50 Score] |48211\"\r\n" +
			"\"Quill\"\t\"Zoë\"\t\"0101\"\t\"44\"\r\n\"Ostrow\"\t\"Bert\"\t\"0102\"\t\"0\"\r\n\"Vale\"\t\"Cy\"\t\"0103\"\t\"\"\r\n" +
			"\"Wren\"\t\"Dee\"\t\"0104\"\t\"\"\r\n\"Yarrow\"\t\"Eve\"\t\"0105\"\t\"35.5\"\r\n"),
		remarks: `column "Lab 1 [Total Pts: 50 Score] |48211" is worth 50 points; a mark of 100 is written as that
line 6: mark of "0105" was "12", now 35.5`},
	{name: "a course platform: names first, a dash for no mark",
		columns: Columns{ID: "ID number", Mark: "Assignment: Lab 1 (Real)"}, knownMark: "Assignment: Lab 1",
		hint: `did you mean "Assignment: Lab 1 (Real)"?`,
		template: "\"First name\",\"Last name\",\"ID number\",Institution,\"Email address\",\"Assignment: Lab 1 " +
			"(Real)\",\"Course total (Real)\"\n" +
			"Ann,Quill,101,,a@school.example,-,-\nBert,Ostrow,102,,b@school.example,-,-\nCy,Vale,103,,c@school.example,-,-\n" +
			"Dee,Wren,104,,d@school.example,0.00,-\nEve,Yarrow,105,,e@school.example,71.00,71.00\n",
		want: "\"First name\",\"Last name\",\"ID number\",Institution,\"Email address\",\"Assignment: Lab 1 " +
			"(Real)\",\"Course total (Real)\"\n" +
			"Ann,Quill,101,,a@school.example,88,-\nBert,Ostrow,102,,b@school.example,0,-\nCy,Vale,103,,c@school.example,-,-\n" +
			"Dee,Wren,104,,d@school.example,,-\nEve,Yarrow,105,,e@school.example,71.00,71.00\n",
		remarks: `line 5: mark of "0104" was "0.00" and is cleared: excused; look whether your gradebook takes an empty cell for that
5 ids have lost their leading zeros; all of them were found with them`},
	{name: "a course platform: number signs before ids and at the end of lines, points in the heading",
		columns: Columns{ID: "Id", Mark: "Lab 1 Points Grade <Numeric MaxPoints:25 Weight:1>"}, knownMark: "Lab 1",
		hint: `did you mean "Lab 1 Points Grade <Numeric MaxPoints:25 Weight:1>"?`,
		template: "Id,Username,Lab 1 Points Grade <Numeric MaxPoints:25 Weight:1>,End-of-Line Indicator\r\n" +
			"#0101,#quill,,#\r\n#0102,#ostrow,,#\r\n#0103,#vale,,#\r\n#0104,#wren,,#\r\n#0105,#yarrow,,#\r\n",
		want: "Id,Username,Lab 1 Points Grade <Numeric MaxPoints:25 Weight:1>,End-of-Line Indicator\r\n" +
			"#0101,#quill,22,#\r\n#0102,#ostrow,0,#\r\n#0103,#vale,,#\r\n#0104,#wren,,#\r\n#0105,#yarrow,17.75,#\r\n",
		remarks: `column "Lab 1 Points Grade <Numeric MaxPoints:25 Weight:1>" is worth 25 points; a mark of 100 is written as that`},
	{name: "a European school: semicolons, Windows-1252, decimal commas, points said by hand",
		columns: Columns{ID: "Numéro", Mark: "Labo 1", Worth: 20}, knownMark: "Labo", hint: `did you mean "Labo 1"?`,
		template: "sep=;\r\nNum\xe9ro;Nom;Labo 1;Moyenne\r\n0101;Quill " +
			"Zo\xeb;;12,5\r\n0102;Ostrow;;9,75\r\n0103;Vale;;\r\n" +
			"0104;Wren;0,0;\r\n0105;Yarrow;14,20;14,2\r\n",
		want: "sep=;\r\nNum\xe9ro;Nom;Labo 1;Moyenne\r\n0101;Quill " +
			"Zo\xeb;17,6;12,5\r\n0102;Ostrow;0;9,75\r\n0103;Vale;;\r\n" +
			"0104;Wren;;\r\n0105;Yarrow;14,20;14,2\r\n",
		remarks: `column "Labo 1" is worth 20 points; a mark of 100 is written as that
line 6: mark of "0104" was "0,0" and is cleared: excused; look whether your gradebook takes an empty cell for that`},
	{name: "a school: lines on teacher and class above the headings, CR LF, points in a row without id",
		columns: Columns{ID: "Student Number", Mark: "Lab 1"}, knownMark: "Lab 2", hint: `there are ["Teacher:"`,
		template: "Teacher:,\"Quill, A\",,\r\nClass:,Engines 1; period 3,,\r\n,,,\r\nStudent Name,Student Number,Lab " +
			"1,Lab 3\r\n" +
			"Points possible:,,10,10\r\n\"Quill, Ann\",101,,9.5\r\n\"Ostrow, Bert\",102,,8.5\r\n\"Vale, Cy\",103,,\r\n" +
			"\"Wren, Dee\",104,EX,\r\n\"Yarrow, Eve\",105,7.10,7\r\nTotal,,,\r\n",
		want: "Teacher:,\"Quill, A\",,\r\nClass:,Engines 1; period 3,,\r\n,,,\r\nStudent Name,Student Number,Lab " +
			"1,Lab 3\r\n" +
			"Points possible:,,10,10\r\n\"Quill, Ann\",101,8.8,9.5\r\n\"Ostrow, Bert\",102,0,8.5\r\n\"Vale, " +
			"Cy\",103,,\r\n" +
			"\"Wren, Dee\",104,EX,\r\n\"Yarrow, Eve\",105,7.10,7\r\nTotal,,,\r\n",
		remarks: `column "Lab 1" is worth 10 points; a mark of 100 is written as that
line 9: "0104" has no mark to transfer; "EX" is left as it was
5 ids have lost their leading zeros; all of them were found with them`},
}

var shapeMarks = []Mark{
	{StudentID: "0101", Value: 87.5, Has: true}, {StudentID: "0102", Has: true},
	{StudentID: "0103", Absence: NotHanded}, {StudentID: "0104", Absence: Excused},
	{StudentID: "0105", Value: 71, Has: true},
}

// Every shape comes back to the byte but for the one column, and filling what was filled changes nothing.
func TestShapes(t *testing.T) {
	for _, s := range shapes {
		got, remarks, err := FillTemplate([]byte(s.template), s.columns, shapeMarks)
		if err != nil {
			t.Errorf("%s: %v", s.name, err)
			continue
		}
		if string(got) != s.want {
			t.Errorf("%s: got\n%q\nwant\n%q", s.name, got, s.want)
		}
		if text := joinRemarks(remarks); text != s.remarks {
			t.Errorf("%s: remarks\n%s\nwant\n%s", s.name, text, s.remarks)
		}
		again, _, err := FillTemplate(got, s.columns, shapeMarks)
		if err != nil || !bytes.Equal(again, got) {
			t.Errorf("%s: filling again gives\n%q\n%v", s.name, again, err)
		}
		_, _, err = FillTemplate([]byte(s.template), Columns{ID: s.columns.ID, Mark: s.knownMark}, shapeMarks)
		if err == nil || !strings.Contains(err.Error(), s.hint) {
			t.Errorf("%s: asked for %q: %v, want the hint %s", s.name, s.knownMark, err, s.hint)
		}
		_, _, err = FillTemplate([]byte(s.template), s.columns, []Mark{{StudentID: "7777", Value: 1, Has: true}})
		if err == nil || !strings.HasPrefix(err.Error(), "filled 0 of 1: ") {
			t.Errorf("%s: a mark of nobody: %v", s.name, err)
		}
	}
}

// What would overwrite something else than marks, or fill nothing, is refused with the name of the better column.
func TestFillRefusals(t *testing.T) {
	template := "Student,Number,SIS User ID,Locker,Lab 1,Notes,Final\n" +
		"    Points Possible,,,,0,,(read only)\n" +
		"Ann,9,0101,4401,,sat at the back,\nBert,8,0102,4402,,new glasses,\nCy,7,0103,4403,,,\n"
	check := func(c Columns, want string) {
		t.Helper()
		got, _, err := FillTemplate([]byte(template), c, shapeMarks)
		if err == nil || err.Error() != want || got != nil {
			t.Errorf("%v: got %v, want %s", c, err, want)
		}
	}
	check(Columns{ID: "Number", Mark: "Lab 1", Worth: 100},
		`filled 0 of 5: column "Number" has no id of a student of this `+
			`lab, such as "0101"; column "SIS User ID" has 3 of them: --id-column "SIS User ID"`)
	check(Columns{ID: "SIS User ID", Mark: "Student"},
		`line 1: column "Student" tells who somebody is and holds no marks; `+
			`name the column of the lab`)
	check(Columns{ID: "Number", Mark: "sis user id"},
		`line 1: column "SIS User ID" tells who somebody is and holds no marks; `+
			`name the column of the lab`)
	check(Columns{ID: "SIS User ID", Mark: "Locker"},
		`column "Locker" holds numbers such as 4401, which are no marks of 100; `+
			`name the column of the lab`)
	check(Columns{ID: "SIS User ID", Mark: "Notes"},
		`column "Notes" holds words, such as "sat at the back", and would lose `+
			`them; name the column of the lab`)
	check(Columns{ID: "SIS User ID", Mark: "Lab 1"},
		`line 2: column "Lab 1" is worth 0 points; correct that in the gradebook `+
			`and export again, or say what it is worth with --points`)
	check(Columns{ID: "SIS User ID", Mark: "Final"},
		`line 2: column "Final" is worth "(read only)", so the gradebook seems to `+
			`fill it by itself; name a column that takes marks, or say what it is worth with --points`)
	if _, _, err := FillTemplate([]byte(template), Columns{ID: "SIS User ID", Mark: "Lab 1", Worth: 100},
		shapeMarks); err != nil {
		t.Errorf("the right columns: %v", err)
	}
}

// An id is found without its zeros only where it can be but one student's, and an exact one goes before.
func TestBareIDs(t *testing.T) {
	check := func(template, want string, ids ...string) {
		t.Helper()
		var marks []Mark
		for i, id := range ids {
			marks = append(marks, Mark{StudentID: id, Value: float64(i + 1), Has: true})
		}
		got, _, err := FillTemplate([]byte(template), Columns{ID: "id", Mark: "lab"}, marks)
		if err != nil || string(got) != want {
			t.Errorf("%q: got %q, %v, want %q", ids, got, err, want)
		}
	}
	check("id,lab\n42,\n007,\n", "id,lab\n42,1\n007,2\n", "0042", "7") // lost there, lost here
	check("id,lab\n42,\n9,\n", "id,lab\n42,\n9,3\n", "0042", "042", "9")
	check("id,lab\n42,\n0042,\n", "id,lab\n42,2\n0042,1\n", "0042", "42")
	// who has a line of the own is not meant by another's
	check("id,lab\n7,\n007,\n", "id,lab\n7,\n007,1\n", "007")
	check("id,lab\n42,\n042,\n", "id,lab\n42,\n042,2\n", "0042", "042")
	_, _, err := FillTemplate([]byte("id,lab\n42,\n042,\n"), Columns{ID: "id", Mark: "lab"},
		[]Mark{{StudentID: "0042", Value: 1, Has: true}})
	if err == nil || !strings.Contains(err.Error(), "is already in line 2") {
		t.Errorf("two lines for one student: %v", err)
	}
}

// TestThousands: 1,000 is a thousand to some and one to others, so what a column is worth is never read from it; of
// marks it changes nothing but that they are not taken for the same.
func TestThousands(t *testing.T) {
	check := func(template, want string) {
		t.Helper()
		_, _, err := FillTemplate([]byte(template), Columns{ID: "id", Mark: strings.TrimPrefix(strings.SplitN(template, "\n",
			2)[0], "id;")}, []Mark{{StudentID: "7", Value: 50, Has: true}})
		if err == nil || err.Error() != want {
			t.Errorf("%q: %v, want %s", template, err, want)
		}
	}
	const words = ", which can be read with a decimal sign or with one between thousands; say what it is worth with " +
		"--points"
	check("id;lab\nPoints Possible;1,000\n7;\n", `line 2: column "lab" is worth "1,000"`+words)
	check("id;lab\nPoints Possible;1.000\n7;\n", `line 2: column "lab" is worth "1.000"`+words)
	check("id;lab (out of 1.000.000)\n7;\n", `line 1: column "lab (out of 1.000.000)" is worth "1.000.000"`+words)
	check("id;lab [1.000 pts]\n7;\n", `line 1: column "lab [1.000 pts]" is worth "1.000"`+words)

	got, _, err := FillTemplate([]byte("id;lab\nPoints Possible;1,0000\n7;\n"), Columns{ID: "id", Mark: "lab"},
		[]Mark{{StudentID: "7", Value: 50, Has: true}})
	if err != nil || string(got) != "id;lab\nPoints Possible;1,0000\n7;0,5\n" {
		t.Errorf("four digits behind the comma can be one thing only: %q, %v", got, err)
	}
	got, remarks, err := FillTemplate([]byte("id;lab;total\n7;1,000;1,000\n8;2,000;2,000\n9;1,250;1,2\n"),
		Columns{ID: "id", Mark: "lab"},
		[]Mark{{StudentID: "7", Value: 1, Has: true}, {StudentID: "8", Absence: Excused}, {StudentID: "9", Value: 3,
			Has: true}})
	if err != nil || string(got) != "id;lab;total\n7;1;1,000\n8;;2,000\n9;3;1,2\n" ||
		!strings.Contains(joinRemarks(remarks), `mark of "7" was "1,000", now 1`) {
		t.Errorf("marks: %q, %q, %v", got, joinRemarks(remarks), err)
	}
}

// Points are scaled from the whole mark that people see, to the hundredth.
func TestScale(t *testing.T) {
	check := func(mark, worth float64, comma bool, want string) {
		t.Helper()
		book := template{comma: comma}
		got, err := book.write(Mark{StudentID: "1", Value: mark, Has: true}, worth)
		if err != nil || got != want {
			t.Errorf("%v of %v: got %q, %v, want %q", mark, worth, got, err, want)
		}
	}
	check(87, 25, false, "21.75")
	check(87, 25, true, "21,75")
	check(87.4, 10, false, "8.7")
	check(100, 12.5, false, "12.5")
	check(33, 7, false, "2.31")
	check(1, 1, false, "0.01")
	check(0, 20, true, "0")
	check(88, 200, false, "176")
}

// TestManyMissing: the export of one section says in one line that the others are not in it.
func TestManyMissing(t *testing.T) {
	check := func(want string, absent ...Mark) {
		t.Helper()
		_, remarks, err := FillTemplate([]byte("id,lab\n101,\n"), Columns{ID: "id", Mark: "lab"},
			append([]Mark{{StudentID: "101", Value: 90, Has: true}}, absent...))
		var got []string
		for _, r := range remarks {
			got = append(got, r.String())
		}
		if text := strings.Join(got, "\n"); err != nil || text != want {
			t.Errorf("got %s, %v; want %s", text, err, want)
		}
	}
	mark := func(id string) Mark { return Mark{StudentID: id, Value: 80, Has: true} }
	check(`student "201" has no line in the gradebook; the mark is not transferred
student "202" has no line in the gradebook; there is no mark to transfer
student "203" has no line in the gradebook; the mark is not transferred`,
		mark("201"), Mark{StudentID: "202"}, mark("203"))
	check(`4 students of the lab have no line in the gradebook, "201", "202", "203" and 1 more; `+
		`3 marks are not transferred`, mark("201"), Mark{StudentID: "202"}, mark("203"), mark("204"))
}
