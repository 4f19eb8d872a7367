package spicetest

import (
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"nospark/scenarios/testrun"
)

// Run runs a control script and returns what it prints. A machine without
// ngspice skips the test, except where CI=true promises the full set of checks.
func Run(t *testing.T, dir, script string) string {
	t.Helper()
	program := testrun.Program(t, "ngspice")
	file := filepath.Join(dir, "script.cir")
	script = "* script\n.control\nset numdgt=15\n" + script + "quit 0\n.endc\n.end\n"
	if err := os.WriteFile(file, []byte(script), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(program, "-b", "-n", file)
	cmd.Dir = dir
	var complaints strings.Builder // apart, or they end up in the middle of a printed line
	cmd.Stderr = &complaints
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("ngspice: %v\n%.1000s%.1000s", err, out, complaints.String())
	}
	return string(out)
}

// Table runs the .tran of a netlist and returns its rows: time, then the asked vectors.
func Table(t *testing.T, netlist, vectors string) [][]float64 {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "netlist.cir"), []byte(netlist), 0o600); err != nil {
		t.Fatal(err)
	}
	Run(t, dir, "set wr_singlescale\nsource netlist.cir\nrun\nwrdata table.txt "+vectors+"\n")
	text, err := os.ReadFile(filepath.Join(dir, "table.txt"))
	if err != nil {
		t.Fatal(err)
	}
	var rows [][]float64
	for line := range strings.Lines(string(text)) {
		var row []float64
		for _, f := range strings.Fields(line) {
			x, err := strconv.ParseFloat(f, 64)
			if err != nil {
				t.Fatalf("ngspice wrote %q", line)
			}
			row = append(row, x)
		}
		if len(row) > 0 {
			rows = append(rows, row)
		}
	}
	return rows
}
