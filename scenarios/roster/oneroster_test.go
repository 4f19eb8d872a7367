package roster

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"
)

// sample is one package of testdata with what reading it has to give.
type sample struct {
	files        map[string]string
	opts         Options
	want, source string
}

func readSample(t testing.TB, path string) sample {
	t.Helper()
	archive, err := txtar.ParseFile(path)
	if err != nil {
		t.Fatal(err)
	}
	s := sample{files: map[string]string{}}
	for _, f := range archive.Files {
		switch f.Name {
		case "want":
			s.want = string(f.Data)
		case "source":
			s.source = strings.TrimSpace(string(f.Data))
		case "options":
			for line := range strings.Lines(string(f.Data)) {
				key, value, _ := strings.Cut(strings.TrimSpace(line), ": ")
				switch key {
				case "class":
					s.opts.Class = value
				case "classes":
					s.opts.Classes = strings.Fields(value)
				case "date":
					s.opts.Date = value
				case "id":
					s.opts.IDColumn = value
				default:
					t.Fatalf("%s: unknown option %q", path, key)
				}
			}
		default:
			s.files[f.Name] = string(f.Data)
		}
	}
	return s
}

func samples(t testing.TB) []string {
	t.Helper()
	paths, err := filepath.Glob("testdata/*.txtar")
	if err != nil || len(paths) < 9 {
		t.Fatalf("testdata: %q, %v", paths, err)
	}
	return paths
}

