package main

import (
	"context"
	"crypto/sha256"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"nospark/cmd/internal/practicefile"
)

// readMe is the page to begin with; {{PROGRAM}}, {{VERSION}} and what is between {{if windows}} and {{end}} depend on
// the platform.
//
//go:embed read-me.txt
var readMe string

// sumsName is the list of SHA-256 sums, in the form that sha256sum -c reads.
const sumsName = "SHA-256.txt"

// releaser makes the archives of one version.
type releaser struct {
	root    string // of the module
	version string
	scratch string // a folder for what is built on the way
	browser practicefile.Program
}

// archive builds the program for a platform and packs it with what belongs to it.
func (r *releaser) archive(ctx context.Context, p platform) (name string, data []byte, err error) {
	program, err := r.build(ctx, p)
	if err != nil {
		return "", nil, err
	}
	licenses, err := r.licenses(ctx, p)
	if err != nil {
		return "", nil, err
	}
	own, err := os.ReadFile(filepath.Join(r.root, "LICENSE"))
	if err != nil {
		return "", nil, err
	}
	files := []file{
		{name: programName(p), data: program, run: true},
		{name: "READ-ME.txt", data: []byte(readMeFor(p, r.version))},
		{name: "LICENSE.txt", data: own},
		{name: "LICENSES-OF-OTHERS.txt", data: licenses},
	}
	if p.os == "windows" { // an editor there may show a text without these as one line
		for i := range files[1:] {
			f := &files[1+i]
			f.data = []byte(strings.ReplaceAll(strings.ReplaceAll(string(f.data), "\r\n", "\n"), "\n", "\r\n"))
		}
	}
	var sums strings.Builder
	for _, f := range files {
		sums.WriteString(sumLine(f.name, f.data))
	}
	files = append(files, file{name: sumsName, data: []byte(sums.String())})
	folder := fmt.Sprintf("nospark-%s-%s-%s", r.version, systemName(p.os), p.arch)
	if p.os == "linux" {
		data, err = tarball(folder, files)
		return folder + ".tar.gz", data, err
	}
	data, err = zipped(folder, files)
	return folder + ".zip", data, err
}

// sumLine is a line of the list of sums.
func sumLine(name string, data []byte) string {
	return fmt.Sprintf("%x  %s\n", sha256.Sum256(data), name)
}

// programName is how the program is called on a platform.
func programName(p platform) string {
	if p.os == "windows" {
		return "nospark.exe"
	}
	return "nospark"
}

// systemName is what people call an operating system.
func systemName(goos string) string {
	if goos == "darwin" {
		return "macos"
	}
	return goos
}

// readMeFor is the page to begin with for one platform.
func readMeFor(p platform, version string) string {
	text := strings.NewReplacer("{{VERSION}}", version, "{{PROGRAM}}", programName(p)).Replace(readMe)
	var page strings.Builder
	for i, part := range strings.Split(text, "{{if ") {
		if i == 0 {
			page.WriteString(part)
			continue
		}
		system, rest, _ := strings.Cut(part, "}}\n")
		own, after, _ := strings.Cut(rest, "{{end}}\n")
		if system == systemName(p.os) {
			page.WriteString(own)
		}
		page.WriteString(after)
	}
	return page.String()
}

// build compiles the program for a platform. Nothing of the machine, the folder or the day gets into it.
func (r *releaser) build(ctx context.Context, p platform) ([]byte, error) {
	overlay, err := r.practice()
	if err != nil {
		return nil, err
	}
	path := filepath.Join(r.scratch, "program")
	_, err = r.goTool(ctx, p, "build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-tags=released",
		"-overlay="+overlay,
		"-o", path, "./cmd/nospark")
	if err != nil {
		return nil, err
	}
	return os.ReadFile(path)
}

// practice lays the program for browsers into the source of the program while that is built, and gives the list that
// says so. Nothing is written into the source itself.
func (r *releaser) practice() (overlay string, err error) {
	overlay = filepath.Join(r.scratch, "overlay.json")
	laid := map[string]string{}
	for name, data := range map[string][]byte{practicefile.PackedName: r.browser.Packed,
		practicefile.StartsName: r.browser.Starts} {
		path := filepath.Join(r.scratch, name)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			return "", err
		}
		laid[filepath.Join(r.root, "cmd", "nospark", name)] = path
	}
	list, err := json.Marshal(map[string]any{"Replace": laid})
	if err != nil {
		return "", err
	}
	return overlay, os.WriteFile(overlay, list, 0o600)
}

// goTool runs the go command for a platform and gives what it prints.
func (r *releaser) goTool(ctx context.Context, p platform, args ...string) ([]byte, error) {
	cmd := exec.CommandContext(ctx, "go", args...)
	cmd.Dir = r.root
	cmd.Env = append(os.Environ(), "GOOS="+p.os, "GOARCH="+p.arch, "CGO_ENABLED=0", "GOFLAGS=", "GOWORK=off",
		"GOEXPERIMENT=", "GOAMD64=v1", "GOARM64=v8.0")
	return output(cmd)
}

// output is what a command prints; where it fails, what it complains about is the error.
func output(cmd *exec.Cmd) ([]byte, error) {
	out, err := cmd.Output()
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		return nil, fmt.Errorf("%s: %w\n%s", strings.Join(cmd.Args[:2], " "), err, exit.Stderr)
	}
	return out, err
}

// moduleRoot is the folder with go.mod.
func moduleRoot(ctx context.Context) (string, error) {
	out, err := output(exec.CommandContext(ctx, "go", "env", "GOMOD"))
	if err != nil {
		return "", err
	}
	path := strings.TrimSpace(string(out))
	if filepath.Base(path) != "go.mod" {
		return "", errors.New("run it in the folder of the source, where go.mod is")
	}
	return filepath.Dir(path), nil
}

// platform is an operating system and a processor, as Go names them.
type platform struct{ os, arch string }
