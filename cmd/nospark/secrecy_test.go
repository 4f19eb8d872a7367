package main

import (
	"archive/zip"
	"bytes"
	"encoding/base64"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"unicode/utf16"

	"nospark/scenarios/disk"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/term"
	"nospark/scenarios/testrun"
)

// The threat model is SECRETS.md; each of its claims has a test here, in secrecy_lab_test.go or in
// scenarios/secrecy_test.go.

// The key is made for its owner alone, whatever the umask, and refused as soon as somebody else can read it; nothing is
// written then.
func TestKeyIsPrivate(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("this system has no such permissions")
	}
	dir, plan := schoolTerm(t, 2)
	key := filepath.Join(dir, term.KeyFile)
	info, err := os.Stat(key)
	if err != nil || info.Mode() != 0o600 || info.Size() != term.KeySize {
		t.Errorf("a new key: mode %v, %d bytes, %v", info.Mode(), info.Size(), err)
	}
	nospark(t, "build", plan)
	folder := filepath.Join(dir, term.LabsFolder, "week01")
	for _, mode := range []fs.FileMode{0o604, 0o620, 0o640, 0o644, 0o666} {
		if err := os.Chmod(key, mode); err != nil {
			t.Fatal(err)
		}
		for _, line := range [][]string{{"build", plan}, {"grade", folder}, {"competency", dir}} {
			before := listing(t, dir)
			errText := fails(t, line...)
			if !strings.Contains(errText, "other users can read the key") || !strings.Contains(errText, "chmod 600") {
				t.Errorf("mode %v: nospark %s says %q", mode, line[0], errText)
			}
			if after := listing(t, dir); !slices.Equal(before, after) {
				t.Errorf("mode %v: nospark %s wrote something", mode, line[0])
			}
		}
	}
}

// fails runs a command that has to end with status 1 and returns what it said.
func fails(t testing.TB, line ...string) string {
	t.Helper()
	var out, errOut bytes.Buffer
	if got := run(t.Context(), line, strings.NewReader(""), &out, &errOut); got != exitInput {
		t.Errorf("nospark %s: exit status %d, want %d\n%s", strings.Join(line, " "), got, exitInput, errOut.String())
	}
	return errOut.String()
}

// listing names all files below dir with their bytes, but for locks.
func listing(t testing.TB, dir string) []string {
	t.Helper()
	var list []string
	for _, path := range filesBelow(t, dir) {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if filepath.Base(path) != ".nospark-lock" {
			list = append(list, path+" "+fingerprint(data))
		}
	}
	return list
}

