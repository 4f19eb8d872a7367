package build

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

// termFolder writes a small term and gives the path of its plan.
func termFolder(t *testing.T, plan string) (dir, path string) {
	t.Helper()
	dir = t.TempDir()
	for name, text := range map[string]string{
		term.File:           "id = \"3f9c02a1b7d4\"\nprogram = \"Automotive Technology\"\npaper = \"a4\"\n",
		term.RosterFile:     "id,name,section\ns00,Student 00,A\ns01,Student 01,A\ns02,Student 02,B\n",
		"seats.csv":         "id,row,column\ns00,1,1\ns01,1,2\n",
		"packs/mine.toml":   twoLamps(t),
		"plans/week05.toml": plan,
	} {
		if err := os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := term.WriteKey(filepath.Join(dir, term.KeyFile), term.Key{5}); err != nil {
		t.Fatal(err)
	}
	return dir, filepath.Join(dir, "plans", "week05.toml")
}

func TestLoad(t *testing.T) {
	dir, path := termFolder(t,
		"title = \"T\"\ndate = 2026-10-05\npack = \"packs/mine.toml\"\nseating = \"seats.csv\"\n")
	in, autumn, _, err := Load(path)
	if err != nil {
		t.Fatal(err)
	}
	if autumn != dir || len(in.Students) != 3 || in.Pack != twoLamps(t) ||
		in.Seating["s01"] != (term.Seat{Row: 1, Column: 2}) || in.Previous != nil || in.Key != (term.Key{5}) ||
		in.Term.Paper != "a4" {
		t.Errorf("loaded %+v from %s", in, autumn)
	}
	l, _ := build(t, in)
	lab := filepath.Join(dir, term.LabsFolder, "week05", lab.File)
	if err := os.MkdirAll(filepath.Dir(lab), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(lab, encode(t, l), 0o600); err != nil {
		t.Fatal(err)
	}
	again, _, _, err := Load(path)
	if err != nil {
		t.Fatal(err)
	}
	if again.Previous == nil || again.Previous.Seal != l.Seal {
		t.Error("the lab built before is not found")
	}
}

// TestUsualSpares: a plan that says nothing of spares has one for every ten students, and at least two; a lab that was
// built keeps those that it has.
func TestUsualSpares(t *testing.T) {
	const plan = "title = \"T\"\ndate = 2026-10-05\npack = \"packs/mine.toml\"\n"
	check := func(students, want int, more string) (in Input, dir, path string) {
		t.Helper()
		dir, path = termFolder(t, plan+more)
		list := "id,name,section\n"
		for i := range students {
			list += fmt.Sprintf("%d,Student %d,%c\n", 1001+i, i+1, 'A'+i%2)
		}
		if err := os.WriteFile(filepath.Join(dir, term.RosterFile), []byte(list), 0o644); err != nil {
			t.Fatal(err)
		}
		in, _, _, err := Load(path)
		if err != nil || in.Plan.Spares != want {
			t.Errorf("%d students: %d spares, %v; want %d", students, in.Plan.Spares, err, want)
		}
		return in, dir, path
	}
	check(3, 2, "")
	check(20, 2, "")
	check(21, 3, "")
	check(42, 3, "sections = [\"A\"]\n")
	check(42, 0, "spares = 0\n")
	none, _, _ := check(3, 0, "spares = 0\n")
	in, dir, path := check(3, 2, "")
	for _, had := range []Input{in, none} {
		l, _ := build(t, had)
		data, err := l.Encode()
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(dir, term.LabsFolder, "week05", lab.File)
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, data, 0o644); err != nil {
			t.Fatal(err)
		}
		again, _, _, err := Load(path)
		if err != nil || again.Plan.Spares != had.Plan.Spares {
			t.Errorf("built with %d spares, then %d, %v", had.Plan.Spares, again.Plan.Spares, err)
		}
	}
	without, _ := build(t, none)
	with, _ := build(t, in)
	for i := range without.Sheets { // spares draw from streams of their own
		if !reflect.DeepEqual(without.Sheets[i], with.Sheets[i]) {
			t.Errorf("sheet %d is another with spares", i)
		}
	}
}

func TestLoadErrors(t *testing.T) {
	const head = "title = \"T\"\ndate = 2026-10-05\n"
	check := func(name, plan string, want ...string) {
		t.Run(name, func(t *testing.T) {
			_, path := termFolder(t, plan)
			_, _, _, err := Load(path)
			if err == nil {
				t.Fatal("no error")
			}
			for _, w := range want {
				if !strings.Contains(err.Error(), w) {
					t.Errorf("got\n%v\nwant %q in it", err, w)
				}
			}
		})
	}
	check("built-in pack", head+"pack = \"lmp\"\n",
		`week05.toml:3: pack = "lmp": there is no built-in pack "lmp"; did you mean "lamp"?`)
	check("files", head+"pack = \"packs/none.toml\"\nroster = \"none.csv\"\nseating = \"seats\"\n",
		`week05.toml:3: pack = "packs/none.toml"`, "none.csv", `week05.toml:5: seating = "seats"`)
	check("plan", "title = 7\n", "week05.toml:1: title = 7", `week05.toml:1: key "date" is missing`)
	outside := filepath.Join(t.TempDir(), "plan.toml")
	if _, _, _, err := Load(outside); err == nil || !strings.Contains(err.Error(), "no term.toml") {
		t.Errorf("a plan outside a term: %v", err)
	}
}

// TestPlanAlone builds the sheets of a term without a class list: spares for whoever comes.
func TestPlanAlone(t *testing.T) {
	dir, path := termFolder(t, "title = \"T\"\ndate = 2026-10-05\npack = \"packs/mine.toml\"\nspares = 4\n")
	if err := os.Remove(filepath.Join(dir, term.RosterFile)); err != nil {
		t.Fatal(err)
	}
	in, _, _, err := Load(path)
	if err != nil {
		t.Fatal(err)
	}
	l, _ := build(t, in)
	if len(l.Sheets) != 4 || l.Sheets[0].Student != "" {
		t.Errorf("%d sheets, the first of %q", len(l.Sheets), l.Sheets[0].Student)
	}
}
