package competency

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"nospark/grading/competency/lists"
	"nospark/grading/evidence"
	"nospark/scenarios/term"
)

// at gives a record another place and term.
func at(r *evidence.Record, autumn, instructor, cohort string) *evidence.Record {
	r.Term, r.Instructor, r.Cohort = autumn, instructor, cohort
	return r
}

// department is a term that counts the records of others.
func department() term.Term {
	t := newTerm()
	return t
}

// TestSectionsStayApart: section A of two instructors are two sections, and a lab of one name in two terms is two labs.
func TestSectionsStayApart(t *testing.T) {
	autumn := gather(t, Options{Term: department()},
		at(rec("week01", "2026-09-01", "A", "1 Ann: proof+"), "test-term-1", "Quill", "fall"),
		at(rec("week01", "2026-09-01", "A", "2 Bo: proof-"), "test-term-2", "Ostrow", "fall"),
		at(rec("week01", "2026-09-02", "B", "3 Cy: proof-"), "test-term-2", "Ostrow", "fall"))
	if got := strings.Join(autumn.Sections(), "; "); got != "A, Ostrow; A, Quill; B" {
		t.Errorf("sections %s", got)
	}
	// Where the place says nothing, the term does.
	autumn = gather(t, Options{Term: department()}, at(rec("week01", "2026-09-01", "A", "1 Ann: proof+"), "test-term-1",
		"", ""),
		at(rec("week01", "2026-09-01", "A", "2 Bo: proof-"), "test-term-2", "", ""))
	if got := strings.Join(autumn.Sections(), "; "); got != "A, term test-term-1; A, term test-term-2" {
		t.Errorf("sections %s", got)
	}
}

// TestRepeaters: evidence of an earlier cohort is marked and counts only where the rule says so.
func TestRepeaters(t *testing.T) {
	records := func() []*evidence.Record {
		return []*evidence.Record{at(rec("week01", "2025-09-01", "A", "1 Ann: proof+", "2 Bo: proof+"), "test-term-0",
			"", "2025 fall"),
			at(rec("week01", "2026-09-01", "A", "1 Ann: proof-"), "test-term-1", "", "2026 fall")}
	}
	check := func(earlier bool, want int) {
		t.Helper()
		o := Options{Term: department()}
		o.Term.Mastery.Earlier = earlier
		autumn := gather(t, o, records()...)
		x := standing(t, autumn, "1", evidence.Proof)
		if len(x.Opportunities) != want || len(x.Earlier) != 1 {
			t.Errorf("%d opportunities count, %d earlier; want %d and 1", len(x.Opportunities), len(x.Earlier), want)
		}
		if len(autumn.Students) != 1 || autumn.Former != 1 || autumn.Cohort != "2026 fall" {
			t.Errorf("%d students, %d former, cohort %q", len(autumn.Students), autumn.Former, autumn.Cohort)
		}
		for _, s := range autumn.Students {
			if s.Repeater != (s.ID == "1") {
				t.Errorf("student %s is a repeater: %v", s.ID, s.Repeater)
			}
		}
	}
	check(false, 1)
	check(true, 2)
}

// TestAliases: a changed id is one student; a circle, and two sheets of one lab, are told.
func TestAliases(t *testing.T) {
	check := func(want string, aliases ...lists.Alias) {
		t.Helper()
		autumn := gather(t, Options{Aliases: aliases}, rec("week01", "2026-09-01", "A", "1 Ann: proof+",
			"9 Di: proof+"),
			rec("week02", "2026-09-08", "A", "2 Ann: proof+"), rec("week03", "2026-09-15", "B", "3 Ann: proof-"))
		var got []string
		for _, s := range autumn.Students {
			got = append(got, fmt.Sprintf("%s %d", s.ID, s.Sheets))
		}
		slices.Sort(got)
		if text := strings.Join(got, ", ") + "; " + problems(autumn); text != want {
			t.Errorf("got %q, want %q", text, want)
		}
	}
	check("1 1, 2 1, 3 1, 9 1; ")
	check("3 3, 9 1; ", lists.Alias{Place: "a:2", Old: "1", ID: "2"}, lists.Alias{Place: "a:3", Old: "2", ID: "3"})
	check(`1 1, 2 1, 3 1, 9 1; a:2: id "1" becomes itself in the end
a:3: id "2" becomes itself in the end
`, lists.Alias{Place: "a:2", Old: "1", ID: "2"}, lists.Alias{Place: "a:3", Old: "2", ID: "1"})
	check("1 1, 2 1, 3 1, 9 1; 00.json: ids 1 and 9 are one student by aliases.csv, and both have a sheet\n",
		lists.Alias{Place: "a:2", Old: "1", ID: "9"})
}

// TestZerosApart: an id with and without its zeros is one student, unless both stand in one record or the names differ.
func TestZerosApart(t *testing.T) {
	check := func(want string, records ...*evidence.Record) {
		t.Helper()
		award := lists.Award{Place: "awards.csv:2", Date: "2026-12-04", Student: "7", Competency: evidence.Proof,
			What: lists.Awarded}
		autumn := gather(t, Options{Awards: []lists.Award{award}}, records...)
		var got []string
		for _, s := range autumn.Students {
			awards := 0
			for c := range s.Standings {
				if s.Standings[c].Award != nil {
					awards++
				}
			}
			got = append(got, fmt.Sprintf("%s %d/%d", s.ID, s.Sheets, awards))
		}
		slices.Sort(got)
		if text := strings.Join(got, ", ") + "; " + problems(autumn); text != want {
			t.Errorf("got %q, want %q", text, want)
		}
	}
	week := func(n int, entries ...string) *evidence.Record {
		return rec(fmt.Sprintf("week%02d", n), fmt.Sprintf("2026-09-%02d", n), "A", entries...)
	}
	check("007 2/1; 00.json: ids 7 and 007 differ by leading zeros alone; counted as one student\n",
		week(1, "7 Ann: proof+"), week(2, "007 Ann: proof+"))
	check("007 1/1; ", week(1, "007 Ann: proof+")) // an award from when the zeros were lost
	check("007 1/0, 7 1/1; ", week(1, "7 Ann: proof+", "007 Ann: proof+"))
	check("007 1/0, 7 1/1; 00.json: ids 7 and 007 differ by leading zeros alone, and the names differ; counted as two "+
		"students\n", week(1, "7 Ann: proof+"), week(2, "007 Bert: proof+"))
}

// Records of another term count only when term.toml names it; they are told once, with their number.
func TestForeignRecords(t *testing.T) {
	key := newKey()
	var files []File
	for i := range 3 {
		r := rec(fmt.Sprintf("week%02d", i+1), "2026-09-01", "A", "1001 Ann: proof+")
		r.Term = "another-term"
		files = append(files, File{fmt.Sprintf("%d.json", i), encoded(t, r)})
	}
	autumn := Gather(files, Options{Term: newTerm(), Key: &key})
	if want := "0.json: and 2 others are of term another-term: anybody could have written them, so they are left out\n"; len(autumn.Records) != 0 || problems(autumn) != want {
		t.Errorf("%d records, %s", len(autumn.Records), problems(autumn))
	}
}
