package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"nospark/scenarios/lab"
	"nospark/scenarios/spelling"
	"nospark/scenarios/term"
)

// readLab reads the lab in a folder. Where there is none the error names the folders that were most likely meant.
func readLab(folder string) (*lab.Lab, error) {
	lab, err := lab.Read(labFile(folder))
	if _, there := os.Stat(labFile(folder)); err == nil || there == nil || errors.Is(there, fs.ErrPermission) {
		return lab, err
	}
	if isFolder(filepath.Join(folder, "handouts")) {
		return nil, fmt.Errorf("%s: is missing, but %s was made from it; restore it from a copy", labFile(folder),
			filepath.Join(folder, "handouts"))
	}
	return nil, noLab(folder)
}

// noLab says what a path is that is not the folder of a lab, and which labs there are.
func noLab(path string) error {
	for dir := filepath.Clean(path); ; dir = filepath.Dir(dir) {
		if isFile(labFile(dir)) {
			return fmt.Errorf("%s: lies inside a lab; give the lab's folder: %s", path, dir)
		}
		if dir == filepath.Dir(dir) {
			break
		}
	}
	term, err := term.Find(path)
	if err != nil {
		return fmt.Errorf("%s: %s; give the folder of a lab, for example %s", path, what(path),
			filepath.FromSlash("autumn/labs/week05"))
	}
	labs := labsOf(term)
	name := strings.TrimSuffix(filepath.Base(path), ".toml")
	plan := filepath.Join(term, "plans", name+".toml")
	likely := among(name, labs)
	switch {
	case likely != "" && isFile(path):
		return fmt.Errorf("%s: is a plan, not a lab; did you mean %s?", path, likely)
	case isFile(plan) && (likely == "" || filepath.Base(likely) != name):
		return fmt.Errorf("%s: the lab is not built yet; first: nospark build %s", path, plan)
	case likely != "":
		return fmt.Errorf("%s: %s; did you mean %s?", path, what(path), likely)
	case len(labs) == 0:
		return fmt.Errorf("%s: %s; the term has no lab yet; first: nospark build %s", path, what(path),
			anyOf(plansOf(term), plan))
	}
	return fmt.Errorf("%s: %s; the labs of the term are %s", path, what(path), spelling.Enumerate(labs))
}

// noPlan says what a path is that cannot be a plan; nil when it may be one.
func noPlan(path string) error {
	dir, name := filepath.Split(filepath.Clean(path))
	t, err := term.Find(path)
	if isFile(path) {
		switch {
		case name == term.File:
			return fmt.Errorf("%s: is the term, not a plan; its plans are %s", path, anyOf(plansOf(filepath.Clean(dir)),
				"none"))
		case filepath.Ext(name) != ".toml" && err == nil:
			return fmt.Errorf("%s: is not a plan; plans end with .toml: %s", path, anyOf(plansOf(t), "there is none"))
		}
		return nil
	}
	kind := "there is no such plan"
	switch {
	case isFile(labFile(path)):
		kind = "is a lab, not its plan"
	case isFolder(path):
		kind = "is a folder, not a plan"
	}
	if err != nil {
		return fmt.Errorf("%s: %s; give a plan, for example %s", path, kind,
			filepath.FromSlash("autumn/plans/week05.toml"))
	}
	plans := plansOf(t)
	if likely := among(strings.TrimSuffix(name, ".toml"), plans); likely != "" {
		return fmt.Errorf("%s: %s; did you mean %s?", path, kind, likely)
	}
	return fmt.Errorf("%s: %s; the plans of the term are %s", path, kind, anyOf(plans, "none"))
}

// noTerm says what a path is that is not the folder of a term; nil when it is one.
func noTerm(path string) error {
	if isFile(filepath.Join(path, term.File)) {
		return nil
	}
	if term, err := term.Find(path); err == nil {
		return fmt.Errorf("%s: is not the folder of a term; did you mean %s?", path, term)
	}
	kind := "there is no such folder"
	if isFolder(path) {
		kind = "has no " + term.File
	}
	return fmt.Errorf("%s: %s; give the folder of a term, one made by: nospark new DIR", path, kind)
}

