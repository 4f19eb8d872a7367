package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"nospark/scenarios/disk"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/vehicle"
)

func newPackCmd() *cobra.Command {
	cmd := &cobra.Command{Use: "pack",
		Short: "Ignition systems: what there is, what is in one, whether a file is sound",
		Args:  args(cobra.NoArgs), RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() }}
	cmd.AddCommand(newPackListCmd(), newPackShowCmd(), newPackCheckCmd(), newPackPartsCmd(), newPackMatrixCmd(),
		newPackNetlistCmd(), newPackChartCmd())
	return cmd
}

// packLimit bounds the size of a pack file.
const packLimit = 4 << 20

// loadPack reads a pack by the name of a built-in one or by the path of a file.
func loadPack(name string) (*pack.Pack, error) {
	file, text, err := packText(name)
	if err != nil {
		return nil, err
	}
	return pack.Parse(file, text)
}

// packText gives the text of a pack and the file name for messages.
func packText(name string) (string, []byte, error) {
	if strings.HasSuffix(name, ".toml") {
		text, err := disk.Read(name, packLimit)
		return name, text, err
	}
	text, err := pack.Source(name)
	if err != nil {
		return "", nil, fmt.Errorf("%w (a pack of your own is given with its path, for example packs/mine.toml)", err)
	}
	return name + ".toml", text, nil
}

func newPackListCmd() *cobra.Command {
	return &cobra.Command{
		Use: "list", Short: "List the built-in packs", Args: args(cobra.NoArgs),
		Example: "  nospark pack list",
		RunE: func(cmd *cobra.Command, _ []string) error {
			t := tabwriter.NewWriter(cmd.OutOrStdout(), 0, 0, 2, ' ', 0)
			fmt.Fprintln(t, "PACK\tTITLE\tPOINTS\tTESTS\tFAULTS\tREPAIRS")
			for _, name := range pack.Builtin() {
				p, err := pack.Load(name)
				if err != nil {
					return err
				}
				fmt.Fprintf(t, "%s\t%s\t%d\t%d\t%d\t%d\n", name, p.Title, p.Points, len(p.Tests), len(p.Faults),
					len(p.Repairs))
			}
			return t.Flush()
		},
	}
}

func newPackShowCmd() *cobra.Command {
	return &cobra.Command{
		Use: "show PACK", Short: "Show what is in a pack", Args: args(cobra.ExactArgs(1)),
		Example: "  nospark pack show single-coil\n  nospark pack show packs/mine.toml",
		RunE: func(cmd *cobra.Command, list []string) error {
			p, err := loadPack(list[0])
			if err != nil {
				return err
			}
			return showPack(cmd.OutOrStdout(), p)
		},
	}
}

func showPack(out io.Writer, p *pack.Pack) error {
	t := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintf(t, "%s, version %d: %s\n\nPOINTS\n", p.Name, p.Version, p.Title)
	for i, n := range p.Nodes[:p.Points] {
		fmt.Fprintf(t, "%d\t%s\t%s\t%s\n", i+1, n.ID, n.Role, n.Label)
	}
	fmt.Fprintln(t, "\nCOMPLAINTS")
	for _, c := range p.Complaints {
		fmt.Fprintf(t, "%s\t%s\n", c.ID, c.Label)
	}
	fmt.Fprintln(t, "\nFAULTS\nid\tweight\trepair\twhat")
	for _, f := range p.Faults {
		fmt.Fprintf(t, "%s\t%d\t%s\t%s\n", f.ID, f.Weight, p.Repairs[f.Repair].ID, f.Label)
	}
	fmt.Fprintln(t, "\nTESTS\nid\tminutes\twhat")
	for _, test := range p.Tests {
		fmt.Fprintf(t, "%s\t%s\t%s\n", test.ID, minutes(test.Minutes), test.Label)
	}
	return t.Flush()
}

// minutes writes tenths of a minute.
func minutes(tenths int64) string { return strconv.FormatFloat(float64(tenths)/10, 'f', 1, 64) }

func newPackMatrixCmd() *cobra.Command {
	severity := "middle"
	cmd := &cobra.Command{
		Use: "matrix PACK", Short: "Write the full matrix of a pack as CSV", Args: args(cobra.ExactArgs(1)),
		Long: `Writes every reading of every fault at nominal part values, the healthy vehicle as fault "none". The value is the true one in SI units with
full precision, or a phrase for instruments that show one.`,
		Example: "  nospark pack matrix lamp\n  nospark pack matrix single-coil --severity high > matrix.csv",
		RunE: func(cmd *cobra.Command, list []string) error {
			at, ok := severities[severity]
			if !ok {
				return usageError{fmt.Errorf("--severity %q: want low, middle or high", severity)}
			}
			p, err := loadPack(list[0])
			if err != nil {
				return err
			}
			return writeMatrix(cmd.OutOrStdout(), p, severity, at)
		},
	}
	cmd.Flags().StringVar(&severity, "severity", severity, "end of the faults' ranges: low, middle (geometric mean) "+
		"or high")
	return cmd
}

func writeMatrix(out io.Writer, p *pack.Pack, name string, severity float64) error {
	w := csv.NewWriter(out)
	if err := w.Write([]string{"fault", "severity", "test", "value", "unit", "band"}); err != nil {
		return err
	}
	healthy := vehicle.Healthy(p)
	if err := writeRows(w, p, healthy, "none", ""); err != nil {
		return err
	}
	for _, f := range p.Faults {
		v, label := healthy.Clone(), ""
		v.Apply(f, severity)
		if f.Ranged() {
			label = name
		}
		if err := writeRows(w, p, v, f.ID, label); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

func writeRows(w *csv.Writer, p *pack.Pack, v *vehicle.Vehicle, fault, severity string) error {
	bands, _, err := v.Bands()
	if err != nil {
		return fmt.Errorf("fault %q: %w", fault, err)
	}
	for i := range p.Tests {
		t := &p.Tests[i]
		value, unit := v.Read(i), t.Instrument.SI
		text := strconv.FormatFloat(value.Number, 'g', -1, 64)
		switch {
		case value.Phrase != "":
			text, unit = value.Phrase, ""
		case math.IsInf(value.Number, 1):
			text, unit = cards.OverRange, ""
		}
		if err := w.Write([]string{fault, severity, t.ID, text, unit, t.Bands[bands[i]].Name}); err != nil {
			return err
		}
	}
	return nil
}