func filesBelow(t testing.TB, dir string) []string {
	t.Helper()
	var list []string
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err == nil && d.Type().IsRegular() {
			list = append(list, path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// unpacked gives all texts in which something could stand in a file: the file as it is; the streams of a PDF and the
// parts of a workbook unpacked; and what a person reads in a PDF.
func unpacked(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	all := [][]byte{data}
	switch filepath.Ext(path) {
	case ".pdf":
		all = append(all, program(t, "qpdf", "--qdf", "--object-streams=disable", "--stream-data=uncompress", path,
			"-"), program(t, "pdftotext", "-layout", path, "-"))
	case ".xlsx":
		r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		for _, f := range r.File {
			part, err := f.Open()
			if err != nil {
				t.Fatal(err)
			}
			text, err := io.ReadAll(part)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, text)
		}
	}
	return bytes.Join(all, []byte("\n"))
}

// program runs an outside program: qpdf unpacks PDFs, poppler's pdftotext reads them.
func program(t testing.TB, name string, line ...string) []byte {
	t.Helper()
	testrun.Program(t, name)
	out, err := exec.Command(name, line...).Output()
	if err != nil {
		t.Fatalf("%s %s: %v", name, strings.Join(line, " "), err)
	}
	return out
}

// disguises are the forms in which a key could slip into a text: raw, hexadecimal, base64 at each of its three offsets,
// and as the list of numbers that a careless %v prints; each also by halves.
func disguises(key []byte) map[string][]byte {
	forms := map[string][]byte{}
	for name, part := range map[string][]byte{"key": key, "first half": key[:len(key)/2],
		"second half": key[len(key)/2:]} {
		forms[name+", raw"] = part
		forms[name+", hex"] = []byte(hex.EncodeToString(part))
		forms[name+", HEX"] = []byte(strings.ToUpper(hex.EncodeToString(part)))
		var numbers []string
		for _, b := range part {
			numbers = append(numbers, fmt.Sprint(b))
		}
		forms[name+", numbers"] = []byte(strings.Join(numbers, " "))
		forms[name+", numbers of JSON"] = []byte(strings.Join(numbers, ","))
		for skip := range 3 {
			whole := part[skip:]
			whole = whole[:len(whole)/3*3] // what does not hang on the neighbors
			forms[name+", base64 "+string(rune('0'+skip))] = []byte(base64.StdEncoding.EncodeToString(whole))
			forms[name+", base64url "+string(rune('0'+skip))] = []byte(base64.URLEncoding.EncodeToString(whole))
		}
	}
	return forms
}

// busyTerm is a term in which every command that writes or prints was run once, and all that was printed.
var busyTerm struct {
	sync.Once
	files   snapshot
	printed []byte
}

// fullTerm lays out a term in which every command that writes or prints was run, and gives all that was printed.
func fullTerm(t testing.TB) (dir string, printed []byte) {
	t.Helper()
	testrun.Slow(t, "builds and grades a large lab")
	busyTerm.Do(func() {
		dir, printed := playTerm(t)
		busyTerm.files, busyTerm.printed = take(t, dir), printed
	})
	if busyTerm.files == nil {
		t.Fatal("the term could not be played")
	}
	return busyTerm.files.lay(t), busyTerm.printed
}

func playTerm(t testing.TB) (dir string, printed []byte) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "term")
	var said bytes.Buffer
	do := func(line ...string) {
		t.Helper()
		if got := run(t.Context(), line, strings.NewReader(""), &said, &said); got != exitDone {
			t.Fatalf("nospark %s: exit status %d\n%s", strings.Join(line, " "), got, said.String())
		}
	}
	do("new", dir)
	put(t, filepath.Join(dir, "roster.csv"), "id,name,section\n1001,Ada Quill,A\n1002,Bert Ostrow,A\n1003,Cleo "+
		"Carver,A\n1004,Dov Ember,B\n")
	plan := filepath.Join(dir, "plans", "week01.toml")
	put(t, plan, "title = \"No start\"\ndate = 2026-09-07\npack = \"single-coil\"\ncomplaint = \"no-start\"\nspares "+
		"= 1\nlarge_print = [\"1003\"]\n")
	do("build", plan, "--json")
	folder := filepath.Join(dir, term.LabsFolder, "week01")
	handIn(t, folder)
	put(t, filepath.Join(folder, "entries", "more.csv"), "id,repair,step 1\n1001,99ZZ,000AA+\n")
	do("grade", folder, "--json")
	do("grade", folder)
	do("reprint", folder, "1002")
	do("reading", folder, "1002", "fuse-ohms", "--json")
	do("competency", dir)
	do("competency", dir, "--codes")
	// what goes wrong prints too
	lab := labFile(folder)
	data, err := os.ReadFile(lab)
	if err != nil {
		t.Fatal(err)
	}
	put(t, lab, strings.Replace(string(data), `"rows":16`, `"rows":15`, 1))
	said.WriteString(fails(t, "grade", folder))
	said.WriteString(fails(t, "build", plan))
	put(t, lab, string(data))
	return dir, said.Bytes()
}

// The key stands in no file but its own and in nothing that any command prints, in none of the forms above.
func TestKeyLeaksNowhere(t *testing.T) {
	dir, printed := fullTerm(t)
	key, err := os.ReadFile(filepath.Join(dir, term.KeyFile))
	if err != nil {
		t.Fatal(err)
	}
	forms := disguises(key)
	look := func(where string, text []byte) {
		t.Helper()
		for name, form := range forms {
			if bytes.Contains(text, form) {
				t.Errorf("%s has the %s", where, name)
			}
		}
	}
	if text := append([]byte("x"), key...); !bytes.Contains(text, forms["key, raw"]) ||
		!strings.Contains(base64.StdEncoding.EncodeToString(text), string(forms["key, base64 2"])) {
		t.Fatal("the search finds nothing even where the key is")
	}
	files := 0
	for _, path := range filesBelow(t, dir) {
		if filepath.Base(path) != term.KeyFile {
			look(path, unpacked(t, path))
			files++
		}
	}
	look("what was printed", printed)
	t.Logf("%d files and %d bytes of print searched for %d forms of the key", files, len(printed), len(forms))
	if files < 30 {
		t.Errorf("only %d files", files)
	}
}

