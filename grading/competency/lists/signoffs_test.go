package lists

import (
	"fmt"
	"strings"
	"testing"

	"nospark/scenarios/tabular"
)

// parsed reads a text as a list of signatures and writes what came of it.
func parsed(t testing.TB, text string) string {
	t.Helper()
	read, err := tabular.Read([]byte(text), tabular.Options{})
	if err != nil {
		t.Fatal(err)
	}
	list, look := ParseSignOffs("s.csv", read.Rows)
	got := ""
	for _, s := range list {
		got += fmt.Sprintf("%s %s %s %s %s\n", s.Place, s.Student, s.Competency, s.Date, s.By)
	}
	for _, p := range look {
		got += fmt.Sprintf("%s: %s\n", p.Place, p.What)
	}
	return got
}

// A bad line is told by its place and holds up no other one; headings, separators, titles and dates may be those that
// people use.
func TestParseSignOffs(t *testing.T) {
	check := func(text, want string) {
		t.Helper()
		if got := parsed(t, text); got != want {
			t.Errorf("%q:\n got %s\nwant %s", text, got, want)
		}
	}
	const head = "id,competency,date,by\n"
	check(head+"1001,proof,2026-12-01,J. Example\n,,,\n1002, economy ,2026-12-02,J. Example\n",
		"s.csv:2 1001 proof 2026-12-01 J. Example\ns.csv:4 1002 economy 2026-12-02 J. Example\n")
	check("\ufeffid;competency;date;by\r\n1001;proof;12/1/2026;Example, J.\r\n",
		"s.csv:2 1001 proof 2026-12-01 Example, J.\n")
	check("Initials\tDate signed\tStudent ID\tCode\nJ\t1.12.2026\t1001\tproof\n", "s.csv:2 1001 proof 2026-12-01 J\n")
	check("Signatures of the fall\n\n"+head+"1001,Ground tests (integrity),12/4/26,J\n1002,VOLTAGE DROP TESTS,\"Dec "+
		"4, 2026\",J\n",
		"s.csv:4 1001 ground-integrity 2026-12-04 J\ns.csv:5 1002 voltage-drop 2026-12-04 J\n")
	check(head+"1001,proof,13/1/2026,J\n1002,proof,2026-12-01\n1003,,2026-12-01,J\n1004,proof,2026-12-01,J\n1005,proof,soon,J\n1006,proof,2026-02-30,J\n",
		"s.csv:5 1004 proof 2026-12-01 J\n"+
			"s.csv:2: date \"13/1/2026\": there is no such day; write 2026-12-04, or with the month first 12/4/2026\n"+
			"s.csv:3: by is missing\ns.csv:4: competency is missing\n"+
			"s.csv:6: date \"soon\": want a day like 2026-12-04 or 12/4/2026\n"+
			"s.csv:7: date \"2026-02-30\": there is no such day; write 2026-12-04, or with the month first 12/4/2026\n")
	// A column "sign" decides; lines in which nobody has written anything say nothing.
	check("id,competency,sign,initials,date\n1,proof,yes,J,2026-12-01\n2,proof,,,\n3,proof,not "+
		"yet,,\n4,proof,,J,2026-12-01\n"+
		"5,proof,maybe,J,2026-12-01\n6,proof,YES,,2026-12-01\n7,proof,,,2026-12-01\n8,proof,No,J,2026-12-01\n",
		"s.csv:2 1 proof 2026-12-01 J\ns.csv:5: has initials, but nothing in the column sign\n"+
			"s.csv:6: \"maybe\" in the column sign; write yes or not yet\ns.csv:7: by is missing\n")
	check("id,competncy,date,by\n1,proof,2026-12-01,J\n", "s.csv:1: has no column \"competency\"; is it "+
		"\"competncy\"?\n")
	check("id,competency,date,name\n", "s.csv:1: has no column \"by\"\n")
	check("", "s.csv: has no line of headings\n")
	check(head, "")
}

