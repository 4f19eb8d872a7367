package roster

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What is left in a list that was saved from a spreadsheet: empty lines, a line of totals, the same student twice.
func TestCarelessLists(t *testing.T) {
	check := func(text, want string) {
		t.Helper()
		path := filepath.Join(t.TempDir(), "r.csv")
		if err := os.WriteFile(path, []byte("id,name,section\nA1,Ann,B\n"+text), 0o644); err != nil {
			t.Fatal(err)
		}
		list, err := Read(path, Options{})
		var got []string
		for _, r := range list.Remarks {
			got = append(got, r.String())
		}
		if err != nil {
			got = append(got, err.Error())
		}
		if all := strings.ReplaceAll(strings.Join(got, "\n"), path, "r.csv"); all != want {
			t.Errorf("%q\n got %s\nwant %s", text, all, want)
		}
	}
	check("\n,,\nA2,Bo,B\n,,\n", "")
	check("\nTotal,2,\n", `r.csv:4: line of totals skipped: "Total"`)
	check("Total: 1,,\n", `r.csv:3: line of totals skipped: "Total: 1"`)
	check(",Count,1\n", `r.csv:3: line of totals skipped: "Count"`)
	check("count,Basil Count,B\n", "") // somebody's login name
	check(",1 student,\n", "r.csv:3: no id; give the student an id or remove the line")
	check("A1,Ann,B\n", `r.csv:3: student "A1" stands at r.csv:2 already, with the same name and section; remove one of the two lines`)
	check("0103,Ann,B\n103,Bo,B\n",
		`r.csv:4: id "103" differs from "0103" at r.csv:3 by leading zeros alone; if that is one student, remove one of the lines, for now they are two`)
	check("0,Ann,B\n00A,Bo,B\n0A,Cy,B\n", "") // only numbers lose their zeros
	check("A1,Ann,C\n", `r.csv:3: id "A1" is already used at r.csv:2 (as "A1"); give every student an id of their own, also across sections`)
}
