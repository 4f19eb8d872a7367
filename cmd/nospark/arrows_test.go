package main

import (
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"strings"
	"testing"
)

// allowed lists, for every package, which packages of the project it may import: data flows one way, and so do imports.
var allowed = map[string][]string{
	"cmd/nospark":        {"*"},
	"printouts":          {"printouts/page", "printouts/diagram", "scenarios", "grading", "grading/competency"},
	"printouts/diagram":  {"printouts/page", "scenarios"},
	"printouts/page":     {},
	"printouts/workbook": {"scenarios", "scenarios/tabular", "grading", "grading/competency"},
	"grading":            {"scenarios/isolation", "grading/submission", "scenarios", "scenarios/draw", "scenarios/lines", "scenarios/roster", "scenarios/spelling"},
	"grading/competency": {"grading", "scenarios", "scenarios/disk", "scenarios/isolation", "scenarios/tabular"},
	"grading/gradebook":  {"scenarios/roster", "scenarios/tabular"},
	"scenarios/isolation":  {},
	"grading/players":    {"grading", "scenarios/isolation", "grading/submission", "scenarios", "scenarios/draw"},
	"grading/submission": {"scenarios/disk", "scenarios/draw", "scenarios/tabular"},
	"scenarios":          {"scenarios/vehicle", "scenarios/disk", "scenarios/draw", "scenarios/lines", "scenarios/pack", "scenarios/roster", "scenarios/spelling", "scenarios/isolation", "scenarios/tabular"},
	"scenarios/vehicle":    {"scenarios/circuit", "scenarios/pack"},
	"scenarios/circuit":  {},
	"scenarios/disk":     {},
	"scenarios/draw":     {},
	"scenarios/lines":    {},
	"scenarios/pack":     {"scenarios/disk", "scenarios/lines", "scenarios/spelling"},
	"scenarios/roster":   {"scenarios/disk", "scenarios/spelling", "scenarios/tabular"},
	"scenarios/spelling": {},
	"scenarios/tabular":  {"scenarios/spelling"},
}

func TestImportsGoOneWay(t *testing.T) {
	list, err := exec.Command("go", "list", "-json=ImportPath,Imports", "nospark/...").Output()
	if err != nil {
		t.Fatal(err)
	}
	d := json.NewDecoder(strings.NewReader(string(list)))
	for {
		var p struct {
			ImportPath string
			Imports    []string
		}
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		name := strings.TrimPrefix(p.ImportPath, "nospark/")
		may, known := allowed[name]
		if !known {
			t.Errorf("package %s is not in the list of allowed imports", name)
			continue
		}
		for _, imported := range p.Imports {
			to, ours := strings.CutPrefix(imported, "nospark/")
			if ours && !contains(may, to) {
				t.Errorf("%s imports %s; that arrow is not allowed", name, to)
			}
		}
	}
}

func contains(list []string, want string) bool {
	for _, s := range list {
		if s == want || s == "*" {
			return true
		}
	}
	return false
}
