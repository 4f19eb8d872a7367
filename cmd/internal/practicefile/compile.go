package practicefile

import (
	"bytes"
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// Program is the program for browsers: compressed, and with the script that starts it, which comes with Go.
type Program struct {
	Packed []byte // WebAssembly, by gzip
	Starts []byte // wasm_exec.js
}

// Names of the two in a release.
const (
	PackedName = "practice.wasm.gz"
	StartsName = "wasm_exec.js"
)

// Compile makes the program from the source in the folder with go.mod. The same source and the same Go give the same
// bytes. What is not computed much is compiled for size: functions are not copied into their callers, which saves an
// eighth of the file.
func Compile(ctx context.Context, root string) (Program, error) {
	folder, err := os.MkdirTemp("", "nospark-practice-*")
	if err != nil {
		return Program{}, err
	}
	defer os.RemoveAll(folder)
	path := filepath.Join(folder, "practice.wasm")
	args := []string{"build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-gcflags=all=-l"}
	for _, hot := range []string{"scenarios/circuit", "scenarios/vehicle", "scenarios/isolation", "scenarios/lab"} {
		args = append(args, "-gcflags=nospark/"+hot+"=")
	}
	if _, err := goTool(ctx, root, append(args, "-o", path, "./cmd/practice")...); err != nil {
		return Program{}, err
	}
	code, err := os.ReadFile(path)
	if err != nil {
		return Program{}, err
	}
	goRoot, err := goTool(ctx, root, "env", "GOROOT")
	if err != nil {
		return Program{}, err
	}
	starts, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(goRoot)), "lib", "wasm", StartsName))
	if err != nil {
		return Program{}, err
	}
	packed, err := pack(code)
	return Program{packed, starts}, err
}

// pack compresses as well as gzip can.
func pack(data []byte) ([]byte, error) {
	var out bytes.Buffer
	z, err := gzip.NewWriterLevel(&out, gzip.BestCompression) // its header has no time and no name unless they are set
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(data); err != nil {
		return nil, err
	}
	err = z.Close()
	return out.Bytes(), err
}

// goTool runs the go command for browsers and gives what it prints.
func goTool(ctx context.Context, root string, args ...string) ([]byte, error) {
	cmd := exec.CommandContext(ctx, "go", args...)
	cmd.Dir = root
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOWASM=", "CGO_ENABLED=0", "GOFLAGS=", "GOWORK=off",
		"GOEXPERIMENT=")
	out, err := cmd.Output()
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		return nil, fmt.Errorf("go %s: %w\n%s", args[0], err, exit.Stderr)
	}
	return out, err
}

// Source finds the folder of the program's own source from the folder that somebody works in.
func Source(ctx context.Context) (string, error) {
	out, err := exec.CommandContext(ctx, "go", "list", "-m", "-f", "{{.Path}} {{.Dir}}").Output()
	name, dir, _ := strings.Cut(strings.TrimSpace(string(out)), " ")
	if err != nil || name != "nospark" || dir == "" {
		return "", errors.New("the program for browsers is not inside this nospark: take one of a release, which has " +
			"it," +
			" or run this command with Go in the folder of the source: go run ./cmd/nospark practice")
	}
	return dir, nil
}