// zipped packs files, in the folder prefix if that is not empty.
func zipped(t testing.TB, prefix string, files map[string]string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	w.RegisterCompressor(zip.Deflate, func(out io.Writer) (io.WriteCloser, error) {
		return flate.NewWriter(out, flate.BestSpeed)
	})
	for name, content := range files {
		f, err := w.Create(prefix + name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Write([]byte(content)); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Every package reads the same as a folder, as a zip and as a zip of a folder.
func TestOneRoster(t *testing.T) {
	for _, path := range samples(t) {
		s := readSample(t, path)
		dir := filepath.Join(t.TempDir(), "export")
		if err := os.Mkdir(dir, 0o755); err != nil {
			t.Fatal(err)
		}
		for name, content := range s.files {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(content), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		check := func(form string, r Roster, err error, from string) {
			t.Helper()
			if got := strings.ReplaceAll(show(r, err), from, "export"); got != s.want {
				t.Errorf("%s as %s: got\n%s\nwant\n%s", path, form, got, s.want)
			}
			if got := strings.ReplaceAll(r.Source, from, "export"); got != s.source {
				t.Errorf("%s as %s: source %q, want %q", path, form, got, s.source)
			}
		}
		r, err := Read(dir, s.opts)
		check("folder", r, err, dir)

		file := dir + ".zip"
		if err := os.WriteFile(file, zipped(t, "", s.files), 0o644); err != nil {
			t.Fatal(err)
		}
		r, err = Read(file, s.opts)
		check("zip", r, err, file)

		if _, ok := s.files["users.csv"]; ok {
			r, err = readZip("x.zip", zipped(t, "term/", s.files), s.opts)
			check("zip of a folder", r, err, filepath.Join("x.zip", "term"))
		}
	}
}

// Nothing that the standard's users.csv says about a person beyond the name
// comes out, wherever one looks.
func TestPrivateColumnsAreDropped(t *testing.T) {
	for _, path := range []string{"testdata/oneroster-1.1.txtar", "testdata/oneroster-1.2.txtar"} {
		s := readSample(t, path)
		r, err := readZip("export.zip", zipped(t, "", s.files), s.opts)
		if err != nil {
			t.Fatal(err)
		}
		all := fmt.Sprintf("%#v", r)
		for _, private := range []string{"SECRET", "@school.example", "555-01"} {
			if !strings.Contains(s.files["users.csv"], private) {
				t.Errorf("%s: the sample lacks %q: nothing is tested", path, private)
			}
			if strings.Contains(all, private) {
				t.Errorf("%s: the roster holds %q", path, private)
			}
		}
	}
}

func TestClassIsKept(t *testing.T) {
	s := readSample(t, "testdata/oneroster-1.1.txtar")
	s.files["classes.csv"] = strings.Replace(s.files["classes.csv"], ",t1,", `,"t1,t2",`, 1)
	r, err := readZip("export.zip", zipped(t, "", s.files), s.opts)
	want := Class{"c1", "Ignition Diagnosis", "AUTO-201", "s1", []string{"t1", "t2"}}
	if err != nil || !reflect.DeepEqual(r.Class, want) {
		t.Errorf("got %+v, %v, want %+v", r.Class, err, want)
	}
}

func TestZipLimits(t *testing.T) {
	good := readSample(t, "testdata/oneroster-1.1.txtar")
	check := func(name string, data []byte, want string) {
		t.Helper()
		_, err := readZip("x.zip", data, good.opts)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: got %v, want an error with %q", name, err, want)
		}
	}
	many := map[string]string{}
	for i := range maxEntries + 1 {
		many[fmt.Sprintf("%d.csv", i)] = ""
	}
	check("many files", zipped(t, "", many), "contains 1001 files, at most 1000")

	// 64 MiB of blanks shrink to some 64 kB.
	bomb := map[string]string{"users.csv": strings.Repeat(" ", maxUnpacked+1)}
	for _, name := range []string{"manifest.csv", "classes.csv", "enrollments.csv"} {
		bomb[name] = good.files[name]
	}
	data := zipped(t, "", bomb)
	if len(data) > 1<<20 {
		t.Errorf("the bomb has %d bytes: it is none", len(data))
	}
	check("bomb", data, filepath.Join("x.zip", "users.csv")+": has more than 67108864 bytes")

	check("workbook", zipped(t, "", map[string]string{"[Content_Types].xml": "", "xl/workbook.xml": ""}),
		"is a workbook or document; save the class list as CSV, UTF-8")
	check("an absolute path", zipped(t, "/etc/", good.files), "missing")
	check("cut short", zipped(t, "", good.files)[:200], "cannot be unpacked")

	whole := zipped(t, "", map[string]string{"manifest.csv": strings.Repeat("propertyName,value\n", 99)})
	whole[60] ^= 0xff // inside the packed data
	check("damaged", whole, "manifest.csv: ")

	latin := map[string]string{"users.csv": "sourcedId,givenName,familyName,role\nu1,Zo\xeb,E,student\n"}
	for _, name := range []string{"manifest.csv", "classes.csv", "enrollments.csv"} {
		latin[name] = good.files[name]
	}
	check("not UTF-8", zipped(t, "", latin), "users.csv: is Windows-1252, but the standard wants UTF-8")
}

func TestFileIsAFolder(t *testing.T) {
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "manifest.csv"), 0o755); err != nil {
		t.Fatal(err)
	}
	_, err := Read(dir, Options{})
	if err == nil || !strings.Contains(err.Error(), "manifest.csv: is not a regular file") {
		t.Errorf("got %v", err)
	}
}

func FuzzReadZip(f *testing.F) {
	for _, path := range samples(f) {
		s := readSample(f, path)
		f.Add(zipped(f, "", s.files), s.opts.Class)
		f.Add(zipped(f, "term/", s.files), s.opts.Class)
	}
	f.Fuzz(func(t *testing.T, data []byte, class string) {
		r, err := readZip("x.zip", data, Options{Class: class})
		checkRoster(t, r, err)
	})
}

// The files of a package are fuzzed as such, because hardly any mutation of a
// zip unpacks.
func FuzzReadFiles(f *testing.F) {
	for _, path := range samples(f) {
		s := readSample(f, path)
		f.Add(s.files["manifest.csv"], s.files["classes.csv"], s.files["enrollments.csv"], s.files["users.csv"],
			s.files["roles.csv"], s.opts.Class, s.opts.IDColumn)
	}
	f.Fuzz(func(t *testing.T, manifest, classes, enrollments, users, roles, class, idColumn string) {
		files := map[string]string{"manifest.csv": manifest, "classes.csv": classes, "enrollments.csv": enrollments,
			"users.csv": users, "roles.csv": roles}
		r, err := readOneRoster(&bundle{"export", mapFS(files)}, Options{Class: class, IDColumn: idColumn})
		checkRoster(t, r, err)
	})
}

// mapFS is a folder in memory; an empty text means that there is no such file.
func mapFS(files map[string]string) fstest.MapFS {
	m := fstest.MapFS{}
	for name, content := range files {
		if content != "" {
			m[name] = &fstest.MapFile{Data: []byte(content), Mode: 0o644}
		}
	}
	return m
}
