package term

import (
	"slices"
	"strings"
	"testing"
)

const goodPlan = `title = "No start"
date = 2026-10-05
pack = "single-coil"
complaint = "no-start"
instruments = ["voltmeter", "ohmmeter", "test-lamp"]
forbid = ["test-lamp"]
difficulty = [6, 9.5]
nothing_found = true
exclude = ["fuse-blown"]
spares = 3
sections = ["A"]
large_print = ["s03"]
seating = "seats.csv"
rows = 10
period = 100
paper = "a4"

[rubric]
evidence = 0
diagnosis = 100
`

func TestParsePlan(t *testing.T) {
	p, err := ParsePlan("plans/week05.toml", goodPlan)
	if err != nil {
		t.Fatal(err)
	}
	switch {
	case p.Name != "week05", p.Date != "2026-10-05", p.Difficulty != [2]int64{60, 95}, !p.Nothing, p.Spares != 3,
		p.Rows != 10, p.Period != 100, p.Paper != "a4",
		!slices.Equal(p.Complaints, []string{"no-start"}), !slices.Equal(p.Forbid, []string{"test-lamp"}), !p.Unplug,
		p.Rubric == nil || p.Rubric.Diagnosis != 100:
		t.Errorf("read %+v", p)
	}
}

func TestPlanDates(t *testing.T) {
	for _, date := range []string{`"2026-10-05"`, `2026-10-05`, `2026-10-05T08:00:00`} {
		p, err := ParsePlan("p.toml", "title = \"T\"\npack = \"lamp\"\ndate = "+date+"\n")
		if err != nil || p.Date != "2026-10-05" {
			t.Errorf("date = %s: read %q, %v", date, p.Date, err)
		}
	}
}

// planErrors are plans that no pack could satisfy, and what each is told.
var planErrors = []struct {
	name, text string
	want       []string
}{
	{"empty", "", []string{`p.toml:1: key "title" is missing`, `p.toml:1: key "pack" is missing`,
		`p.toml:1: key "date" is missing`}},
	{"misspelt", goodHead + "complaints = [\"a\"]\nsparse = 2\n",
		[]string{`p.toml:5: unknown key "sparse"; did you mean "spares"?`}},
	{"both", goodHead + "complaint = \"a\"\ncomplaints = [\"b\"]\n", []string{"p.toml:4: complaint and complaints"}},
	{"faults and exclude", goodHead + "faults = [\"a\"]\nexclude = [\"b\"]\n",
		[]string{"p.toml:5: faults and exclude"}},
	{"instrument", goodHead + "instruments = [\"voltmetr\"]\n",
		[]string{`p.toml:4: instruments names "voltmetr", which is no instrument; did you mean "voltmeter"?`}},
	{"scope", goodHead + "instruments = [\"voltmeter\", \"scope\"]\n",
		[]string{`p.toml:4: instruments names "scope", which is no instrument; for the oscilloscope write scope = true`}},
	{"no instrument", goodHead + "instruments = [\"feeler\"]\n",
		[]string{`p.toml:4: instruments names "feeler", which is no instrument; known: voltmeter, max-hold, min-hold, ` +
			`ac-voltmeter, frequency, duty, ohmmeter, test-lamp, load-lamp, loaded-drop, ammeter, spark-tester, ` +
			`kv-available, kv-required, gap-gauge, inspection, cylinder-balance, timing-light, scan-speed, scan-ect, ` +
			`scan-iat, scan-misfire, scan-codes; for the oscilloscope write scope = true`}},
	{"forbid", goodHead + "instruments = [\"voltmeter\"]\nforbid = [\"ohmmeter\"]\n",
		[]string{`p.toml:5: forbid names "ohmmeter"`}},
	{"empty list", goodHead + "faults = []\n", []string{"p.toml:4: faults is an empty list"}},
	{"twice", goodHead + "faults = [\"a\", \"a\"]\n", []string{`p.toml:4: faults names "a" twice`}},
	{"difficulty order", goodHead + "difficulty = [9, 6]\n", []string{"p.toml:4: difficulty = [9, 6]"}},
	{"difficulty decimals", goodHead + "difficulty = [1.25, 6]\n",
		[]string{"p.toml:4: difficulty = 1.25 has more than one decimal"}},
	{"difficulty count", goodHead + "difficulty = [1]\n", []string{"p.toml:4: difficulty = [1]"}},
	{"nothing", goodHead + "faults = [\"nothing-wrong\"]\n",
		[]string{`p.toml:4: faults names "nothing-wrong", which needs nothing_found = true`}},
	{"nothing excluded", goodHead + "nothing_found = true\nexclude = [\"nothing-wrong\"]\n",
		[]string{"p.toml:5: exclude names"}},
	{"name", goodHead + "name = \"a/b\"\n", []string{`p.toml:4: name "a/b"`}},
	{"spares", goodHead + "spares = -1\n", []string{"p.toml:4: spares = -1 is not a whole number from 0 to 500"}},
	{"rows", goodHead + "rows = 50\n", []string{"p.toml:4: rows = 50"}},
	{"date", "title = \"T\"\npack = \"lamp\"\ndate = \"October\"\n", []string{`p.toml:3: date = "October"`}},
	{"line break", goodHead + "sections = [\"A\\nB\"]\n",
		[]string{`p.toml:4: sections = "A\nB" contains a character that does not print`}},
	{"invisible mark", goodHead + "large_print = [\n\"s\\u200b03\"]\n",
		[]string{`p.toml:5: large_print = "s\u200b03" contains a character`}},
	{"nothing in quotes", goodHead + "roster = \"\"\n", []string{`p.toml:4: roster = "" is empty`}},
	{"rubric", goodHead + "[rubric]\nevidence = 10\n", []string{"p.toml:4: the weights of the rubric sum to 10"}},
	{"many", goodHead + "rows = 1\nspares = true\npapr = \"a4\"\n", []string{"p.toml:4: rows", "p.toml:5: spares",
		"p.toml:6: unknown key"}},
}