// Days as spreadsheets and people of several countries write them; each is 4 December 2026.
func TestParseDay(t *testing.T) {
	for _, text := range []string{"2026-12-04", "2026-12-4", "12/4/2026", "12/04/2026", "12/4/26", "4.12.2026",
		"04.12.2026",
		"12-4-2026", "2026/12/04", "Dec 4, 2026", "Dec. 4, 2026", "December 4 2026", "4 Dec 2026", "4-Dec-2026",
		"4 December 2026",
		"2026-12-04 00:00:00", "12/4/2026 0:00"} {
		if day, wrong := parseDay(text); day != "2026-12-04" {
			t.Errorf("%q: %q, %s", text, day, wrong)
		}
	}
	for _, text := range []string{"", "4", "46360", "4/12", "31/12/2026", "2026-13-01", "2026-02-29", "12/4/226",
		"0000-01-01",
		"soon", "Foo 4, 2026"} {
		if day, wrong := parseDay(text); day != "" || wrong == "" {
			t.Errorf("%q is read as %q", text, day)
		}
	}
}

// No bytes bring the reader down, and a line that counts has all its parts and a day.
func FuzzParseSignOffs(f *testing.F) {
	f.Add([]byte("id,competency,date,by\n1001,proof,2026-12-01,J. Example\n"))
	f.Add([]byte("id;competency;sign;date;by\n1001;\"proof\n\n;;;"))
	f.Fuzz(func(t *testing.T, data []byte) {
		read, err := tabular.Read(data, tabular.Options{})
		if err != nil {
			return
		}
		list, _ := ParseSignOffs("s.csv", read.Rows)
		for _, s := range list {
			if day, _ := parseDay(s.Date); s.Student == "" || s.Competency == "" || s.By == "" || day != s.Date {
				t.Errorf("counts: %+v", s)
			}
		}
	})
}

// Changed ids are read with whatever separator a spreadsheet writes.
func TestParseAliases(t *testing.T) {
	check := func(text, want string) {
		t.Helper()
		list, err := parseAliases("a.csv", []byte(text))
		got := ""
		for _, a := range list {
			got += fmt.Sprintf("%s %s->%s\n", a.Place, a.Old, a.ID)
		}
		if err != nil {
			got += err.Error()
		}
		if got != want {
			t.Errorf("%q: got %s, want %s", text, got, want)
		}
	}
	check("old,id\n1,2\n", "a.csv:2 1->2\n")
	check("\ufeffid;old\r\n2;1\r\n;\r\n", "a.csv:2 1->2\n")
	check("old\tid\tnote\n007\t7\tmarried\n", "a.csv:2 007->7\n")
	check("old,id\n1,\n2,3\n", `a.csv:2: "1,"; want old,id, none of them empty or long`)
	check("old,new\n1,2\n", `a.csv:1: heading "old,new"; want old,id`)
	check("", "a.csv: is empty; its first line is old,id")
}

// Every award that is cut off at the end is noticed, and between the two lines of a seal that is being written both
// ends are sound.
func TestCheckEnd(t *testing.T) {
	key := newKey()
	var data []byte
	var seals []string
	for i := range 4 {
		var err error
		more := []Award{{Date: "2026-12-04", Student: fmt.Sprint(i), Competency: "proof", What: Awarded}}
		if data, err = AddAwards("awards.csv", data, key, more); err != nil {
			t.Fatal(err)
		}
		list, err := ParseAwards("awards.csv", data, key)
		if err != nil {
			t.Fatal(err)
		}
		seals = append(seals, SealOf(list, key))
	}
	all, err := ParseAwards("awards.csv", data, key)
	if err != nil {
		t.Fatal(err)
	}
	for kept := range 5 {
		for i, seal := range seals {
			if err := CheckEnd("awards.csv", all[:kept], seal, key); (err == nil) != (kept == i+1) {
				t.Errorf("%d lines, seal of %d: %v", kept, i+1, err)
			}
		}
		if err := CheckEnd("awards.csv", all[:kept], seals[2]+seals[3], key); (err == nil) != (kept == 3 || kept == 4) {
			t.Errorf("%d lines while the fourth is added: %v", kept, err)
		}
	}
	for _, forged := range []string{"", "4", "0 ", strings.Replace(seals[3], "4 ", "3 ", 1), SealOf(all, [32]byte{7})} {
		if err := CheckEnd("awards.csv", all, forged, key); err == nil {
			t.Errorf("seal %q passes", forged)
		}
	}
}
