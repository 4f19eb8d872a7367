package gradebook

import (
	"regexp"
	"slices"
	"strings"
	"testing"
)

// kind is what a column of the standard may hold.
type kind struct {
	name string
	form *regexp.Regexp
}

// The types of the OneRoster CSV binding (1EdTech): Date is ISO 8601 without a time, DateTime in UTC with milliseconds,
// Boolean the words true and false; enumerations as in the tables of 1.2, of which facts pages give scoreStatus, and
// status from memory.
var (
	guid     = kind{"GUID", regexp.MustCompile(`^[!-~]{1,255}$`)}
	state    = kind{"status", regexp.MustCompile(`^(active|tobedeleted)$`)}
	dateTime = kind{"DateTime", regexp.MustCompile(`^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$`)}
	date     = kind{"Date", regexp.MustCompile(`^\d{4}-\d\d-\d\d$`)}
	float    = kind{"Float", regexp.MustCompile(`^-?\d+(\.\d+)?$`)}
	word     = kind{"String", regexp.MustCompile(`^.+$`)}
	boolean  = kind{"Boolean", regexp.MustCompile(`^(true|false)$`)}
	scored   = kind{"scoreStatus",
		regexp.MustCompile(`^(exempt|fully graded|not submitted|partially graded|submitted)$`)}
)

// column is one line of the standard's tables: "" in the versions means both.
type column struct {
	file, name string
	need       bool // an empty field is not allowed in a delta
	kind       kind
	version    string
}

// specification is the tables of the binding for the three files of a package of marks, column by column and in their
// order. Headings of 1.2 as read in the binding, those of 1.1, what is required and the types of the older version from
// memory.
var specification = []column{
	{"categories.csv", "sourcedId", true, guid, ""},
	{"categories.csv", "status", true, state, ""},
	{"categories.csv", "dateLastModified", true, dateTime, ""},
	{"categories.csv", "title", true, word, ""},
	{"categories.csv", "weight", false, float, "1.2"},
	{"lineItems.csv", "sourcedId", true, guid, ""},
	{"lineItems.csv", "status", true, state, ""},
	{"lineItems.csv", "dateLastModified", true, dateTime, ""},
	{"lineItems.csv", "title", true, word, ""},
	{"lineItems.csv", "description", false, word, ""},
	{"lineItems.csv", "assignDate", true, date, ""},
	{"lineItems.csv", "dueDate", true, date, ""},
	{"lineItems.csv", "classSourcedId", true, guid, ""},
	{"lineItems.csv", "categorySourcedId", true, guid, ""},
	{"lineItems.csv", "gradingPeriodSourcedId", true, guid, "1.1"},
	{"lineItems.csv", "academicSessionSourcedId", true, guid, "1.2"},
	{"lineItems.csv", "resultValueMin", false, float, ""},
	{"lineItems.csv", "resultValueMax", false, float, ""},
	{"lineItems.csv", "schoolSourcedId", true, guid, "1.2"},
	{"results.csv", "sourcedId", true, guid, ""},
	{"results.csv", "status", true, state, ""},
	{"results.csv", "dateLastModified", true, dateTime, ""},
	{"results.csv", "lineItemSourcedId", true, guid, ""},
	{"results.csv", "studentSourcedId", true, guid, ""},
	{"results.csv", "scoreStatus", true, scored, ""},
	{"results.csv", "score", false, float, ""},
	{"results.csv", "scoreDate", true, date, ""},
	{"results.csv", "comment", false, word, ""},
	{"results.csv", "textScore", false, word, "1.2"},
	{"results.csv", "classSourcedId", false, guid, "1.2"},
	{"results.csv", "inProgress", false, boolean, "1.2"},
	{"results.csv", "incomplete", false, boolean, "1.2"},
	{"results.csv", "late", false, boolean, "1.2"},
	{"results.csv", "missing", false, boolean, "1.2"},
}

