package main

import (
	"io/fs"
	"path/filepath"

	"github.com/spf13/cobra"

	"nospark/printouts"
	"nospark/scenarios"
	"nospark/scenarios/disk"
)

func newReprintCmd() *cobra.Command {
	return &cobra.Command{
		Use: "reprint LAB SHEET", Short: "Print one lost sheet again, the same to the last line", Args: args(cobra.ExactArgs(2)),
		Long:    "SHEET is the code on the sheet or the student's id. The worksheet goes to LAB/handouts/reprints, the readings to LAB/partners/reprints.",
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
			w := &writer{out: cmd.OutOrStdout()}
			for _, paper := range []struct {
				path string
				mode fs.FileMode
				make func(scenarios.Handout) ([]byte, error)
			}{
				{"handouts/reprints/" + sheet.Code + "-worksheet.pdf", forAll, printouts.Worksheets},
				{"partners/reprints/" + sheet.Code + "-readings.pdf", forInstructor, printouts.Readings},
			} {
				o := output{paper.path, func() ([]byte, error) { return paper.make(h) }}
				if err := writeOne(cmd.Context(), list[0], paper.mode, o); err != nil {
					return err
				}
				w.line("%s", filepath.Join(list[0], filepath.FromSlash(paper.path)))
			}
			return w.err
		},
	}
}
