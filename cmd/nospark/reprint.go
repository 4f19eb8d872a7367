package main

import (
	"path/filepath"

	"github.com/spf13/cobra"

	"nospark/printouts"
	"nospark/scenarios/disk"
)

func newReprintCmd() *cobra.Command {
	return &cobra.Command{
		Use: "reprint LAB SHEET", Short: "Print one lost sheet again, the same to the last line", Args: args(cobra.ExactArgs(2)),
		Long:    "SHEET is the code on the sheet or the student's id. The two documents go to LAB/handouts/reprints.",
		Example: "  nospark reprint labs/week05 K7-PTX",
		RunE: func(cmd *cobra.Command, list []string) error {
			lab, err := sealedLab(list[0])
			if err != nil {
				return err
			}
			sheet, err := findSheet(lab, list[1])
			if err != nil {
				return err
			}
			h, err := lab.Handout()
			if err != nil {
				return err
			}
			if h, err = printouts.Only(h, sheet.Code); err != nil {
				return err
			}
			held, err := disk.Lock(cmd.Context(), list[0], "reprint "+lab.Name)
			if err != nil {
				return err
			}
			defer held.Unlock()
			dir := filepath.Join(list[0], "handouts", "reprints")
			err = writeFor(cmd.Context(), forAll, dir, []output{
				{sheet.Code + "-worksheet.pdf", func() ([]byte, error) { return printouts.Worksheets(h) }},
				{sheet.Code + "-readings.pdf", func() ([]byte, error) { return printouts.Readings(h) }},
			})
			if err != nil {
				return err
			}
			w := &writer{out: cmd.OutOrStdout()}
			w.line("%s", filepath.Join(dir, sheet.Code+"-worksheet.pdf"))
			w.line("%s", filepath.Join(dir, sheet.Code+"-readings.pdf"))
			return w.err
		},
	}
}
