//go:build unix

package vehicle

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"nospark/scenarios/circuit"
	"nospark/scenarios/pack"
	"nospark/scenarios/testrun"
)

// point is one operating point of a vehicle: how to build its netlist, and the cards that ngspice reads.
type point struct {
	v     *Vehicle
	setup setup
	on    awake
	phase phase
	body  []string
}

// points are the distinct phases of all built-in packs, healthy and with every fault, in every condition.
func points(b *testing.B) []point {
	b.Helper()
	var list []point
	seen := map[string]bool{}
	var scratch wiring
	visit := func(p *pack.Pack, v *Vehicle) {
		for i := range p.Conditions {
			st := v.plain(i)
			for _, ph := range st.each() {
				v.build(&st.setup, &st.on, ph.phase, &scratch)
				body, err := v.pool.net.SPICECards()
				if err != nil {
					b.Fatal(err)
				}
				if text := strings.Join(body, "\n"); !seen[text] {
					seen[text] = true
					list = append(list, point{v, st.setup, st.on, ph.phase, body})
				}
			}
		}
	}
	for _, name := range pack.Builtin() {
		p, err := pack.Load(name)
		if err != nil {
			b.Fatal(err)
		}
		visit(p, Healthy(p))
		for _, f := range p.Faults {
			for _, severity := range severities(f) {
				v := Healthy(p)
				v.Apply(f, severity)
				visit(p, v)
			}
		}
	}
	return list
}

// BenchmarkPoint solves the same operating points with this package and with ngspice, and gives the time that the
// processor works per point, so that other programs on the machine count for neither. Ours builds the netlist and
// solves it. ngspice runs one process for all points, reads forty of them as subcircuits of one file, solves it and, in
// one of the two measurements, prints all voltages.
func BenchmarkPoint(b *testing.B) {
	list := points(b)
	b.Run("ours", func(b *testing.B) {
		var s circuit.Solution
		var scratch wiring
		n := 0
		start := worked(syscall.RUSAGE_SELF)
		for b.Loop() {
			for i := range list {
				p := &list[i]
				p.v.build(&p.setup, &p.on, p.phase, &scratch)
				if err := p.v.pool.net.SolveInto(&s); err != nil {
					b.Fatal(err)
				}
			}
			n += len(list)
		}
		b.ReportMetric(float64((worked(syscall.RUSAGE_SELF)-start).Nanoseconds())/float64(n), "cpu-ns/point")
		b.ReportMetric(float64(len(list)), "points")
	})
	for name, after := range map[string]string{"ngspice-solves": "op", "ngspice-prints": "op\nprint all"} {
		b.Run(name, func(b *testing.B) {
			program := testrun.Program(b, "ngspice")
			dir := b.TempDir()
			writeBatch(b, dir, list, after)
			n := 0
			start := worked(syscall.RUSAGE_CHILDREN)
			for b.Loop() {
				cmd := exec.Command(program, "-b", "-n", "script.cir")
				cmd.Dir = dir
				if out, err := cmd.CombinedOutput(); err != nil {
					b.Fatalf("ngspice: %v\n%.500s", err, out)
				}
				n += len(list)
			}
			b.ReportMetric(float64((worked(syscall.RUSAGE_CHILDREN)-start).Nanoseconds())/float64(n), "cpu-ns/point")
		})
	}
}

// writeBatch writes files of forty points each, and the script that runs them in one process.
func writeBatch(b *testing.B, dir string, list []point, after string) {
	b.Helper()
	var script strings.Builder
	script.WriteString("* script\n.control\nset numdgt=15\n")
	i := 0
	for group := range slices.Chunk(list, 40) {
		var text strings.Builder
		text.WriteString("points\n")
		for k, p := range group {
			fmt.Fprintf(&text, ".subckt p%d free\nRfree free 0 1\n%s\n.ends\nX%d free%d p%d\n", k,
				strings.Join(p.body, "\n"), k,
				k, k)
		}
		text.WriteString(".end\n")
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%d.cir", i)), []byte(text.String()), 0o600); err != nil {
			b.Fatal(err)
		}
		fmt.Fprintf(&script, "source %d.cir\n%s\nremcirc\ndestroy all\n", i, after)
		i++
	}
	script.WriteString("quit 0\n.endc\n.end\n")
	if err := os.WriteFile(filepath.Join(dir, "script.cir"), []byte(script.String()), 0o600); err != nil {
		b.Fatal(err)
	}
}

// worked is how long the processor has worked for this program, or for those it ran.
func worked(who int) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(who, &u); err != nil {
		panic(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
