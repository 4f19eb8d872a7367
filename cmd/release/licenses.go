package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// module is a module that the program is made of.
type module struct{ Path, Version, Dir string }

// licenses puts together the license texts of everything that is in the program for a platform: of the Go library and
// of every module that it links, as they lie in the module cache. A module without a license text is an error: nothing
// of it may be handed on.
func (r *releaser) licenses(ctx context.Context, p platform) ([]byte, error) {
	modules, err := r.modules(ctx, p)
	if err != nil {
		return nil, err
	}
	goRoot, err := r.goTool(ctx, p, "env", "GOROOT")
	if err != nil {
		return nil, err
	}
	modules = append([]module{{Path: "the Go standard library", Dir: strings.TrimSpace(string(goRoot))}}, modules...)
	var out bytes.Buffer
	out.WriteString("nospark contains the work of others. Their licenses, as they hand them out:\n")
	for _, m := range modules {
		texts, err := licenseFiles(m.Dir)
		if err != nil {
			return nil, err
		}
		if len(texts) == 0 {
			return nil, fmt.Errorf("%s %s has no license in %s", m.Path, m.Version, m.Dir)
		}
		for _, path := range texts {
			text, err := os.ReadFile(path)
			if err != nil {
				return nil, err
			}
			name, err := filepath.Rel(m.Dir, path)
			if err != nil {
				return nil, err
			}
			fmt.Fprintf(&out, "\n%s\n%s, %s\n\n%s\n", strings.Repeat("=", 80), strings.TrimSpace(m.Path+" "+m.Version),
				filepath.ToSlash(name), bytes.TrimSpace(text))
		}
	}
	return out.Bytes(), nil
}

// modules lists the modules that the program and the one for browsers inside it link on a platform, without the
// project's own, by path.
func (r *releaser) modules(ctx context.Context, p platform) ([]module, error) {
	out, err := r.goTool(ctx, p, "list", "-deps", "-json=Module", "./cmd/nospark", "./cmd/internal/practice")
	if err != nil {
		return nil, err
	}
	var modules []module
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var pkg struct {
			Module *struct {
				module
				Main bool
			}
		}
		if err := d.Decode(&pkg); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return nil, err
		}
		if m := pkg.Module; m != nil && !m.Main && !slices.Contains(modules, m.module) {
			modules = append(modules, m.module)
		}
	}
	slices.SortFunc(modules, func(a, b module) int { return strings.Compare(a.Path, b.Path) })
	return modules, nil
}

// licenseFiles lists the license texts at the top of a module, those in a folder for them too, in order.
func licenseFiles(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	var found []string
	for _, e := range entries {
		path := filepath.Join(dir, e.Name())
		if !isLicense(e.Name()) {
			continue
		}
		err := filepath.WalkDir(path, func(path string, e fs.DirEntry, err error) error {
			if err == nil && e.Type().IsRegular() {
				found = append(found, path)
			}
			return err
		})
		if err != nil {
			return nil, err
		}
	}
	return found, nil
}

// isLicense tells from its name what holds a license, a notice or a grant.
func isLicense(name string) bool {
	name = strings.ToUpper(name)
	if strings.HasSuffix(name, ".GO") {
		return false
	}
	return slices.ContainsFunc([]string{"LICENSE", "LICENCE", "COPYING", "NOTICE", "PATENTS"},
		func(word string) bool { return strings.Contains(name, word) })
}
