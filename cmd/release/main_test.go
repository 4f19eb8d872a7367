package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"nospark/cmd/internal/practicefile"
	"nospark/scenarios/testrun"
)

// TestArchiveOfThisPlatform makes the archive of the platform that the test runs on, twice, unpacks it, compares its
// sums with sha256sum where there is one, and starts the program. The program for browsers is compiled once: that it is
// the same each time is tested where practice files are made.
func TestArchiveOfThisPlatform(t *testing.T) {
	testrun.Long(t, "compiles the program twice")
	here := platform{runtime.GOOS, runtime.GOARCH}
	if !slices.Contains(platforms(), here) {
		t.Skipf("nothing is released for %s", here)
	}
	root, err := moduleRoot(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	browser, err := practicefile.Compile(t.Context(), root)
	if err != nil {
		t.Fatal(err)
	}
	var all [2][]byte
	for i := range all {
		dir := filepath.Join(t.TempDir(), "dist")
		r := releaser{root: root, version: "0.0-test", scratch: t.TempDir(), browser: browser}
		if err := r.release(t.Context(), []platform{here}, dir, io.Discard); err != nil {
			t.Fatal(err)
		}
		made, err := filepath.Glob(filepath.Join(dir, "nospark-0.0-test-*"))
		if err != nil || len(made) != 1 {
			t.Fatalf("archives: %v, %v", made, err)
		}
		if all[i], err = os.ReadFile(made[0]); err != nil {
			t.Fatal(err)
		}
		list, err := os.ReadFile(filepath.Join(dir, sumsName))
		want := fmt.Sprintf("%x  %s\n", sha256.Sum256(all[i]), filepath.Base(made[0]))
		if err != nil || string(list) != want {
			t.Errorf("the list beside the archive is %q, want %q (%v)", list, want, err)
		}
	}
	if !bytes.Equal(all[0], all[1]) {
		t.Error("the same source gave different bytes")
	}
	files := unpack(t, here, all[0])
	dir := t.TempDir()
	var names []string
	for _, f := range files {
		folder, name, _ := strings.Cut(f.name, "/")
		if !strings.HasPrefix(folder, "nospark-0.0-test-") {
			t.Errorf("%s is not in a folder of the release", f.name)
		}
		names = append(names, name)
		if err := os.WriteFile(filepath.Join(dir, name), f.data, f.mode()); err != nil {
			t.Fatal(err)
		}
	}
	want := []string{programName(here), "READ-ME.txt", "LICENSE.txt", "LICENSES-OF-OTHERS.txt", sumsName}
	if !slices.Equal(names, want) {
		t.Errorf("the archive holds %v, want %v", names, want)
	}
	sha256sum(t, dir)
	practice(t, filepath.Join(dir, programName(here)))
	program := exec.Command(filepath.Join(dir, programName(here)), "pack", "list")
	if out, err := program.CombinedOutput(); err != nil || !strings.Contains(string(out), "single-coil") {
		t.Errorf("the program in the archive lists no packs: %v\n%s", err, out)
	}
}

// practice makes a practice file with the program of an archive, in a folder without source and with no Go to be found.
func practice(t *testing.T, program string) {
	t.Helper()
	cmd := exec.Command(program, "practice", "lamp", "--out", "p.html")
	cmd.Dir, cmd.Env = t.TempDir(), []string{"PATH="}
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Errorf("practice: %v\n%s", err, out)
	}
	if page, err := os.ReadFile(filepath.Join(cmd.Dir, "p.html")); err != nil || len(page) < 1_000_000 {
		t.Errorf("a practice file of %d bytes: %v", len(page), err)
	}
}

// sha256sum checks the sums of an unpacked archive with the program of that name, from outside the project.
func sha256sum(t *testing.T, dir string) {
	t.Helper()
	path, err := exec.LookPath("sha256sum")
	if err != nil {
		t.Log("no sha256sum here")
		return
	}
	cmd := exec.Command(path, "--check", "--strict", sumsName)
	cmd.Dir = dir
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Errorf("sha256sum: %v\n%s", err, out)
	}
}

