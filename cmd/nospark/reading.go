package main

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"

	"github.com/spf13/cobra"

	"nospark/scenarios/lab"
	"nospark/scenarios/roster"
	"nospark/scenarios/spelling"
)

func newReadingCmd() *cobra.Command {
	asJSON := false
	cmd := &cobra.Command{
		Use: "reading LAB SHEET TEST", Short: "Tell one reading, for the instructor who plays the meter",
		Args:    args(cobra.ExactArgs(3)),
		Long:    "TEST is a line number of the sheet's grid or the id of a test.",
		Example: "  nospark reading labs/week05 K7-PTX 214\n  nospark reading labs/week05 K7-PTX volts.coil_pos.on",
		RunE: func(cmd *cobra.Command, list []string) error {
			lab, sheet, err := sealedSheet(list[0], list[1])
			if err != nil {
				return err
			}
			t, err := findTest(lab, sheet, list[2])
			if err != nil {
				return err
			}
			return tellReading(cmd, lab, sheet, t, asJSON)
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return cmd
}

func tellReading(cmd *cobra.Command, lab *lab.Lab, sheet *lab.Sheet, t int, asJSON bool) error {
	line := sheet.Lines[t]
	if asJSON {
		return json.NewEncoder(cmd.OutOrStdout()).Encode(map[string]any{"sheet": sheet.Code, "line": line.Number,
			"letters": line.Letters,
			"reading": line.Reading, "beside": line.Beside, "test": lab.Tests[t].ID, "label": lab.Tests[t].Label})
	}
	text := line.Reading
	if line.Beside != "" {
		text += ", " + line.Beside
	}
	_, err := fmt.Fprintf(cmd.OutOrStdout(), "%03d%s  %s  (%s)\n", line.Number, line.Letters, text,
		lab.TestName(t))
	return err
}

// sealedSheet reads a lab, refuses one that was changed after it was built, and finds a sheet in it.
func sealedSheet(folder, code string) (*lab.Lab, *lab.Sheet, error) {
	g, err := openLab(folder)
	if err != nil {
		return nil, nil, err
	}
	sheet, err := findSheet(g.lab, code)
	return g.lab, sheet, err
}

// findSheet takes the code of a sheet or the id of its student.
func findSheet(lab *lab.Lab, code string) (*lab.Sheet, error) {
	if i, ok := lab.SheetCodes().Find(code); ok {
		return &lab.Sheets[i], nil
	}
	var known, ids []string
	for _, s := range lab.Sheets {
		known, ids = append(known, s.Code, s.Student), append(ids, s.Student)
	}
	if id, lost := roster.SameIDs([]string{code}, ids)[code]; lost {
		code = id
	}
	if at := slices.Index(ids, code); at >= 0 && code != "" {
		return &lab.Sheets[at], nil
	}
	hint := spelling.Ask(code, known)
	if hint == "" {
		hint = "; give the code printed on the sheet, or the student's id"
	}
	return nil, fmt.Errorf("lab %q has no sheet %q%s", lab.Name, code, hint)
}

func findTest(lab *lab.Lab, sheet *lab.Sheet, name string) (int, error) {
	n, err := strconv.Atoi(name)
	var known []string
	for t := range lab.Tests {
		known = append(known, lab.Tests[t].ID)
		if lab.Tests[t].ID == name || err == nil && sheet.Lines[t].Number == n {
			return t, nil
		}
	}
	hint := spelling.Ask(name, known)
	if hint == "" {
		hint = fmt.Sprintf("; give a number of its grid, or the id of a test, such as %q", known[0])
	}
	return 0, fmt.Errorf("sheet %s has no line or test %q%s", sheet.Code, name, hint)
}