// what names a path that is not a lab.
func what(path string) string {
	switch {
	case isFile(filepath.Join(path, term.File)):
		return "is a term, not a lab"
	case isFolder(path):
		return "is not a lab"
	case isFile(path):
		return "is a file, not a folder"
	}
	return "there is no such folder"
}

// labsOf lists the folders of a term's labs, by name.
func labsOf(t string) []string {
	// the pattern is sound
	files, _ := filepath.Glob(filepath.Join(escaped(t), term.LabsFolder, "*", filepath.FromSlash(lab.File)))
	for i, f := range files {
		files[i] = strings.TrimSuffix(f, string(filepath.Separator)+filepath.FromSlash(lab.File))
	}
	return files
}

// plansOf lists the files of a term's plans, by name.
func plansOf(term string) []string {
	files, _ := filepath.Glob(filepath.Join(escaped(term), "plans", "*.toml")) // the pattern is sound
	return files
}

// escaped keeps a folder's name from being taken for a pattern.
func escaped(dir string) string {
	if filepath.Separator == '\\' {
		return dir
	}
	return strings.NewReplacer(`\`, `\\`, "*", `\*`, "?", `\?`, "[", `\[`).Replace(dir)
}

// among finds the path whose last part, without its ending, is a name or near it. Another number is not near: week02 is
// no slip of week01.
func among(name string, paths []string) string {
	names := make([]string, len(paths))
	for i, p := range paths {
		names[i] = strings.TrimSuffix(filepath.Base(p), ".toml")
		if names[i] == name {
			return p
		}
	}
	for i, n := range names {
		if number(n) != number(name) {
			names[i] = ""
		}
	}
	if near := spelling.Nearest(name, names); near != "" {
		return paths[slices.Index(names, near)]
	}
	return ""
}

// number takes the digits of a name without leading zeros.
func number(name string) string {
	return strings.TrimLeft(strings.Map(func(r rune) rune {
		if r < '0' || r > '9' {
			return -1
		}
		return r
	}, name), "0")
}

// anyOf lists paths, or says what stands for none.
func anyOf(paths []string, none string) string {
	if len(paths) == 0 {
		return none
	}
	return spelling.Enumerate(paths)
}

func isFile(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Mode().IsRegular()
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// wanting words an error about the number of arguments: what the command takes, and what could be given here.
func wanting(cmd *cobra.Command, list []string) error {
	name := strings.TrimPrefix(cmd.CommandPath(), cmd.Root().Name()+" ")
	takes := strings.Join(strings.Fields(cmd.Use)[1:], " ")
	example, _, _ := strings.Cut(strings.TrimSpace(cmd.Example), "\n")
	switch {
	case cmd.HasSubCommands():
		var known []string
		for _, c := range cmd.Commands() {
			known = append(known, c.Name())
		}
		return fmt.Errorf("%s: unknown command %q; %s", name, list[0], spelling.Suggest(list[0], known))
	case takes == "":
		return fmt.Errorf("%s takes no argument, but %q was given", name, list[0])
	case len(list) > strings.Count(takes, " ")+1:
		return fmt.Errorf("%s takes %s, but %q was given as well; for example: %s; a path with spaces needs quotes",
			name, takes, list[len(list)-1], example)
	}
	term, err := term.Find(".")
	if here := map[string][]string{"LAB": labsOf(term), "PLAN": plansOf(term), "TERM": {term}}[takes]; err == nil &&
		len(here) > 0 {
		return fmt.Errorf("%s needs %s; here: %s", name, takes, spelling.Enumerate(here))
	}
	return fmt.Errorf("%s needs %s; for example: %s", name, takes, example)
}