// unpack reads an archive of a platform.
func unpack(t *testing.T, p platform, data []byte) []file {
	t.Helper()
	if p.os == "linux" {
		return untar(t, data)
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var files []file
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		content, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if !f.Modified.Equal(made()) {
			t.Errorf("%s is of %v", f.Name, f.Modified)
		}
		files = append(files, file{name: f.Name, data: content, run: f.Mode()&0o100 != 0})
	}
	return files
}

func untar(t *testing.T, data []byte) []file {
	t.Helper()
	z, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	var files []file
	for r := tar.NewReader(z); ; {
		h, err := r.Next()
		if errors.Is(err, io.EOF) {
			return files
		}
		if err != nil {
			t.Fatal(err)
		}
		content, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if !h.ModTime.Equal(made()) || h.Uname != "" || h.Uid != 0 {
			t.Errorf("%s is of %v by %q", h.Name, h.ModTime, h.Uname)
		}
		files = append(files, file{name: h.Name, data: content, run: fs.FileMode(h.Mode)&0o100 != 0})
	}
}

func TestBothKindsOfArchives(t *testing.T) {
	files := []file{{name: "program", data: []byte("p"), run: true}, {name: "page", data: []byte("text")}}
	for _, p := range []platform{{"windows", "amd64"}, {"linux", "arm64"}} {
		pack := zipped
		if p.os == "linux" {
			pack = tarball
		}
		data, err := pack("folder", files)
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range unpack(t, p, data) {
			if f.name != "folder/"+files[i].name || !bytes.Equal(f.data, files[i].data) || f.run != files[i].run {
				t.Errorf("%s: %v came back as %v", p, files[i], f)
			}
		}
	}
}

func TestReadMeOfEachPlatform(t *testing.T) {
	words := map[string]string{"windows": "Run anyway", "darwin": "Open Anyway", "linux": "./nospark"}
	for _, p := range platforms() {
		page := readMeFor(p, "7.1")
		for system, word := range words {
			if has := strings.Contains(page, word); has != (system == p.os) {
				t.Errorf("%s: %q stands in its page: %v", p, word, has)
			}
		}
		if strings.Contains(page, "{{") || strings.Contains(page, "\n\n\n\n") ||
			!strings.HasPrefix(page, "nospark 7.1\n") {
			t.Errorf("%s: %s", p, page)
		}
		for _, line := range strings.Split(page, "\n") {
			if len(line) > 84 {
				t.Errorf("%s: a line of %d characters: %s", p, len(line), line)
			}
		}
	}
}

// TestLicenses: every module that some platform links brings its license, and modules of tests and tools bring none.
func TestLicenses(t *testing.T) {
	root, err := moduleRoot(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	r := releaser{root: root, version: "0", scratch: t.TempDir()}
	for _, p := range platforms() {
		text, err := r.licenses(context.Background(), p)
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range []string{"the Go standard library", "github.com/spf13/cobra v", "LICENSE-DejaVu",
			"golang.org/x/sys v"} {
			if !bytes.Contains(text, []byte(want)) {
				t.Errorf("%s: no license of %s", p, want)
			}
		}
		if bytes.Contains(text, []byte("\ngithub.com/rogpeppe/go-internal")) {
			t.Errorf("%s: a license of what only tests need", p)
		}
		// Only the Windows program links the module that sees a double click.
		if has := bytes.Contains(text, []byte("github.com/inconshreveable/mousetrap")); has != (p.os == "windows") {
			t.Errorf("%s: license of mousetrap: %v", p, has)
		}
	}
}

func TestWrongUse(t *testing.T) {
	for _, args := range [][]string{{}, {"a b"}, {"1", "2"}, {"--only", "plan9/386", "1"}, {"--nix", "1"}} {
		if err := run(context.Background(), append([]string{"--out", t.TempDir()}, args...), io.Discard,
			io.Discard); err == nil {
			t.Errorf("release %q is taken", args)
		}
	}
	if err := run(context.Background(), []string{"--out", t.TempDir(), "../1.0"}, io.Discard, io.Discard); err == nil {
		t.Error("a version that leads out of the folder is taken")
	}
}
