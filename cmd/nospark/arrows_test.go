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
	"cmd/nospark":  {"*"},
	"cmd/release":  {"cmd/internal/practicefile"},
	"cmd/practice": {"cmd/internal/practice", "cmd/internal/web"},
	"cmd/internal/practice": {
		"cmd/internal/web", "cmd/internal/web/http", "grading", "grading/adjust", "grading/attempt", "grading/evidence",
		"grading/submission",
		"printouts/content", "printouts/debrief", "printouts/wording", "scenarios/build", "scenarios/lab",
		"scenarios/pack",
		"scenarios/term", "scenarios/vehicle",
	},
	"cmd/internal/practicefile": {"cmd/internal/practice", "cmd/internal/web", "printouts/content"},
	"cmd/internal/web/http":     {},
	"cmd/internal/desk": {
		"cmd/internal/web", "grading", "grading/attempt", "grading/bestplay", "printouts/content", "printouts/debrief",
		"printouts/wording", "scenarios/lab",
	},
	"cmd/internal/network": {"cmd/internal/desk", "cmd/internal/web", "grading/attempt"},
	"cmd/internal/web": {
		"cmd/internal/web/http", "grading/attempt", "printouts/content", "printouts/diagram", "printouts/diagram/svg",
		"printouts/handouts", "printouts/screen", "printouts/vector", "printouts/wording", "scenarios/handout",
		"scenarios/lab", "scenarios/pack",
	},
	"printouts": {
		"grading", "grading/bestplay", "grading/competency", "grading/competency/lists", "printouts/content",
		"printouts/coordinator", "printouts/debrief", "printouts/handouts", "printouts/instructor",
		"printouts/page", "printouts/paper",
		"printouts/paper/charts", "printouts/paper/debriefs", "printouts/paper/readings",
		"printouts/paper/worksheets", "printouts/screen", "printouts/workbook/results", "printouts/workbook/rollup",
		"printouts/workbook/signing",
		"scenarios/disk", "scenarios/handout", "scenarios/lab",
	},
	"printouts/content":     {"scenarios/handout", "scenarios/lab"},
	"printouts/coordinator": {"grading/competency", "grading/outcomes", "printouts/content"},
	"printouts/debrief":     {"grading", "printouts/content", "printouts/wording", "scenarios/lab"},
	// a picture is described in the words that stand beside it
	"printouts/diagram": {
		"printouts/content", "printouts/diagram/placement", "printouts/vector", "scenarios/handout",
	},
	"printouts/diagram/placement": {"scenarios/handout"},
	"printouts/diagram/svg":       {"printouts/vector"},
	"printouts/handouts":          {"printouts/content", "printouts/wording", "scenarios/handout", "scenarios/lab"},
	"printouts/instructor": {
		"grading", "grading/bestplay", "grading/competency", "grading/competency/lists", "grading/review",
		"printouts/content", "printouts/handouts", "printouts/wording", "scenarios/handout", "scenarios/lab",
	},
	"printouts/page": {
		"printouts/content", "printouts/page/canvas", "printouts/page/pdf", "printouts/page/typeset",
		"printouts/vector",
	},
	"printouts/page/canvas":  {"printouts/page/typeset", "printouts/vector"},
	"printouts/page/pdf":     {"printouts/page/canvas", "printouts/page/typeset", "printouts/vector"},
	"printouts/page/section": {"printouts/content", "printouts/page"},
	"printouts/page/typeset": {"printouts/vector"},
	"printouts/paper": {
		"printouts/content", "printouts/diagram", "printouts/page", "printouts/page/section", "printouts/vector",
	},
	"printouts/paper/charts": {
		"grading/bestplay", "printouts/content", "printouts/instructor", "printouts/page", "printouts/paper",
		"printouts/wording",
	},
	"printouts/paper/debriefs": {
		"grading", "printouts/content", "printouts/debrief", "printouts/page", "printouts/page/section",
		"printouts/paper", "printouts/wording", "scenarios/lab",
	},
	"printouts/paper/readings": {
		"printouts/content", "printouts/handouts", "printouts/page", "printouts/page/section", "printouts/paper",
		"printouts/wording", "scenarios/handout",
	},
	"printouts/paper/worksheets": {
		"printouts/content", "printouts/handouts", "printouts/page", "printouts/paper",
		"printouts/wording", "scenarios/handout", "scenarios/lab",
	},
	"printouts/screen": {
		"printouts/content", "printouts/diagram", "printouts/diagram/svg", "printouts/vector",
	},
	"printouts/vector":           {},
	"printouts/wording":          {"scenarios/lab"},
	"printouts/workbook":         {},
	"printouts/workbook/entry":   {"printouts/workbook", "scenarios/lab"},
	"printouts/workbook/results": {"grading", "printouts/workbook", "scenarios/lab"},
	"printouts/workbook/rollup": {
		"grading/competency", "grading/competency/lists", "grading/evidence", "grading/outcomes",
		"grading/statistics", "printouts/workbook",
	},
	"printouts/workbook/signing": {
		"grading/competency", "grading/competency/lists", "printouts/workbook",
	},
	"printouts/workbook/workbooktest": {"scenarios/lab", "scenarios/term", "scenarios/testrun"},
	"grading": {
		"grading/adjust", "grading/bestplay", "grading/handin", "grading/letters", "grading/submission",
		"scenarios/isolation", "scenarios/lab",
	},
	"grading/handin": {
		"grading/adjust", "grading/attempt", "grading/bestplay", "grading/letters", "grading/submission", "scenarios/lab",
		"scenarios/roster", "scenarios/spelling",
	}, "grading/adjust": {"scenarios/strict"},
	"grading/attempt":         {},
	"grading/attempt/journal": {"grading/attempt", "scenarios/disk", "scenarios/draw"},
	"grading/bestplay":        {"scenarios/isolation", "scenarios/lab"},
	"grading/competency": {
		"grading", "grading/competency/lists", "grading/evidence", "scenarios/disk", "scenarios/lab",
		"scenarios/roster", "scenarios/tabular", "scenarios/term",
	},
	"grading/competency/lists": {
		"grading", "grading/evidence", "scenarios/disk", "scenarios/spelling", "scenarios/tabular", "scenarios/term",
	},
	"grading/evidence":            {"grading", "grading/bestplay", "scenarios/disk", "scenarios/lab", "scenarios/term"},
	"grading/evidence/recordtest": {"grading", "grading/evidence", "scenarios/term"},
	"grading/gradebook":           {"scenarios/roster", "scenarios/spelling", "scenarios/tabular"},
	"grading/outcomes":            {"grading", "grading/competency", "grading/evidence", "grading/statistics"},
	"grading/labtest":             {"grading/bestplay", "grading/submission", "scenarios/lab"},
	"grading/letters":             {"grading/submission", "scenarios/lab"},
	"grading/players": {
		"grading", "grading/adjust", "grading/bestplay", "grading/submission", "scenarios/draw",
		"scenarios/isolation", "scenarios/lab",
	},
	"grading/review":     {"grading", "scenarios/lab"},
	"grading/statistics": {},
	"grading/submission": {"scenarios/disk", "scenarios/draw", "scenarios/tabular"},
	"scenarios":          {},
	"scenarios/course":   {"scenarios/chances", "scenarios/draw"},
	"scenarios/chances":  {"scenarios/isolation", "scenarios/lab"},
	"scenarios/build": {
		"scenarios/cases", "scenarios/chances", "scenarios/disk", "scenarios/draw", "scenarios/isolation",
		"scenarios/lab",
		"scenarios/pack", "scenarios/pack/cards", "scenarios/pack/spec",
		"scenarios/proof", "scenarios/roster", "scenarios/spelling", "scenarios/term", "scenarios/vehicle",
		"scenarios/vehicle/meter", "scenarios/vehicle/trace",
	},
	"scenarios/cases":             {"scenarios/draw", "scenarios/isolation", "scenarios/lab"},
	"scenarios/circuit":           {},
	"scenarios/circuit/spicetest": {"scenarios/testrun"},
	"scenarios/circuit/transient": {},
	"scenarios/disk":              {},
	"scenarios/draw":              {},
	"scenarios/handout":           {"scenarios/lab", "scenarios/pack", "scenarios/pack/cards"},
	"scenarios/isolation":         {},
	"scenarios/lab": {
		"scenarios/disk", "scenarios/draw", "scenarios/isolation", "scenarios/pack",
		"scenarios/pack/cards", "scenarios/pack/spec",
	},
	"scenarios/pack":          {"scenarios/disk", "scenarios/pack/cards", "scenarios/spelling", "scenarios/strict"},
	"scenarios/pack/cards":    {"scenarios/strict"},
	"scenarios/pack/packtest": {"scenarios/pack", "scenarios/testrun"},
	"scenarios/pack/spec":     {"scenarios/pack", "scenarios/pack/cards", "scenarios/strict"},
	"scenarios/proof": {
		"scenarios/isolation", "scenarios/lab", "scenarios/pack", "scenarios/pack/cards",
		"scenarios/strict", "scenarios/vehicle", "scenarios/vehicle/meter",
	},
	"scenarios/roster":   {"scenarios/disk", "scenarios/spelling", "scenarios/tabular"},
	"scenarios/spelling": {},
	"scenarios/strict":   {"scenarios/spelling"},
	"scenarios/tabular":  {"scenarios/spelling"},
	"scenarios/testrun":  {},
	"scenarios/term": {
		"scenarios/disk", "scenarios/lab", "scenarios/pack/cards", "scenarios/spelling",
		"scenarios/strict", "scenarios/tabular",
	},
	"scenarios/vehicle": {
		"scenarios/circuit", "scenarios/pack", "scenarios/pack/cards", "scenarios/vehicle/coil", "scenarios/vehicle/meter",
		"scenarios/vehicle/trace",
	},
	"scenarios/vehicle/coil":  {"scenarios/circuit/transient"},
	"scenarios/vehicle/lint":  {"scenarios/pack", "scenarios/strict", "scenarios/vehicle", "scenarios/vehicle/meter"},
	"scenarios/vehicle/meter": {"scenarios/pack", "scenarios/pack/cards"},
	"scenarios/vehicle/netlist": {
		"scenarios/circuit", "scenarios/pack", "scenarios/pack/cards", "scenarios/vehicle",
	},
	"scenarios/vehicle/trace": {},
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

// TestNothingSimulatesAfterTheBuild: a lab is frozen, so grading and printing link neither the simulated vehicle nor
// its circuit.
func TestNothingSimulatesAfterTheBuild(t *testing.T) {
	list, err := exec.Command("go", "list", "-deps", "nospark/grading/...", "nospark/printouts/...").Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range strings.Fields(string(list)) {
		if name == "nospark/scenarios/build" || strings.HasPrefix(name, "nospark/scenarios/vehicle") ||
			strings.HasPrefix(name, "nospark/scenarios/circuit") {
			t.Errorf("grading or printing links %s", name)
		}
	}
}
