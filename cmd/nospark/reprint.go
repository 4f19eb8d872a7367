package main

import (
	"path/filepath"

	"github.com/spf13/cobra"

	"nospark/printouts"
	"nospark/scenarios/disk"
)

func newReprintCmd() *cobra.Command {
	return &cobra.Command{
		Use: "reprint LAB SHEET", Short: "Print one lost sheet again, the same to the last line",
		Args: args(cobra.ExactArgs(2)),
		Long: "SHEET is the code on the sheet or the student's id. The worksheet goes to LAB/handouts/reprints, the " +
			"readings to LAB/partners/reprints.",
		Example: "  nospark reprint labs/week05 K7-PTX",
		RunE: func(cmd *cobra.Command, list []string) error {
			lab, sheet, err := sealedSheet(list[0], list[1])
			if err != nil {
				return err
			}
			documents, err := printouts.AtReprint(lab, sheet.Code)
			if err != nil {
				return err
			}
			held, err := disk.Lock(cmd.Context(), list[0], "reprint "+lab.Name)
			if err != nil {
				return err
			}
			defer held.Unlock()
			if err := runAll(cmd.Context(), writing(cmd.Context(), list[0], documents)); err != nil {
				return err
			}
			w := &writer{out: cmd.OutOrStdout()}
			for _, d := range documents {
				w.line("%s", filepath.Join(list[0], filepath.FromSlash(d.Name)))
			}
			return w.err
		},
	}
}
