package roster

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// show writes a roster as text: one student per line, then the remarks. An
// error is shown instead, since no roster comes with one.
func show(r Roster, err error) string {
	if err != nil {
		return err.Error() + "\n"
	}
	var b strings.Builder
	for _, s := range r.Students {
		b.WriteString(strings.Join([]string{s.ID, s.Name, s.Section}, "|"))
		if s.LargePrint {
			b.WriteString("|large")
		}
		if s.SourcedID != "" && s.SourcedID != s.ID {
			b.WriteString("|user " + s.SourcedID)
		}
		b.WriteString("\n")
	}
	for _, remark := range r.Remarks {
		b.WriteString("- " + remark.String() + "\n")
	}
	return b.String()
}

type csvCase struct {
	name, text, want string
	opts             Options
}

// All students are invented.
var csvCases = []csvCase{
	{name: "plain",
		text: "id,name,section,large_print\nA1,Ann Example,B,\nA2,Bob Sample,B,yes\nA3,\"Case, Cy\",C,no\n",
		want: "A1|Ann Example|B\nA2|Bob Sample|B|large\nA3|Case, Cy|C\n"},
	{name: "columns in another order, one unknown",
		text: "Section,Large-Print, Name ,shoe size,ID\nB,X,Ann,38,A1\n",
		want: "A1|Ann|B|large\n- r.csv:1: ignored columns: \"shoe size\"\n"},
	{name: "a heading that is nearly known",
		text: "id,name,secton\nA1,Ann,B\n",
		want: "A1|Ann|\n- r.csv:1: ignored columns: \"secton\"; did you mean \"section\"?\n" +
			"- r.csv:1: no column \"section\": all students are in one section without a name\n"},
	{name: "more commas in a heading than semicolons",
		text: "id;name;\"section, of three, a, b or c\";section\nA1;Example, Ann;x;B\n",
		want: "A1|Example, Ann|B\n- r.csv:1: ignored columns: \"section, of three, a, b or c\"\n"},
	{name: "no section",
		text: "id,name\nA1,Ann\n",
		want: "A1|Ann|\n- r.csv:1: no column \"section\": all students are in one section without a name\n"},
	{name: "mark of UTF-8, CRLF, blank lines, no end of line",
		text: "\ufeffid,name,section\r\n\r\nA1,Ann,B\r\n,,\r\nA2,Bob,B",
		want: "A1|Ann|B\nA2|Bob|B\n"},
	{name: "CR alone",
		text: "id,name,section\rA1,Ann,B\rA2,,B\r",
		want: "A1|Ann|B\nA2||B\n- r.csv:3: student \"A2\" has no name\n"},
	{name: "semicolons, comma in a name",
		text: "id;name;section\nA1;Example, Ann;B\n",
		want: "A1|Example, Ann|B\n"},
	{name: "separator said",
		text: "sep=;\nid;name;section\nA1;Ann;B\nA1;Bob;B\n",
		want: "r.csv:4: id \"A1\" is already used at r.csv:3 (as \"A1\"); give every student an id of their own, " +
			"also across sections\n"},
	{name: "tabs, empty cell between",
		text: "id\tname\tsection\tlarge print\nA1\tAnn\t\tyes\n",
		want: "A1|Ann||large\n"},
	{name: "white space and decomposed accents",
		text: "id,name,section\n A1 ,\"  Zoe\u0308   van\u00a0der\n Berg \",  B  \n",
		want: "A1|Zo\u00eb van der Berg|B\n"},
	{name: "invisible marks, joiners stay",
		text: "id,name,section\nA1,Ann\u200b \u202eB,B\nA2,\u0645\u06cc\u200c\u0631,B\n",
		want: "A1|Ann B|B\nA2|\u0645\u06cc\u200c\u0631|B\n"},
	{name: "names like formulas stay text",
		text: "id,name,section\nA1,=1+1,+B\nA2,\"@SUM(A1:A2)\",-1\n",
		want: "A1|=1+1|+B\nA2|@SUM(A1:A2)|-1\n"},
	{name: "one protective apostrophe goes",
		text: "id,name,section\nA1,'=1+1,B\nA2,''=1,B\nA3,'t Aart,B\nA4,'-,B\nA5,'',B\n",
		want: "A1|=1+1|B\nA2|'=1|B\nA3|'t Aart|B\nA4|-|B\nA5|''|B\n"},
	{name: "large print unclear",
		text: "id,name,section,large_print\nA1,Ann,B,18 pt\n",
		want: "r.csv:2: large print \"18 pt\"; write yes or no\n"},
	{name: "every error is told",
		text: "id,name,section\nA1,Ann,B\n,Bob,B\na1,Cy,C\n../x,Dee,C\n1.23457E+11,Eve,C\n\"A\x07\",Fay,C\nA9,\"G\x01\",C\nA8,Hal, Jr,C\n",
		want: `r.csv:3: no id; give the student an id or remove the line
r.csv:4: id "a1" is already used at r.csv:2 (as "A1"); give every student an id of their own, also across sections
r.csv:5: id: name "../x" contains '/', which file names cannot have; use letters, digits, '-', '_' and '.'
r.csv:6: id "1.23457E+11" is a number that a spreadsheet has shortened; format the column as text and enter the ids again
r.csv:7: id: name "A\a" contains the invisible character U+0007; use letters, digits, '-', '_' and '.'
r.csv:8: name of student "A9" "G\x01" contains the control character U+0001; remove it
r.csv:9: 4 cells, but only 3 headings; a cell with the separator ',' in it needs quotes around it
`},
	{name: "quotes",
		text: "id,name,section\nA1,\"Ann \"\"Sparky\"\" E\",B\nA2,Bo\"b,B\nA3,\"Cy\"x,B\nA4,\"Dee,B\n",
		want: `r.csv:3: a quote in the middle of a cell; put the whole cell in quotes and double the one inside
r.csv:4: a cell begins with a quote but does not end with one; close it, and double quotes inside it
r.csv:5: a cell begins with a quote but does not end with one; close it, and double quotes inside it
`},
	{name: "empty", text: "", want: "r.csv: is empty; the first line has to name the columns\n"},
	{name: "headings only", text: "id,name,section\n",
		want: "r.csv: no student found; the file needs one line per student below the headings\n"},
	{name: "no headings", text: "A1,Ann,B\n",
		want: "r.csv:1: no column for the ids; there are \"A1\", \"Ann\", \"B\"; the first line names the columns: " +
			"head the ids with \"id\" or say which column they are in\n"},
	{name: "no names", text: "id,section\nA1,B\n",
		want: "r.csv:1: no column for the names; there are \"id\", \"section\"; head the names with \"name\"\n"},
	{name: "two columns of one heading", text: "id,name,ID\nA1,Ann,A2\n",
		want: "r.csv:1: two columns are headed \"ID\"; rename or remove one of them\n"},
	{name: "not text", text: "id,name\x00\n", want: "r.csv: is not a text file; save it as CSV, UTF-8\n"},
	{name: "no class in a plain list", text: "id,name,section\nA1,Ann,B\n", opts: Options{Class: "B"},
		want: "r.csv: class \"B\" cannot be chosen: this is a plain list, only OneRoster packages have classes\n"},

	{name: "gradebook with points",
		text: "Last Name,First Name,Student ID,Section,Lab 1 (100)\nPoints Possible,,,,100\nExample,Ann,00123,B,97\n",
		want: "00123|Ann Example|B\n- r.csv:1: ignored columns: \"Lab 1 (100)\"\n- r.csv:2: line of possible points " +
			"skipped\n"},
	{name: "gradebook, points in the name's column",
		text: "Student,SIS ID,Section,Quiz\n    Points Possible:,,,10\n\"Example, Ann\",123,B,\n",
		want: "123|Example, Ann|B\n- r.csv:1: ignored columns: \"Quiz\"\n- r.csv:2: line of possible points skipped\n"},
	{name: "gradebook, ids in doubt",
		text: "Student,Student ID,Username,Section\nAnn,123,aexample,B\n",
		want: "123|Ann|B\n- r.csv:1: ids are taken from column \"Student ID\"; \"Username\" could hold them too\n- " +
			"r.csv:1: ignored columns: \"Username\"\n"},
	{name: "gradebook, ids told", opts: Options{IDColumn: "username"},
		text: "Student,Student ID,Username,Section\nAnn,123,aexample,B\n",
		want: "aexample|Ann|B\n- r.csv:1: ignored columns: \"Student ID\"\n"},
	{name: "gradebook, ids told wrongly", opts: Options{IDColumn: "number"},
		text: "Student,Student ID\nAnn,123\n",
		want: "r.csv:1: no column \"number\" for the ids; there are \"Student\", \"Student ID\"\n"},
}

