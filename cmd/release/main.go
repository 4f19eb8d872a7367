// Command release makes the archives that people download: for every platform the program, a page to begin with, the
// licenses of everything inside and a list of SHA-256 sums. It needs Go alone, and the same source gives the same
// bytes on every machine with the same Go.
//
//	go run ./cmd/release --out dist 1.0
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"nospark/cmd/internal/practicefile"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	err := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	if err != nil {
		fmt.Fprintf(os.Stderr, "release: %v\n", err)
		os.Exit(1)
	}
}

func (p platform) String() string { return p.os + "/" + p.arch }

// platforms are those that a release is made for.
func platforms() []platform {
	var all []platform
	for _, system := range []string{"windows", "darwin", "linux"} {
		for _, arch := range []string{"amd64", "arm64"} {
			all = append(all, platform{system, arch})
		}
	}
	return all
}

// versions are names that can stand in a file's name everywhere.
var versions = regexp.MustCompile(`^[0-9A-Za-z][0-9A-Za-z.-]*$`)

// run makes the archives that the command line asks for.
func run(ctx context.Context, args []string, out, errOut io.Writer) error {
	flags := flag.NewFlagSet("release", flag.ContinueOnError)
	flags.SetOutput(errOut)
	flags.Usage = func() {
		fmt.Fprintln(errOut, "usage: go run ./cmd/release [--out FOLDER] [--only OS/ARCH] VERSION")
		flags.PrintDefaults()
	}
	folder := flags.String("out", "dist", "the folder for the archives")
	only := flags.String("only", "", "one platform instead of all, such as linux/amd64")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if flags.NArg() != 1 || !versions.MatchString(flags.Arg(0)) {
		return errors.New("give one version, of letters, digits, dots and hyphens, such as 1.0")
	}
	wanted := platforms()
	if *only != "" {
		wanted = slices.DeleteFunc(wanted, func(p platform) bool { return p.String() != *only })
		if len(wanted) == 0 {
			return fmt.Errorf("--only %q is none of the platforms %v", *only, platforms())
		}
	}
	r := releaser{version: flags.Arg(0)}
	var err error
	if r.root, err = moduleRoot(ctx); err != nil {
		return err
	}
	if r.scratch, err = os.MkdirTemp("", "nospark-release-*"); err != nil {
		return err
	}
	defer os.RemoveAll(r.scratch)
	if r.browser, err = practicefile.Compile(ctx, r.root); err != nil {
		return err
	}
	return r.release(ctx, wanted, *folder, out)
}

// release makes the archives of some platforms and the list of their sums.
func (r *releaser) release(ctx context.Context, wanted []platform, folder string, out io.Writer) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	var sums strings.Builder
	for _, p := range wanted {
		name, data, err := r.archive(ctx, p)
		if err != nil {
			return fmt.Errorf("%s: %w", p, err)
		}
		if err := os.WriteFile(filepath.Join(folder, name), data, 0o644); err != nil {
			return err
		}
		fmt.Fprintf(out, "%s  %.1f MB\n", filepath.Join(folder, name), float64(len(data))/1e6)
		sums.WriteString(sumLine(name, data))
	}
	return os.WriteFile(filepath.Join(folder, sumsName), []byte(sums.String()), 0o644)
}