// everyKind is one student of each kind that there is.
func everyKind(version string) Package {
	p := demo(version)
	p.Marks = []Mark{{StudentID: "graded", Value: 87, Has: true}, {StudentID: "late", Value: 60, Has: true, Late: true},
		{StudentID: "zero", Has: true}, {StudentID: "excused", Absence: Excused},
		{StudentID: "gone", Absence: Withdrawn},
		{StudentID: "nothing", Absence: NotHanded}, {StudentID: "half", Absence: Unfinished}, {StudentID: "waiting"}}
	return p
}

// Every column stands in its place, and every field holds what the standard's table says.
func TestSpecification(t *testing.T) {
	for _, version := range []string{"1.1", "1.2"} {
		data, err := everyKind(version).Zip()
		if err != nil {
			t.Fatal(err)
		}
		files := unzip(t, data)
		for _, name := range []string{"categories.csv", "lineItems.csv", "results.csv"} {
			var want []string
			lines := readTable(t, files, name)
			for _, c := range specification {
				if c.file != name || c.version != "" && c.version != version {
					continue
				}
				want = append(want, c.name)
				for _, line := range lines {
					text, there := line[c.name]
					if !there || c.need && text == "" || text != "" && !c.kind.form.MatchString(text) {
						t.Errorf("%s, %s: column %s holds %q, want %s", version, name, c.name, text, c.kind.name)
					}
				}
			}
			for _, f := range files {
				if head, _, _ := strings.Cut(string(f.Data), "\r\n"); f.Name == name &&
					head != strings.Join(want, ",") {
					t.Errorf("%s, %s: headings %s, want %s", version, name, head, strings.Join(want, ","))
				}
			}
		}
	}
}

// What a receiver is told of each kind of student. A score is never made up, and a flag that is not set says so.
func TestKindsOfStudents(t *testing.T) {
	read := func(version string) map[string]map[string]string {
		data, err := everyKind(version).Zip()
		if err != nil {
			t.Fatal(err)
		}
		byStudent := map[string]map[string]string{}
		for _, line := range readTable(t, unzip(t, data), "results.csv") {
			byStudent[line["studentSourcedId"]] = line
		}
		return byStudent
	}
	check := func(version, student string, want ...string) {
		t.Helper()
		line, there := read(version)[student]
		if want == nil {
			if there {
				t.Errorf("%s: %s is sent: %v", version, student, line)
			}
			return
		}
		got := []string{line["status"], line["scoreStatus"], line["score"], line["incomplete"], line["late"],
			line["missing"]}
		if !slices.Equal(got[:len(want)], want) {
			t.Errorf("%s: %s: got %q, want %q", version, student, got, want)
		}
	}
	check("1.2", "graded", "active", "fully graded", "87", "false", "false", "false")
	check("1.2", "late", "active", "fully graded", "60", "false", "true", "false")
	check("1.2", "zero", "active", "fully graded", "0", "false", "false", "false")
	check("1.2", "excused", "active", "exempt", "", "false", "false", "false")
	check("1.2", "gone", "tobedeleted", "not submitted", "", "false", "false", "false")
	check("1.2", "nothing", "active", "not submitted", "", "false", "false", "true")
	check("1.2", "half", "active", "submitted", "", "true", "false", "false")
	check("1.2", "waiting")
	check("1.1", "graded", "active", "fully graded", "87")
	check("1.1", "excused", "active", "exempt", "")
	check("1.1", "gone", "tobedeleted", "not submitted", "")
	check("1.1", "nothing")
	check("1.1", "half")
	check("1.1", "waiting")

	// The names of lines stay the same whatever becomes of a student, so that what is sent later corrects it.
	p := everyKind("1.2")
	graded := p.result(Mark{StudentID: "x", Value: 1, Has: true}, "1")["sourcedId"]
	if deleted := p.result(Mark{StudentID: "x", Absence: Withdrawn}, "")["sourcedId"]; deleted != graded {
		t.Errorf("a mark taken back is another line: %s, %s", deleted, graded)
	}
}
