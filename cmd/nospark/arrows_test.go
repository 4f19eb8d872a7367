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
	"printouts":          {"printouts/page", "printouts/diagram", "scenarios/lab", "scenarios/handout", "grading", "grading/competency"},
	"printouts/diagram":  {"printouts/page", "scenarios/handout"},
	"printouts/page":     {},
	"printouts/workbook": {"scenarios/lab", "scenarios/roster", "grading", "grading/competency"},
	"grading":            {"grading/submission", "scenarios/isolation", "scenarios/lab", "scenarios/lines", "scenarios/spelling"},
	"grading/competency": {"grading", "scenarios/lab", "scenarios/term", "scenarios/disk"},
	"grading/gradebook":  {"scenarios/roster"},
	"grading/players":    {"grading", "grading/submission", "scenarios/isolation", "scenarios/lab"},
	"grading/submission": {"scenarios/disk", "scenarios/draw", "scenarios/roster"},
	"scenarios":          {},
	"scenarios/build": {"scenarios/lab", "scenarios/proof", "scenarios/term", "scenarios/vehicle", "scenarios/isolation", "scenarios/pack", "scenarios/roster",
		"scenarios/draw", "scenarios/disk", "scenarios/spelling"},
	"scenarios/handout":   {"scenarios/lab", "scenarios/pack"},
	"scenarios/proof":     {"scenarios/isolation", "scenarios/lab", "scenarios/pack", "scenarios/vehicle"},
	"scenarios/lab":       {"scenarios/isolation", "scenarios/pack", "scenarios/disk"},
	"scenarios/term":      {"scenarios/lab", "scenarios/pack", "scenarios/lines", "scenarios/disk", "scenarios/spelling"},
	"scenarios/vehicle":   {"scenarios/circuit", "scenarios/pack"},
	"scenarios/pack":      {"scenarios/disk", "scenarios/lines", "scenarios/spelling"},
	"scenarios/roster":    {"scenarios/disk", "scenarios/spelling"},
	"scenarios/circuit":   {},
	"scenarios/isolation": {},
	"scenarios/disk":      {},
	"scenarios/draw":      {},
	"scenarios/lines":     {},
	"scenarios/spelling":  {},
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

// TestNothingSimulatesAfterTheBuild: a lab is frozen, so grading and printing link neither the simulated vehicle nor its circuit.
func TestNothingSimulatesAfterTheBuild(t *testing.T) {
	list, err := exec.Command("go", "list", "-deps", "nospark/grading/...", "nospark/printouts/...").Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range strings.Fields(string(list)) {
		if name == "nospark/scenarios/vehicle" || name == "nospark/scenarios/circuit" || name == "nospark/scenarios/build" {
			t.Errorf("grading or printing links %s", name)
		}
	}
}