func TestReadList(t *testing.T) {
	for _, c := range csvCases {
		if got := show(readList("r.csv", []byte(c.text), c.opts)); got != c.want {
			t.Errorf("%s: got\n%s\nwant\n%s", c.name, got, c.want)
		}
	}
}

func TestEncodings(t *testing.T) {
	const text = "id,name,section\nA1,Zo\u00eb \u0152uvr\u00e9 \u2013 \u20ac,B\n"
	const want = "A1|Zo\u00eb \u0152uvr\u00e9 \u2013 \u20ac|B\n"
	check := func(name string, data []byte, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		full := want
		if name != "UTF-8" {
			full += "- r.csv: read as " + name + "; look at the names with accents, and better save as CSV, UTF-8\n"
		}
		if got := show(readList("r.csv", data, Options{})); got != full {
			t.Errorf("%s: got\n%s\nwant\n%s", name, got, full)
		}
	}
	check("UTF-8", []byte(text), nil)
	data, err := charmap.Windows1252.NewEncoder().Bytes([]byte(text))
	check("Windows-1252", data, err)
	for _, order := range []unicode.Endianness{unicode.LittleEndian, unicode.BigEndian} {
		data, err = unicode.UTF16(order, unicode.UseBOM).NewEncoder().Bytes([]byte(text))
		check("UTF-16", data, err)
	}
	for _, order := range []unicode.Endianness{unicode.LittleEndian, unicode.BigEndian} {
		data, err = unicode.UTF16(order, unicode.IgnoreBOM).NewEncoder().Bytes([]byte(text))
		check("UTF-16", data, err)
	}
}

