package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"nospark/scenarios/pack"
	"nospark/scenarios/spelling"
	"nospark/scenarios/vehicle"
	"nospark/scenarios/vehicle/netlist"
)

// severities are the words for a fault's range.
var severities = map[string]float64{"low": 0, "middle": 0.5, "high": 1}

func newPackNetlistCmd() *cobra.Command {
	var fault, condition, test string
	severity := "middle"
	cmd := &cobra.Command{
		Use: "netlist PACK", Short: "Write the circuit behind the readings for another simulator",
		Args: args(cobra.ExactArgs(1)),
		Long: `Writes a SPICE netlist of the operating points as solved, so that anyone can check a reading: run it with ngspice -b FILE. With --test the
meter is in place and the node "reading" has what it reads.`,
		Example: "  nospark pack netlist single-coil --fault icm-ground-bad --condition crank > circuit.cir\n" +
			"  nospark pack netlist lamp --test lamp-feed",
		RunE: func(cmd *cobra.Command, list []string) error {
			p, err := loadPack(list[0])
			if err != nil {
				return err
			}
			v, err := faulty(p, fault, severity)
			if err != nil {
				return err
			}
			c, t, err := situation(p, condition, test)
			if err != nil {
				return err
			}
			title := fmt.Sprintf("%s: fault %s, %s", p.Name, fault, p.Conditions[c].Label)
			return netlist.Write(cmd.OutOrStdout(), title, p, v, c, t)
		},
	}
	cmd.Flags().StringVar(&fault, "fault", "none", "id of the hidden fault")
	cmd.Flags().StringVar(&condition, "condition", "", "id of the condition")
	cmd.Flags().StringVar(&test, "test", "", "id of a test whose meter is to be in place")
	cmd.Flags().StringVar(&severity, "severity", severity, "low, middle or high")
	cmd.MarkFlagsOneRequired("condition", "test")
	return cmd
}

// faulty is the pack's vehicle with a fault.
func faulty(p *pack.Pack, id, severity string) (*vehicle.Vehicle, error) {
	at, ok := severities[severity]
	if !ok {
		return nil, usageError{fmt.Errorf("--severity %q: want low, middle or high", severity)}
	}
	v, names := vehicle.Healthy(p), []string{"none"}
	if id == "none" {
		return v, nil
	}
	for _, f := range p.Faults {
		if f.ID == id {
			v.Apply(f, at)
			return v, nil
		}
		names = append(names, f.ID)
	}
	return nil, fmt.Errorf("pack %q has no fault %q; %s", p.Name, id, spelling.Suggest(id, names))
}

// situation finds condition and test by their ids; the test alone gives its condition.
func situation(p *pack.Pack, condition, test string) (c, t int, err error) {
	c, t = -1, -1
	var tests, conditions []string
	for i := range p.Tests {
		tests = append(tests, p.Tests[i].ID)
		if p.Tests[i].ID == test {
			t, c = i, p.Tests[i].Condition
		}
	}
	if test != "" && t < 0 {
		return c, t, fmt.Errorf("pack %q has no test %q; %s", p.Name, test, spelling.Suggest(test, tests))
	}
	if condition == "" {
		return c, t, nil
	}
	for i, known := range p.Conditions {
		conditions = append(conditions, known.ID)
		if known.ID == condition {
			return i, t, nil
		}
	}
	return c, t, fmt.Errorf("pack %q has no condition %q; known: %s", p.Name, condition, strings.Join(conditions, ", "))
}