// No handout carries an id, a sentence or the name of a fault, nor the id of a repair or a band: not as text, not in an
// unpacked stream or in the metadata, in one byte per letter or in two.
func TestHandoutsNameNoFault(t *testing.T) {
	dir, _ := fullTerm(t)
	folder := filepath.Join(dir, term.LabsFolder, "week01")
	p, err := pack.Load("single-coil")
	if err != nil {
		t.Fatal(err)
	}
	lab, err := lab.Read(labFile(folder))
	if err != nil {
		t.Fatal(err)
	}
	h, err := handout.Of(lab)
	if err != nil {
		t.Fatal(err)
	}
	// words that students see anyway; a fault's name inside them tells nothing
	public := []string{h.Title, h.Reference.PackTitle}
	for _, r := range h.Reference.Repairs {
		public = append(public, r.Label)
	}
	for _, part := range h.Reference.Diagram.Parts {
		public = append(public, part.Label)
	}
	for _, point := range h.Reference.Points {
		public = append(public, point.Label)
	}
	var secrets []string
	add := func(s string) {
		if s != "" && !slices.ContainsFunc(public, func(w string) bool {
			return strings.Contains(strings.ToLower(w),
				strings.ToLower(s))
		}) {
			secrets = append(secrets, s)
		}
	}
	for _, f := range p.Faults {
		add(f.ID)
		add(f.Label)
		add(f.Note)
	}
	for _, r := range p.Repairs {
		add(r.ID)
	}
	if len(secrets) < 2*len(p.Faults) {
		t.Fatalf("only %d words to look for", len(secrets))
	}
	files := 0
	for _, path := range append(filesBelow(t, filepath.Join(folder, "handouts")),
		filesBelow(t, filepath.Join(folder, "partners"))...) {
		files++
		text := bytes.ToLower(unpacked(t, path))
		// its style sheet says "none" of borders and fillings, which is the id of a repair
		if filepath.Ext(path) == ".html" {
			text = regexp.MustCompile(`(?s)<style>.*?</style>|fill="none"`).ReplaceAll(text, nil)
		}
		for _, s := range secrets {
			s = strings.ToLower(s)
			if bytes.Contains(text, []byte(s)) || bytes.Contains(text, wide(s)) {
				t.Errorf("%s has %q", path, s)
			}
		}
	}
	// The search finds what is there: the answer key names them.
	key := bytes.ToLower(unpacked(t, filepath.Join(folder, "instructor", "key.pdf")))
	if fault := lab.Faults[lab.Hypotheses[lab.Sheets[0].Truth].Fault]; !bytes.Contains(bytes.Join(bytes.Fields(key),
		[]byte(" ")), []byte(strings.ToLower(fault.Label))) {
		t.Errorf("the answer key does not have %q", fault.Label)
	}
	t.Logf("%d handouts searched for %d words", files, len(secrets))
}

// wide is a text in UTF-16, high byte first, as PDFs write it.
func wide(s string) []byte {
	var b []byte
	for _, u := range utf16.Encode([]rune(s)) {
		b = append(b, byte(u>>8), byte(u))
	}
	return b
}

// On a machine with several users the handouts are for everybody, and everything that holds a fault, a reading or a
// mark is the instructor's alone, also where an earlier version left it open.
func TestModes(t *testing.T) {
	testrun.Slow(t, "builds, grades and fills in")
	dir := termFor(t, "title = \"A lamp\"\ndate = 2026-09-07\npack = \"lamp\"\n")
	term := filepath.Dir(filepath.Dir(dir))
	open := filepath.Join(dir, "handouts", "readings.pdf")
	put(t, open, "what an earlier version wrote")
	if err := os.Chmod(filepath.Join(dir, "instructor", "key.pdf"), 0o644); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(dir, "entries", "class.csv"), "id,repair,step 1\n1001,12HM,001BB+\n")
	command(t, exitDone, "build", filepath.Join(term, "plans", "week01.toml"))
	command(t, exitDone, "grade", dir)
	command(t, exitDone, "reprint", dir, "1001")
	command(t, exitDone, "competency", term)
	put(t, filepath.Join(term, "export.csv"), "id,Lab 1\n1001,\n")
	command(t, exitDone, "gradebook", dir, "--fill", filepath.Join(term, "export.csv"), "--mark-column", "Lab 1",
		"--out", filepath.Join(term, "upload.csv"))
	if _, err := os.Stat(open); err == nil {
		t.Error("readings are left among the handouts")
	}
	seen := map[fs.FileMode]int{}
	check := func(folder string, want fs.FileMode) {
		t.Helper()
		for _, path := range filesBelow(t, filepath.Join(dir, folder)) {
			if filepath.Base(path) == disk.LockName {
				continue
			}
			info, err := os.Stat(path)
			if err != nil {
				t.Fatal(err)
			}
			if seen[want]++; info.Mode().Perm() != want {
				t.Errorf("%s has mode %04o, want %04o", path, info.Mode().Perm(), want)
			}
		}
	}
	check("handouts", 0o644)
	check("partners", 0o600)
	check("instructor", 0o600)
	check("graded", 0o600)
	for _, path := range []string{"records", "competency.xlsx", "upload.csv", "labs/week01/entries/entry.xlsx"} {
		check(filepath.Join("..", "..", path), 0o600)
	}
	if seen[0o644] < 4 || seen[0o600] < 12 {
		t.Errorf("only %v files", seen)
	}
}