// Read looks at the content, not at the ending, to tell what a file is.
func TestReadPaths(t *testing.T) {
	dir := t.TempDir()
	check := func(name, content, want string) {
		t.Helper()
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(content), 0o644); err != nil {
			t.Fatal(err)
		}
		got := strings.ReplaceAll(show(Read(path, Options{})), dir+string(filepath.Separator), "")
		if got != want {
			t.Errorf("%s: got\n%s\nwant\n%s", name, got, want)
		}
	}
	check("list.txt", "id,name,section\nA1,Ann,B\n", "A1|Ann|B\n")
	check("list.csv", "PK\x03\x04 and nonsense",
		"list.csv: cannot be unpacked: zip: not a valid zip file; ask for the export again\n")
	if _, err := Read(filepath.Join(dir, "none.csv"), Options{}); err == nil ||
		!strings.Contains(err.Error(), "no such file") {
		t.Errorf("missing file: %v", err)
	}
	_, err := Read(dir, Options{})
	if err == nil || !strings.Contains(err.Error(), "manifest.csv missing") {
		t.Errorf("other folder: %v", err)
	}
	r, err := Read(filepath.Join(dir, "list.txt"), Options{})
	if want := filepath.Join(dir, "list.txt") + ` (CSV, ids from column "id")`; err != nil || r.Source != want {
		t.Errorf("source %q, %v, want %q", r.Source, err, want)
	}
}

// checkRoster holds for every input: sound students or errors of one line each.
func checkRoster(t *testing.T, r Roster, err error) {
	t.Helper()
	if err != nil {
		for line := range strings.SplitSeq(err.Error(), "\n") {
			if strings.TrimSpace(line) == "" {
				t.Errorf("an error with an empty line: %q", err)
			}
		}
		if r.Students != nil || r.Remarks != nil {
			t.Error("a roster comes with an error")
		}
		return
	}
	var ids []string
	for _, s := range r.Students {
		if err := checkID(s.ID); err != nil {
			t.Error(err)
		}
		ids = append(ids, strings.ToLower(s.ID))
		for _, text := range []string{s.Name, s.Section} {
			clean, err := cleanText(text)
			if err != nil || clean != text {
				t.Errorf("text %q is not clean (%v)", text, err)
			}
		}
	}
	slices.Sort(ids)
	if len(ids) == 0 || len(slices.Compact(ids)) != len(r.Students) {
		t.Errorf("no students or the same id twice: %q", ids)
	}
	for _, remark := range r.Remarks {
		if remark.Text == "" || strings.Contains(remark.String(), "\n") {
			t.Errorf("remark %q", remark)
		}
	}
}

func FuzzReadList(f *testing.F) {
	for _, c := range csvCases {
		f.Add([]byte(c.text), c.opts.IDColumn)
		if data, err := charmap.Windows1252.NewEncoder().Bytes([]byte(c.text)); err == nil {
			f.Add(data, "")
		}
		if data, err := unicode.UTF16(unicode.BigEndian,
			unicode.UseBOM).NewEncoder().Bytes([]byte(c.text)); err == nil {
			f.Add(data, "")
		}
	}
	f.Fuzz(func(t *testing.T, data []byte, idColumn string) {
		r, err := readList("r.csv", data, Options{IDColumn: idColumn})
		checkRoster(t, r, err)
	})
}
