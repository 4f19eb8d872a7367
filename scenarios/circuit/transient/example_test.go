package transient_test

import (
	"fmt"
	"os"

	"nospark/scenarios/circuit/transient"
)

// A coil switched on for 3 ms and off again; a clamp catches its voltage.
func ExampleCircuit() {
	var c transient.Circuit
	feed, collector := c.Node("feed"), c.Node("collector")
	c.Source("battery", feed, transient.Reference, transient.Steady(12), 0)
	coil := c.Inductor("coil", feed, collector, 4e-3, 0.7)
	c.Switch("contact", collector, transient.Reference, 0.01, 1e9, 0, 3e-3)
	c.Clamp("clamp", collector, transient.Reference, 380, 0.1)
	tr, err := c.Run(transient.Options{Until: 5e-3}, transient.AmpsOf(coil), transient.VoltsOf(collector, transient.Reference))
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return
	}
	_, peak := tr.Extremes(1, 0, 5e-3)
	fmt.Printf("%.2f A when it opens, %.0f V at most\n", tr.At(0, 2.999e-3), peak)
	// Output:
	// 6.98 A when it opens, 381 V at most
}
