package main

import (
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/proof"
	"nospark/scenarios/strict"
	"nospark/scenarios/vehicle"
	"nospark/scenarios/vehicle/lint"
)

func newPackCheckCmd() *cobra.Command {
	asJSON, draws := false, 50
	cmd := &cobra.Command{
		Use: "check PACK", Short: "Check a pack: mistakes, blind tests, faults that cannot be told apart or proven, " +
			"tight bands", Args: args(cobra.ExactArgs(1)),
		Long: `Reads a pack strictly, then simulates all of its faults and many vehicles within their tolerances. A warning that is meant so is accepted
in the pack with [[accept]]; notes list what the pack cannot prove. The exit status is 1 when an error or a warning that is not accepted is left.`,
		Example: "  nospark pack check packs/mine.toml",
		RunE: func(cmd *cobra.Command, list []string) error {
			file, text, err := packText(list[0])
			if err != nil {
				return err
			}
			p, findings, err := pack.Check(file, text)
			if err != nil {
				return err
			}
			findings = append(findings, lint.Check(p, lint.Effort{Healthy: 4 * draws, Draws: draws})...)
			findings = p.Settle(append(findings, proof.Lint(p)...))
			if asJSON {
				err = writeJSON(cmd.OutOrStdout(), findings)
			} else {
				err = tellCheck(cmd.OutOrStdout(), p, file, findings)
			}
			return errors.Join(err, left(findings))
		},
	}
	cmd.Flags().IntVar(&draws, "draws", draws, "vehicles drawn within their tolerances for each fault")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the findings as JSON")
	return cmd
}

// left is an error when something is neither mended nor accepted.
func left(findings []strict.Finding) error {
	n := 0
	for _, f := range findings {
		if f.Because == "" && f.Severity != strict.Note {
			n++
		}
	}
	if n == 0 {
		return nil
	}
	return fmt.Errorf("%d findings are left: mend them, or accept a warning in the pack with [[accept]]", n)
}

func tellCheck(out io.Writer, p *pack.Pack, file string, findings []strict.Finding) error {
	w := &writer{out: out}
	for _, f := range findings {
		w.line("%s", f.Text(file))
	}
	matrix, err := vehicle.NewMatrix(p)
	if err != nil {
		return err
	}
	s := lint.Summarize(p, matrix)
	w.line("%s: %d points, %d parts, %d tests of %s to %s minutes, %d faults, %d repairs, %d suspects", p.Name,
		p.Points, len(p.Parts), len(p.Tests),
		minutes(s.Cheapest), minutes(s.Dearest), len(p.Faults), len(p.Repairs), len(matrix.Rows))
	for _, c := range s.Complaints {
		w.line("  complaint %s: %d suspects of %d faults with %d repairs, %d can be told apart",
			p.Complaints[c.Complaint].ID, c.Rows, c.Faults,
			c.Repairs, c.Groups)
	}
	return w.err
}

func newPackPartsCmd() *cobra.Command {
	return &cobra.Command{
		Use: "parts", Short: "Print the cards of all part kinds: parameters, ranges, equations, sources",
		Args:    args(cobra.NoArgs),
		Example: "  nospark pack parts",
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, err := fmt.Fprint(cmd.OutOrStdout(), cards.Text())
			return err
		},
	}
}