const goodHead = "title = \"T\"\npack = \"lamp\"\ndate = \"2026-10-05\"\n"

func TestParsePlanErrors(t *testing.T) {
	for _, c := range planErrors {
		t.Run(c.name, func(t *testing.T) {
			_, err := ParsePlan("p.toml", c.text)
			if err == nil {
				t.Fatal("no error")
			}
			lines := strings.Split(err.Error(), "\n")
			if len(lines) != len(c.want) {
				t.Fatalf("got %d errors, want %d:\n%v", len(lines), len(c.want), err)
			}
			for i, w := range c.want {
				if !strings.HasPrefix(lines[i], w) {
					t.Errorf("got  %s\nwant %s", lines[i], w)
				}
			}
		})
	}
}

func FuzzParsePlan(f *testing.F) {
	f.Add(goodPlan)
	for _, c := range planErrors {
		f.Add(c.text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		p, err := ParsePlan("p.toml", text)
		if err == nil && (p.Name == "" || p.Date == "" || p.Difficulty[0] > p.Difficulty[1]) {
			t.Errorf("accepted %+v", p)
		}
		if err != nil && !strings.HasPrefix(err.Error(), "p.toml:") {
			t.Errorf("error without a place: %v", err)
		}
	})
}

func TestParseSeating(t *testing.T) {
	check := func(text string, want map[string]Seat, wantErr string) {
		t.Helper()
		got, err := ParseSeating("seats.csv", text)
		if wantErr != "" {
			if err == nil || !strings.Contains(err.Error(), wantErr) {
				t.Errorf("%q: got %v, want %q", text, err, wantErr)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		for id, seat := range want {
			if got[id] != seat {
				t.Errorf("%s sits at %v, want %v", id, got[id], seat)
			}
		}
		if len(got) != len(want) {
			t.Errorf("%d seats, want %d", len(got), len(want))
		}
	}
	check("id,row,column\na,1,2\nb,-1,0\n", map[string]Seat{"a": {1, 2}, "b": {-1, 0}}, "")
	check("\ufeffColumn, Row ,name,ID\n2,1,Somebody,a\n", map[string]Seat{"a": {1, 2}}, "")
	check("", nil, "seats.csv:1: no heading")
	check("id,row\na,1\n", nil, `no column "column"`)
	check("id,row,column\na,1,2\na,1,3\n", nil, `seats.csv:3: "a" has a seat already`)
	check("id,row,column\na,x,2\n", nil, `seats.csv:2: row "x"`)
	check("id,row,column\na,1\n", nil, `seats.csv:2: row "1", column "": want whole numbers`)
	check("id,row,column\na,1,2,3\n", nil, "seats.csv:2: 4 cells, but only 3 headings")
	check("id;row;column\na;1;2\n", map[string]Seat{"a": {1, 2}}, "")
	check("\xff\xfei\x00d\x00,\x00r\x00o\x00w\x00,\x00c\x00o\x00l\x00u\x00m\x00n\x00\n\x00a\x00,\x001\x00,\x002\x00",
		map[string]Seat{"a": {1, 2}}, "")
	check("id,row,colum\na,1,2\n", nil, `no column "column" in the heading; want id,row,column; did you mean "column"?`)
	check("id,row,column\n\"a,1,2\nb,1,3\n", nil, "seats.csv:2: a cell begins with a quote but does not end with one")
	check("id,row,column\n,1,1\n", nil, "seats.csv:2: no id")
}

func FuzzParseSeating(f *testing.F) {
	f.Add("id,row,column\na,1,2\n")
	f.Add("id,row,column\n\"a\n\",1,2\nb\n")
	f.Add("id,row,Column\n\"")
	f.Fuzz(func(t *testing.T, text string) {
		if _, err := ParseSeating("seats.csv", text); err != nil && !strings.HasPrefix(err.Error(), "seats.csv:") {
			t.Errorf("error without a place: %v", err)
		}
	})
}
