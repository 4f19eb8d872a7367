package main

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// worked measures how long the processor works for f in this program.
func worked(f func() error) (time.Duration, error) {
	var before, after syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &before); err != nil {
		return 0, err
	}
	if err := f(); err != nil {
		return 0, err
	}
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &after); err != nil {
		return 0, err
	}
	return time.Duration(after.Utime.Nano() + after.Stime.Nano() - before.Utime.Nano() - before.Stime.Nano()), nil
}

// cost is what running a program took.
type cost struct {
	clock, processor time.Duration
	megabytes        float64 // at most, of memory
}

// execute runs a program.
func execute(cmd *exec.Cmd) (cost, error) {
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	start := time.Now()
	if err := cmd.Start(); err != nil {
		return cost{}, err
	}
	done := make(chan error, 1)
	go func() { done <- cmd.Wait() }()
	c := cost{}
	for tick := time.NewTicker(5 * time.Millisecond); ; {
		select {
		case <-tick.C:
			c.megabytes = max(c.megabytes, peak(cmd.Process.Pid))
		case err := <-done:
			tick.Stop()
			c.clock = time.Since(start)
			c.processor = cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
			if err != nil {
				err = fmt.Errorf("%s: %v\n%.2000s", filepath.Base(cmd.Path), err, out.String())
			}
			return c, err
		}
	}
}

// peak is the most memory that a process has had, which Linux tells in /proc; what the system tells at its end includes
// what this program had when it started the process.
func peak(pid int) float64 {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		return 0
	}
	for line := range strings.Lines(string(text)) {
		if rest, is := strings.CutPrefix(line, "VmHWM:"); is {
			kilobytes, _ := strconv.ParseFloat(strings.TrimSuffix(strings.TrimSpace(rest), " kB"), 64)
			return kilobytes / 1024
		}
	}
	return 0
}

// points reads what the benchmark of package bench measured.
func points(folder string) error {
	f, err := os.Open(filepath.Join(folder, "points.txt"))
	if err != nil {
		return err
	}
	defer f.Close()
	found := map[string]time.Duration{}
	for s := bufio.NewScanner(f); s.Scan(); {
		fields := strings.Fields(s.Text())
		for i, field := range fields {
			if field == "cpu-ns/point" {
				ns, err := strconv.ParseFloat(fields[i-1], 64)
				if err != nil {
					return err
				}
				name, _, _ := strings.Cut(strings.TrimPrefix(fields[0], "BenchmarkPoint/"), "-2")
				found[strings.TrimRight(name, "-0123456789")] = time.Duration(ns)
			}
		}
	}
	if found["ours"] == 0 {
		return fmt.Errorf("%s has no measurement", f.Name())
	}
	if found["ngspice-prints"] == 0 {
		fmt.Println("  ngspice is not installed")
		return nil
	}
	row("one point, netlist built and solved", found["ours"], "ngspice, read, solved", found["ngspice-solves"], 0)
	row("", found["ours"], "  and printed", found["ngspice-prints"], 100)
	return nil
}
