package spicetest

import (
	"os"
	"os/exec"
	"path/filepath"
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
