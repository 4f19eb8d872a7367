package main

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"nospark/grading/bestplay"
	"nospark/printouts/paper/charts"
	"nospark/scenarios/build"
	"nospark/scenarios/spelling"
	"nospark/scenarios/term"
	"nospark/scenarios/vehicle"
)

func newPackChartCmd() *cobra.Command {
	var complaint, out, paper string
	asJSON := false
	cmd := &cobra.Command{
		Use: "chart PACK", Short: "Draw best play of a pack as an isolation chart", Args: args(cobra.ExactArgs(1)),
		Long: `Draws the provably best order of tests for each complaint of a pack, or for one, as a flow chart for teaching.`,
		Example: "  nospark pack chart single-coil --complaint no-start --out chart.pdf\n  nospark pack chart lamp " +
			"--json",
		RunE: func(cmd *cobra.Command, list []string) error {
			trees, err := packTrees(cmd.Context(), list[0], complaint)
			if err != nil {
				return err
			}
			if asJSON {
				return writeJSON(cmd.OutOrStdout(), trees)
			}
			data, err := charts.PDF(charts.Cover{Paper: paper}, trees...)
			if err != nil {
				return err
			}
			if err := writeOut(out, data, forAll); err != nil {
				return err
			}
			_, err = fmt.Fprintln(cmd.OutOrStdout(), out)
			return err
		},
	}
	cmd.Flags().StringVar(&complaint, "complaint", "", "id of a complaint; left out, all that need testing")
	cmd.Flags().StringVar(&out, "out", "chart.pdf", "file to write")
	cmd.Flags().StringVar(&paper, "paper", "letter", "letter or a4")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the charts as JSON instead")
	return cmd
}

// packTrees solves a pack's complaints. Each is posed as a lab with one spare sheet, which is never written.
func packTrees(ctx context.Context, name, complaint string) ([]*bestplay.Tree, error) {
	file, text, err := packText(name)
	if err != nil {
		return nil, err
	}
	p, matrix, err := vehicle.ReadMatrix(file, text)
	if err != nil {
		return nil, err
	}
	var trees []*bestplay.Tree
	var known []string
	for i, c := range p.Complaints {
		known = append(known, c.ID)
		if complaint != "" && c.ID != complaint {
			continue
		}
		tree, err := packTree(ctx, file, string(text), matrix, i, c.ID)
		switch {
		case err == nil:
			trees = append(trees, tree)
		case complaint != "" || ctx.Err() != nil:
			return nil, err
		}
	}
	if complaint != "" && !slices.Contains(known, complaint) {
		return nil, fmt.Errorf("pack %q has no complaint %q; %s", p.Name, complaint, spelling.Suggest(complaint, known))
	}
	if len(trees) == 0 {
		return nil, errors.New("no complaint of the pack needs testing")
	}
	return trees, nil
}

func packTree(ctx context.Context, file, text string, matrix *vehicle.Matrix, index int,
	complaint string) (*bestplay.Tree, error) {
	plan, err := term.ParsePlan("chart.toml", fmt.Sprintf("title = \"chart\"\ndate = 2000-01-01\npack = "+
		"\"chart\"\ncomplaint = %q\nspares = 1\n", complaint))
	if err != nil {
		return nil, err
	}
	term := term.Term{ID: "chart-only", Paper: "letter", Rubric: term.DefaultRubric(), Mastery: term.DefaultMastery()}
	lab, _, err := build.Lab(ctx, build.Input{Term: term, Plan: plan, PackFile: file, Pack: text, Matrix: matrix})
	if err != nil {
		return nil, err
	}
	tree, err := bestplay.LabTree(lab, index)
	if err != nil {
		return nil, err
	}
	tree.Title = lab.Pack.Title
	for i := range tree.Nodes {
		for k := range tree.Nodes[i].Repairs {
			tree.Nodes[i].Repairs[k].Code = "" // codes belong to a real lab
		}
	}
	return tree, nil
}
