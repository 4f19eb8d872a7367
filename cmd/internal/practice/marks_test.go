package practice

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"

	"nospark/cmd/internal/web"
	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/submission"
	"nospark/printouts/wording"
	"nospark/scenarios/lab"
	"nospark/scenarios/testrun"
)

// handover names the folder in which cmd/nospark hands over the shelves to play, 0.shelf and so on, and wants the games
// back, games.json, to have the program for browsers play them too.
const handover = "NOSPARK_PRACTICE"

// record is what a browser needs to play the same games, and what it must be shown.
type record struct {
	Offers   []Offer   `json:"offers"`
	Random   []string  `json:"random"` // what was read of it each time, in hexadecimal
	Requests []request `json:"requests"`
	from     io.Reader
}

type request struct {
	Method string `json:"method"`
	Path   string `json:"path"`
	Form   string `json:"form"`
	Sum    string `json:"sum"` // of the answer
}

func (r *record) note(method, path string, form url.Values, a web.Answer) {
	sum := sha256.Sum256(fmt.Appendf(nil, "%d %s\n%s", a.Status, a.Location, a.Body))
	r.Requests = append(r.Requests, request{method, path, form.Encode(), hex.EncodeToString(sum[:])})
}

func (r *record) Read(into []byte) (int, error) {
	n, err := r.from.Read(into)
	r.Random = append(r.Random, hex.EncodeToString(into[:n]))
	return n, err
}

// toPlay are the shelves that were handed over, else a few.
func toPlay(t *testing.T) []*Shelf {
	t.Helper()
	folder := os.Getenv(handover)
	if folder == "" {
		shelves, err := shelvesOnce()
		if err != nil {
			t.Fatal(err)
		}
		if testing.Short() {
			return shelves
		}
		large, err := largeOnce()
		if err != nil {
			t.Fatal(err)
		}
		return append(slices.Clone(shelves), large)
	}
	files, err := filepath.Glob(filepath.Join(folder, "*.shelf"))
	if err != nil || len(files) == 0 {
		t.Fatalf("%s holds no shelves: %v", folder, err)
	}
	var shelves []*Shelf
	for i := range files {
		data, err := os.ReadFile(filepath.Join(folder, fmt.Sprintf("%d.shelf", i)))
		if err != nil {
			t.Fatal(err)
		}
		s, err := Decode(data)
		if err != nil {
			t.Fatal(err)
		}
		shelves = append(shelves, s)
	}
	return shelves
}

// TestMarksAreThoseOfGrade plays 200 random games, most where most faults are, and grades each a second time as a class
// is graded: the lab through its file and the row through a CSV file. The marks are the same.
func TestMarksAreThoseOfGrade(t *testing.T) {
	p := resumed(t, "two hundred", "", "", toPlay(t))
	p.record = &record{Offers: p.g.c.Offers, from: p.g.c.Random}
	p.g.c.Random = p.record
	random := rand.New(stream("choices"))
	var names []string // each as often as it has faults
	for _, o := range p.g.c.Offers {
		for _, s := range o.Stages {
			names = append(names, slices.Repeat([]string{o.Pack + " " + s.ID()}, s.Faults)...)
		}
	}
	played := map[string]int{}
	for n := range testrun.Times(t, 200, 100) {
		p.do("POST", "/vehicle", "level", string(levels()[n%3].Level), "stage", names[random.IntN(len(names))])
		l := p.g.now.lab
		played[l.Pack.Name]++
		for range random.IntN(7) {
			p.commit(random.IntN(len(l.Tests)), []string{"yes", "no", "none"}[random.IntN(3)])
		}
		r := l.Repairs[random.IntN(len(l.Repairs))]
		code := r.Code + r.Letters
		if random.IntN(2) == 0 {
			code = p.truth()
		}
		p.do("POST", "/conclusion", "key", "end", "repair", code)
		shown := regexp.MustCompile(`Mark ([0-9.]+)</strong> of 100`).FindStringSubmatch(p.do("GET", "/debrief"))
		if shown == nil {
			t.Fatalf("game %d shows no mark", n)
		}
		if want := asInClass(t, p.g, code); shown[1] != want {
			t.Fatalf("game %d: mark %s in practice, %s in class", n, shown[1], want)
		}
	}
	t.Logf("games: %v", played)
	for _, o := range p.g.c.Offers {
		if played[o.Pack] == 0 && o.Tests > 200 {
			t.Errorf("no game of pack %s", o.Pack)
		}
	}
	if folder := os.Getenv(handover); folder != "" {
		data, err := json.Marshal(p.record)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(folder, "games.json"), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

// asInClass grades the vehicle of a game from files, as the command grade reads them. Nothing but the pages' own forms
// told what was done.
func asInClass(t *testing.T, g *Game, code string) string {
	t.Helper()
	l := g.now.lab
	data, err := l.Encode()
	if err != nil {
		t.Fatal(err)
	}
	text := "id,repair"
	row := fmt.Sprintf("%s,%s", self, code)
	place := map[string]int{}
	for i, test := range l.Tests {
		place[test.ID] = i
	}
	for i, s := range g.now.bench.Attempt(l.Sheets[0].Code).Steps {
		line := l.Sheets[0].Lines[place[s.Test]]
		text += fmt.Sprintf(",step %d", i+1)
		row += fmt.Sprintf(",%03d%s%s", line.Number, line.Letters, map[string]string{"yes": "+",
			"no": "-"}[string(s.Good)])
	}
	return gradeFiles(t, data, text+"\n"+row+"\n")
}

func gradeFiles(t *testing.T, file []byte, entries string) string {
	t.Helper()
	l, err := lab.Decode(lab.File, file)
	if err != nil {
		t.Fatal(err)
	}
	rows, remarks := submission.ReadCSV("class.csv", []byte(entries))
	result, err := grading.Grade(l, rows, adjust.Decisions{}, remarks...)
	if err != nil {
		t.Fatal(err)
	}
	s := result.Students[0]
	if s.Status != grading.Graded || len(rows) != 1 {
		t.Fatalf("%s, %s: %v", s.Status, s.Why, result.Problems)
	}
	return wording.Points(s.Mark)
}
