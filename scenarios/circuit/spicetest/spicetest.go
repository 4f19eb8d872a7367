// Package spicetest asks ngspice, for tests: an outside program that solves the circuits this one solves.
package spicetest

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"testing"

	"nospark/scenarios/testrun"
)

// OperatingPoints runs netlists one after the other, in as many processes as there are processors, and returns what it
// prints for each. A machine without ngspice skips the test, except where CI=true promises the full set of checks.
func OperatingPoints(t *testing.T, netlists []string) []map[string]float64 {
	t.Helper()
	program := testrun.Program(t, "ngspice")
	values, workers := make([]map[string]float64, len(netlists)), runtime.NumCPU()
	failures := make([]error, workers)
	var all sync.WaitGroup
	for k := range workers {
		from, to := k*len(netlists)/workers, (k+1)*len(netlists)/workers
		dir := t.TempDir()
		all.Go(func() { failures[k] = run(program, dir, netlists[from:to], values[from:to]) })
	}
	all.Wait()
	if err := errors.Join(failures...); err != nil {
		t.Fatal(err)
	}
	return values
}

func run(program, dir string, netlists []string, values []map[string]float64) error {
	var script strings.Builder
	script.WriteString("* script\n.control\nset numdgt=15\n")
	for i, text := range netlists {
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%d.cir", i)), []byte(text), 0o600); err != nil {
			return err
		}
		fmt.Fprintf(&script, "source %d.cir\nop\necho netlist %d\nprint all\nremcirc\ndestroy all\n", i, i)
	}
	script.WriteString("quit 0\n.endc\n.end\n")
	if err := os.WriteFile(filepath.Join(dir, "script.cir"), []byte(script.String()), 0o600); err != nil {
		return err
	}
	cmd := exec.Command(program, "-b", "-n", "script.cir")
	cmd.Dir = dir
	var complaints strings.Builder // apart, or they end up in the middle of a printed line
	cmd.Stderr = &complaints
	out, err := cmd.Output()
	if err != nil {
		return fmt.Errorf("ngspice: %v\n%.1000s%.1000s", err, out, complaints.String())
	}
	var at map[string]float64
	for line := range strings.Lines(string(out)) {
		if k, is := strings.CutPrefix(line, "netlist "); is {
			i, err := strconv.Atoi(strings.TrimSpace(k))
			if err != nil || i >= len(values) {
				return fmt.Errorf("ngspice printed %q", line)
			}
			at = map[string]float64{}
			values[i] = at
			continue
		}
		name, text, ok := strings.Cut(line, " = ")
		if x, err := strconv.ParseFloat(strings.TrimSpace(text), 64); ok && err == nil && at != nil {
			at[strings.TrimSpace(name)] = x
		}
	}
	return nil
}
